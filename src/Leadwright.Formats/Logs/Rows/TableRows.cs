using System.Globalization;

namespace Leadwright.Formats.Logs.Rows;

/// <summary>The rows of a table, one at a time.</summary>
internal abstract class TableRows : IDisposable
{
    /// <summary>Cells beyond this many are an error: no log is that wide.</summary>
    public const int MostCells = 16384;

    /// <summary>Number of cells of the row at hand.</summary>
    public int Count { get; protected set; }

    /// <summary>Number of the row at hand from 1: of its first line in a text.</summary>
    public int Line { get; protected set; }

    /// <summary>How much of the table was read, 0 to 1.</summary>
    public abstract double Progress { get; }

    /// <summary>True where a cell is whose it is only by how many separators stand before it: one that is lost moves all cells behind it.</summary>
    public virtual bool IsHeldBySeparators => false;

    /// <summary>Goes to the next row; false when there is none.</summary>
    public abstract bool Read();

    /// <summary>What a cell holds.</summary>
    public abstract CellKind KindOf(int cell);

    /// <summary>The text of a cell without blanks around it; of numbers and dates the invariant form.</summary>
    public abstract ReadOnlySpan<char> TextOf(int cell);

    /// <summary>The number of a cell that holds one.</summary>
    public virtual double NumberOf(int cell) => double.NaN;

    /// <summary>The date of a cell that holds one.</summary>
    public virtual DateTime DateOf(int cell) => default;

    /// <summary>The row at hand, kept.</summary>
    public HeadRow Keep()
    {
        var cells = new HeadCell[Count];
        for (var cell = 0; cell < Count; cell++) cells[cell] = new(KindOf(cell), TextOf(cell).ToString(), NumberOf(cell), DateOf(cell));
        return new HeadRow(Line, cells);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Dispose(true);
        GC.SuppressFinalize(this);
    }

    /// <summary>The invariant form of a number.</summary>
    protected static string Invariant(double number) => number.ToString("R", CultureInfo.InvariantCulture);

    /// <summary>The invariant form of a date.</summary>
    protected static string Invariant(DateTime date) => date.ToString("yyyy-MM-ddTHH:mm:ss", CultureInfo.InvariantCulture);

    /// <summary>Lets go of what it holds; streams stay open.</summary>
    protected virtual void Dispose(bool isDisposing)
    {
    }
}

/// <summary>A cell of a kept row.</summary>
internal readonly record struct HeadCell(CellKind Kind, string Text, double Number, DateTime Date)
{
    /// <summary>True when it holds nothing.</summary>
    public bool IsEmpty => Kind == CellKind.Empty || Text.Length == 0;
}

/// <summary>A kept row.</summary>
internal sealed record HeadRow(int Line, HeadCell[] Cells)
{
    /// <summary>Number of cells that hold something.</summary>
    public int FilledCount => Cells.Count(cell => !cell.IsEmpty);
}
