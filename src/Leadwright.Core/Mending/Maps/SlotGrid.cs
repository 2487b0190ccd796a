using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Mending.Maps;

/// <summary>The even grid of intervals that a recording should have: one slot for each interval that really passed.</summary>
/// <remarks>Where the clock was set no time is missing, so that later rows move back by as much; every other hole of the times is missing rows.</remarks>
internal sealed class SlotGrid
{
    private readonly int[] _rows;
    private readonly long[] _clocks;

    public SlotGrid(IntervalLog log, GuardReport guard)
    {
        var ticks = log.IntervalTicks;
        var starts = log.Starts.Span;
        var jumps = guard.Spans.Where(span => span.Kind == SpanKind.ClockJump && !span.IsDoubtful).OrderBy(span => span.From).ToArray();
        var slots = new int[log.Count];
        long shift = 0;
        var jump = 0;
        for (var row = 0; row < log.Count; row++)
        {
            if (row > 0 && jump < jumps.Length && starts[row] >= jumps[jump].To.Ticks)
            {
                // All that lies between the two rows beyond one interval is the clock's.
                shift += starts[row] - starts[row - 1] - ticks;
                while (jump < jumps.Length && starts[row] >= jumps[jump].To.Ticks) jump++;
            }

            var slot = (int)Math.Round((double)(starts[row] - shift - starts[0]) / ticks);
            slots[row] = row == 0 ? 0 : Math.Max(slot, slots[row - 1] + 1);
        }

        Count = log.Count == 0 ? 0 : slots[^1] + 1;
        Hours = log.IntervalSeconds / 3600;
        (_rows, _clocks) = (new int[Count], new long[Count]);
        Array.Fill(_rows, -1);
        for (var row = 0; row < slots.Length; row++) _rows[slots[row]] = row;
        for (var slot = 0; slot < Count; slot++) _clocks[slot] = _rows[slot] >= 0 ? starts[_rows[slot]] : _clocks[slot - 1] + ticks;
        IntervalTicks = ticks;
    }

    /// <summary>Number of slots.</summary>
    public int Count { get; }

    /// <summary>Length of a slot, hours.</summary>
    public double Hours { get; }

    public long IntervalTicks { get; }

    /// <summary>The row of each slot; −1 where it is missing.</summary>
    public ReadOnlySpan<int> Rows => _rows;

    /// <summary>Start of each slot by the recorder's clock, ticks.</summary>
    public ReadOnlySpan<long> Clocks => _clocks;

    public DateTime From(int slot) => new(_clocks[slot]);

    public DateTime To(int slot) => new(_clocks[slot] + IntervalTicks);

    /// <summary>Spreads a column over the slots; NaN where a row is missing or the column is.</summary>
    public double[] Spread(ReadOnlySpan<double> column)
    {
        var spread = new double[Count];
        for (var slot = 0; slot < Count; slot++) spread[slot] = _rows[slot] >= 0 && !column.IsEmpty ? column[_rows[slot]] : double.NaN;
        return spread;
    }

    /// <summary>Marks the slots whose middles lie in a span.</summary>
    public void Mark(DateTime from, DateTime to, Action<int> mark)
    {
        for (var slot = 0; slot < Count; slot++)
        {
            var middle = _clocks[slot] + (IntervalTicks / 2);
            if (middle >= from.Ticks && middle < to.Ticks) mark(slot);
        }
    }
}
