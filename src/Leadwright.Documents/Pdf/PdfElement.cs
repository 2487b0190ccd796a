namespace Leadwright.Documents.Pdf;

/// <summary>An element of the logical structure (ISO 32000-1, clause 14.7): what reading aloud and text extraction go by.</summary>
/// <param name="type">A standard structure type: H1, P, Table, TR, TH, TD, Figure, L, LI, LBody, TOC, TOCI, Link, Sect, Note.</param>
internal sealed class PdfElement(string type)
{
    private readonly List<object> _kids = [];

    public string Type => type;

    /// <summary>What stands for it when it can't be seen.</summary>
    public string? Alternative { get; init; }

    /// <summary>For a header cell: Column or Row.</summary>
    public string? Scope { get; init; }

    /// <summary>Columns that a cell spans.</summary>
    public int Span { get; init; } = 1;

    /// <summary>Elements, marked content and annotations, in the order of reading.</summary>
    public IReadOnlyList<object> Kids => _kids;

    public PdfElement Add(PdfElement kid)
    {
        _kids.Add(kid);
        return kid;
    }

    public PdfElement Add(string kid) => Add(new PdfElement(kid));

    public void Take(PdfContent content) => _kids.Add(content);

    public void Take(PdfLink link) => _kids.Add(link);
}

/// <summary>A stretch of a page's content that belongs to an element.</summary>
/// <param name="Page">The page, from 0.</param>
/// <param name="Mark">Its number on the page.</param>
internal sealed record PdfContent(int Page, int Mark);

/// <summary>A place to press that leads elsewhere.</summary>
/// <param name="Page">The page it is on, from 0.</param>
/// <param name="X">Left edge, points from the left.</param>
/// <param name="Y">Upper edge, points from the top.</param>
/// <param name="Width">Width.</param>
/// <param name="Height">Height.</param>
/// <param name="Target">The place it leads to; null for an address.</param>
/// <param name="Address">The address it leads to; empty for a place.</param>
/// <param name="Says">What it is, in words.</param>
internal sealed record PdfLink(int Page, double X, double Y, double Width, double Height, PdfTarget? Target, string Address, string Says);

/// <summary>A place in the document that links and bookmarks lead to; it is known only when the page is laid out.</summary>
internal sealed class PdfTarget
{
    /// <summary>The page, from 0; −1 before it is known.</summary>
    public int Page { get; set; } = -1;

    /// <summary>Points from the top of the page.</summary>
    public double Y { get; set; }
}
