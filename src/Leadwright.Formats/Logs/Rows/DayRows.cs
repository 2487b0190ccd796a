using Leadwright.Formats.Logs.Layout;

namespace Leadwright.Formats.Logs.Rows;

/// <summary>A table of one row a day, read as one row a value: date, time, value, words.</summary>
/// <remarks>On the day on which clocks go forward the hour that is not there has no row; on the day on which they go back the hour stands twice. What the times say of
/// that is seen as in every other log.</remarks>
/// <param name="rows">The table; let go of with this.</param>
/// <param name="layout">How it is laid out.</param>
internal sealed class DayRows(TableRows rows, DayLayout layout) : TableRows
{
    private const int NightHours = 5;
    private readonly List<(int Cell, string Time)> _day = new(layout.Slots.Length);
    private bool _isBegun;
    private int _at;

    /// <inheritdoc/>
    public override double Progress => rows.Progress;

    /// <inheritdoc/>
    public override bool Read()
    {
        if (!_isBegun)
        {
            for (var row = 0; row < layout.FirstRow; row++) rows.Read();
            _isBegun = true;
        }

        if (++_at >= _day.Count)
        {
            do
            {
                if (!rows.Read()) return false;
                TakeDay();
            }
            while (_day.Count == 0);
            _at = 0;
        }

        (Count, Line) = (3 + layout.WordCells.Length, rows.Line);
        return true;
    }

    /// <inheritdoc/>
    public override CellKind KindOf(int cell) => cell == 1 ? CellKind.Text : InnerKind(Inner(cell));

    /// <inheritdoc/>
    public override ReadOnlySpan<char> TextOf(int cell) => cell == 1 ? _day[_at].Time : InnerKind(Inner(cell)) == CellKind.Empty ? [] : rows.TextOf(Inner(cell));

    /// <inheritdoc/>
    public override double NumberOf(int cell) => cell == 1 || InnerKind(Inner(cell)) == CellKind.Empty ? double.NaN : rows.NumberOf(Inner(cell));

    /// <inheritdoc/>
    public override DateTime DateOf(int cell) => cell == 1 || InnerKind(Inner(cell)) == CellKind.Empty ? default : rows.DateOf(Inner(cell));

    /// <inheritdoc/>
    protected override void Dispose(bool isDisposing)
    {
        if (isDisposing) rows.Dispose();
        base.Dispose(isDisposing);
    }

    private int Inner(int cell) => cell switch { 0 => layout.DateCell, 2 => _day[_at].Cell, _ => layout.WordCells[cell - 3] };

    private CellKind InnerKind(int cell) => cell < rows.Count ? rows.KindOf(cell) : CellKind.Empty;

    private void TakeDay()
    {
        _day.Clear();
        var isBlank = true;
        for (var cell = 0; cell < rows.Count && isBlank; cell++) isBlank = rows.KindOf(cell) == CellKind.Empty;
        if (isBlank) return;
        if (layout.IsCounted) TakeCounted();
        else TakeClock();
        // A row without values, as one of totals or notes, is one row: its date or its lack of one is told.
        if (_day.Count == 0) _day.Add((layout.Slots[0].Cell, layout.Worded(0)));
    }

    private void TakeCounted()
    {
        var filled = layout.Slots.Length;
        while (filled > 0 && InnerKind(layout.Slots[filled - 1].Cell) == CellKind.Empty) filled--;
        var (usual, perHour) = (layout.UsualCount, layout.UsualCount / 24);
        var hasMore = layout.Slots.Length > usual;
        var isShort = hasMore && filled == usual - perHour;
        var isLong = filled > usual;
        var count = isShort || isLong ? filled : usual;
        for (var index = 0; index < count; index++)
        {
            var ticks = index * layout.StepTicks;
            // The labels of the hour in question differ from country to country; the log runs on evenly by either.
            if (isShort && ticks >= 2 * TimeSpan.TicksPerHour) ticks += TimeSpan.TicksPerHour;
            if (isLong && ticks >= 3 * TimeSpan.TicksPerHour) ticks -= TimeSpan.TicksPerHour;
            _day.Add((layout.Slots[index].Cell, layout.Worded(ticks)));
        }
    }

    private void TakeClock()
    {
        foreach (var slot in layout.Slots)
        {
            if (InnerKind(slot.Cell) == CellKind.Empty && (slot.IsRepeated || IsSkippedHour(slot))) continue;
            _day.Add((slot.Cell, slot.Time));
        }
    }

    // An hour of the night of which nothing is there, between hours that are whole.
    private bool IsSkippedHour(DaySlot slot)
    {
        // The end of an interval at the full hour belongs to the hour before it.
        var shift = layout.Slots[0].Ticks > 0 ? 1 : 0;
        var hour = (slot.Ticks - shift) / TimeSpan.TicksPerHour;
        if (hour is < 1 or >= NightHours) return false;
        bool isThere = false, isMissing = false, isOutside = true;
        foreach (var other in layout.Slots)
        {
            var away = ((other.Ticks - shift) / TimeSpan.TicksPerHour) - hour;
            if (other.IsRepeated || away is < -1 or > 1) continue;
            var isEmpty = InnerKind(other.Cell) == CellKind.Empty;
            if (away == 0) (isThere, isMissing) = (isThere || !isEmpty, isMissing || isEmpty);
            else isOutside &= !isEmpty;
        }

        return !isThere && isMissing && isOutside;
    }
}
