namespace Leadwright.Documents.Layout;

/// <summary>A size of paper.</summary>
/// <param name="Name">The word it is chosen by.</param>
/// <param name="Width">Points.</param>
/// <param name="Height">Points.</param>
public sealed record PaperSize(string Name, double Width, double Height)
{
    /// <summary>ISO 216 A4, 210 by 297 mm.</summary>
    public static PaperSize A4 { get; } = new("a4", 595.276, 841.89);

    /// <summary>US Letter, 8.5 by 11 inches.</summary>
    public static PaperSize Letter { get; } = new("letter", 612, 792);
}
