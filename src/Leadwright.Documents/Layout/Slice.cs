using Leadwright.Documents.Pdf;

namespace Leadwright.Documents.Layout;

/// <summary>Something that is not broken between pages: a line, a row, a figure with its caption.</summary>
internal sealed class Slice
{
    public required double Height { get; init; }

    /// <summary>Room above it, unless it is the first on its page.</summary>
    public double SpaceBefore { get; init; }

    /// <summary>True when what follows must be on the same page.</summary>
    public bool KeepsWithNext { get; set; }

    /// <summary>Draws it with its upper edge at a height.</summary>
    public required Action<PdfPage, double> Draw { get; init; }

    /// <summary>What is drawn again above it when it is the first on its page.</summary>
    public Slice? Head { get; init; }

    /// <summary>Places to be known once it is placed.</summary>
    public PdfTarget? Target { get; init; }

    /// <summary>True when it is left out where it would need a new page.</summary>
    public bool IsOptional { get; init; }

    /// <summary>True when a page begins with it.</summary>
    public bool IsOnNewPage { get; init; }
}
