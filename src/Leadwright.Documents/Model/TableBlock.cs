using System.Collections.Immutable;

namespace Leadwright.Documents.Model;

/// <summary>A table.</summary>
/// <param name="Name">Its name as a sheet of a workbook: letters, digits and spaces, at most 31.</param>
/// <param name="Caption">What it shows; empty when the heading above says it.</param>
/// <param name="Columns">Its columns.</param>
/// <param name="Rows">Its rows.</param>
public sealed record TableBlock(string Name, string Caption, ImmutableArray<TableColumn> Columns, ImmutableArray<TableRow> Rows) : Block
{
    /// <summary>What to know when reading it; empty for nothing.</summary>
    public string Note { get; init; } = "";

    /// <summary>True for pairs of name and value without a line of headings.</summary>
    public bool IsFacts { get; init; }

    /// <summary>True for a form: a grid with rows high enough to be written in by hand.</summary>
    public bool IsForm { get; init; }
}

/// <summary>A column of a table.</summary>
/// <param name="Heading">What it holds.</param>
/// <param name="Unit">The unit of its numbers; empty for none.</param>
/// <param name="IsNumber">True when its cells stand to the right.</param>
public sealed record TableColumn(string Heading, string Unit = "", bool IsNumber = false);

/// <summary>A row of a table.</summary>
/// <param name="Cells">One for each column; a group has a single one.</param>
public sealed record TableRow(ImmutableArray<TableCell> Cells)
{
    /// <summary>True for a line that heads the rows below it.</summary>
    public bool IsGroup { get; init; }

    /// <summary>A row of texts.</summary>
    public static TableRow Of(params TableCell[] cells) => new([.. cells]);
}

/// <summary>A cell: a text, and the number or time behind it, for documents that calculate.</summary>
/// <param name="Text">As people read it.</param>
public sealed record TableCell(string Text)
{
    /// <summary>The number behind it, in the column's unit; NaN for none.</summary>
    public double Number { get; init; } = double.NaN;

    /// <summary>The time behind it; null for none.</summary>
    public DateTime? Time { get; init; }

    /// <summary>True where it must be seen.</summary>
    public bool IsStrong { get; init; }

    /// <summary>A text.</summary>
    public static implicit operator TableCell(string text) => new(text);

    /// <summary>A text.</summary>
    public static TableCell FromString(string text) => new(text);
}
