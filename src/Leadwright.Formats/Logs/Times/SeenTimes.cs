using System.Runtime.InteropServices;

namespace Leadwright.Formats.Logs.Times;

/// <summary>The times of the rows before a place, to see whether later rows stand where others stood.</summary>
/// <param name="interval">Length of an interval, ticks.</param>
internal sealed class SeenTimes(long interval)
{
    private readonly List<(long Ticks, int Row)> _times = [];
    private bool _isSorted = true;

    /// <summary>The least time; the greatest number when there is none.</summary>
    public long First { get; private set; } = long.MaxValue;

    /// <summary>The greatest time; the least number when there is none.</summary>
    public long Last { get; private set; } = long.MinValue;

    /// <summary>Takes a row's time.</summary>
    public void Add(long ticks, int row)
    {
        _isSorted &= ticks >= Last;
        _times.Add((ticks, row));
        (First, Last) = (Math.Min(First, ticks), Math.Max(Last, ticks));
    }

    /// <summary>True when a row stands less than half an interval from a time.</summary>
    public bool IsNear(long ticks)
    {
        var index = From(ticks - (interval / 2) + 1);
        return index < _times.Count && _times[index].Ticks < ticks + (interval / 2);
    }

    /// <summary>The first row at a time; null when none stands there.</summary>
    public int? RowAt(long ticks)
    {
        var index = From(ticks);
        return index < _times.Count && _times[index].Ticks == ticks ? _times[index].Row : null;
    }

    private int From(long ticks)
    {
        if (!_isSorted) _times.Sort();
        _isSorted = true;
        var index = CollectionsMarshal.AsSpan(_times).BinarySearch(new Least(ticks));
        return index >= 0 ? index : ~index;
    }

    private readonly struct Least(long ticks) : IComparable<(long Ticks, int Row)>
    {
        // Never equal: what is found is the first place not before.
        public int CompareTo((long Ticks, int Row) other) => ticks <= other.Ticks ? -1 : 1;
    }
}
