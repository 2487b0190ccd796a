using System.Collections.Immutable;

namespace Leadwright.Documents.Model;

/// <summary>A document for people, before it is a PDF, a page or a workbook.</summary>
public sealed record ReportDocument
{
    /// <summary>Its title.</summary>
    public required string Title { get; init; }

    /// <summary>What it is about: the site, the panel.</summary>
    public string Subtitle { get; init; } = "";

    /// <summary>Whose paper it is on.</summary>
    public Letterhead Letterhead { get; init; } = Letterhead.None;

    /// <summary>Language of its words, such as <c>en</c>.</summary>
    public string Language { get; init; } = "en";

    /// <summary>What stands on the first page beside the title: label and value.</summary>
    public ImmutableArray<(string Label, string Value)> Facts { get; init; } = [];

    /// <summary>Its parts.</summary>
    public required ImmutableArray<ReportPart> Parts { get; init; }

    /// <summary>Tables that only a workbook carries: too long for paper.</summary>
    public ImmutableArray<TableBlock> LongTables { get; init; } = [];

    /// <summary>The date that is written into the file; never the clock's. The first day of year 1 for none.</summary>
    public required DateTime Date { get; init; }

    /// <summary>Sixteen bytes that follow from the data: the same data, the same document.</summary>
    public required ImmutableArray<byte> Identity { get; init; }

    /// <summary>The program with its version.</summary>
    public required string Producer { get; init; }

    /// <summary>The words that every page carries.</summary>
    public required PageWords Words { get; init; }

    /// <summary>True for a first page with the title and the contents; a plan sheet has none.</summary>
    public bool HasTitlePage { get; init; } = true;
}

/// <summary>A part of a document.</summary>
/// <param name="Id">A word for links and for choosing parts.</param>
/// <param name="Title">Its title.</param>
/// <param name="Blocks">What is in it.</param>
public sealed record ReportPart(string Id, string Title, ImmutableArray<Block> Blocks)
{
    /// <summary>True when it begins on a page of its own.</summary>
    public bool IsOnNewPage { get; init; }
}

/// <summary>The words that the frame of a document needs.</summary>
/// <param name="Page">As in <c>Page {page} of {pages}</c>.</param>
/// <param name="Contents">Heading of the contents.</param>
/// <param name="Figure">As in <c>Figure {number}</c>.</param>
/// <param name="Table">As in <c>Table {number}</c>.</param>
/// <param name="Continued">What stands beside the caption of a table on its further pages.</param>
/// <param name="Skip">The link of a page that leads past its contents.</param>
public sealed record PageWords(string Page, string Contents, string Figure, string Table, string Continued, string Skip)
{
    /// <summary>What stands for a box to be ticked by hand.</summary>
    public string Box { get; init; } = "";

    /// <summary>What stands for a tick.</summary>
    public string Done { get; init; } = "";

    /// <summary>What stands for a box that stayed empty.</summary>
    public string NotDone { get; init; } = "";
}

/// <summary>Whose paper a document is on.</summary>
public sealed record Letterhead
{
    /// <summary>Nobody's.</summary>
    public static Letterhead None { get; } = new();

    /// <summary>The firm.</summary>
    public string Name { get; init; } = "";

    /// <summary>Address and the like, line by line.</summary>
    public ImmutableArray<string> Lines { get; init; } = [];

    /// <summary>A PNG or JPEG picture; empty for none.</summary>
    public ReadOnlyMemory<byte> Logo { get; init; }

    /// <summary>Who wrote it.</summary>
    public string Author { get; init; } = "";

    /// <summary>For whom.</summary>
    public ImmutableArray<string> Customer { get; init; } = [];

    /// <summary>The site, in one line.</summary>
    public string Site { get; init; } = "";

    /// <summary>The panel or place in it.</summary>
    public string Panel { get; init; } = "";

    /// <summary>What the survey was for.</summary>
    public string Purpose { get; init; } = "";

    /// <summary>The number of the report.</summary>
    public string Number { get; init; } = "";

    /// <summary>Recorder, clamps and their calibration as typed: label and value.</summary>
    public ImmutableArray<(string Label, string Value)> Instruments { get; init; } = [];
}
