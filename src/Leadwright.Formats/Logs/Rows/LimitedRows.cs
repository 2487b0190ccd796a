namespace Leadwright.Formats.Logs.Rows;

/// <summary>The first rows of a table.</summary>
/// <param name="rows">The table; not let go of here.</param>
/// <param name="most">How many rows.</param>
internal sealed class LimitedRows(TableRows rows, int most) : TableRows
{
    private int _read;

    /// <inheritdoc/>
    public override double Progress => (double)_read / most;

    /// <inheritdoc/>
    public override bool Read()
    {
        if (_read++ >= most || !rows.Read()) return false;
        (Count, Line) = (rows.Count, rows.Line);
        return true;
    }

    /// <inheritdoc/>
    public override CellKind KindOf(int cell) => rows.KindOf(cell);

    /// <inheritdoc/>
    public override ReadOnlySpan<char> TextOf(int cell) => rows.TextOf(cell);

    /// <inheritdoc/>
    public override double NumberOf(int cell) => rows.NumberOf(cell);

    /// <inheritdoc/>
    public override DateTime DateOf(int cell) => rows.DateOf(cell);
}
