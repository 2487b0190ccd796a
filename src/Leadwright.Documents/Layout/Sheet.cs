using Leadwright.Documents.Fonts;
using Leadwright.Documents.Model;

namespace Leadwright.Documents.Layout;

/// <summary>What every block needs to lay itself out.</summary>
/// <param name="Paper">The paper.</param>
/// <param name="Fonts">The fonts.</param>
/// <param name="Words">The words of the frame.</param>
internal sealed record Sheet(PaperSize Paper, FontShelf Fonts, PageWords Words)
{
    public static double Top => 68;

    public double Left { get; init; } = 60;

    public double Right { get; init; } = Paper.Width - 54;

    public double Bottom => Paper.Height - 62;

    public double Width => Right - Left;
}
