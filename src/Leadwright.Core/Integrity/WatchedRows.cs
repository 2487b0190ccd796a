using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Integrity;

/// <summary>The rows that a watch keeps: the newest, and what stood before an alarm that is up.</summary>
/// <param name="columns">The columns.</param>
/// <param name="intervalSeconds">Length of an interval, seconds.</param>
/// <param name="mostRows">How many rows to keep.</param>
internal sealed class WatchedRows(ImmutableArray<LogColumn> columns, double intervalSeconds, int mostRows)
{
    // The rows in which a trouble began show what it is.
    private const int RowsOfOnset = 12;

    private readonly List<long> _starts = [];
    private readonly List<(long From, long To)> _cuts = [];
    private readonly List<double>[] _values = [.. columns.Select(_ => new List<double>())];

    /// <summary>How many are kept.</summary>
    public int Count => _starts.Count;

    /// <summary>Start of the newest, ticks.</summary>
    public long Last => _starts[^1];

    /// <summary>Takes a row.</summary>
    /// <param name="start">Start of its interval, ticks; after the newest.</param>
    /// <param name="values">One value a column.</param>
    /// <param name="lastsSince">Since when an alarm has been up; null when there is none.</param>
    public void Add(long start, ReadOnlySpan<double> values, DateTime? lastsSince)
    {
        if (Count >= mostRows) MakeRoom(lastsSince);
        _starts.Add(start);
        for (var index = 0; index < values.Length; index++) _values[index].Add(values[index]);
    }

    /// <summary>The rows as a log.</summary>
    public IntervalLog ToLog() => new(columns, [.. _starts], [.. _values.Select(column => column.ToArray())], intervalSeconds);

    /// <summary>Drops half of the rows from a time on: those that came after the change that fell there and are not the newest.</summary>
    /// <param name="since">The time.</param>
    /// <returns>False when there are too few to choose from.</returns>
    public bool Thin(DateTime since)
    {
        var from = FirstFrom(since) + RowsOfOnset;
        var lot = (Count - from) / 2;
        if (lot < RowsOfOnset) return false;
        Remove(from, lot);
        return true;
    }

    /// <summary>Drops the rows before a time.</summary>
    /// <param name="time">The time.</param>
    public void LetGoBefore(DateTime time) => Remove(0, FirstFrom(time));

    /// <summary>True for a gap where rows were dropped that had come.</summary>
    /// <param name="gap">What the guard calls it.</param>
    public bool IsOwn(GuardSpan gap) => _cuts.Exists(cut => gap.From.Ticks < cut.To && gap.To.Ticks > cut.From);

    // In lots, so that it costs little a row. Without rows from before it a trouble has nothing to be told against, and passes for cured.
    private void MakeRoom(DateTime? lastsSince)
    {
        var lot = mostRows / 4;
        var before = lastsSince is { } since ? FirstFrom(since) : 0;
        Remove(before > 0 && Count - before > Math.Max(before, lot + RowsOfOnset) ? before + RowsOfOnset : 0, lot);
    }

    private int FirstFrom(DateTime since)
    {
        var at = _starts.BinarySearch(since.Ticks);
        return at < 0 ? ~at : at;
    }

    private void Remove(int from, int count)
    {
        if (from > 0) _cuts.Add((_starts[from], _starts[from + count]));
        _starts.RemoveRange(from, count);
        foreach (var column in _values) column.RemoveRange(from, count);
        _cuts.RemoveAll(cut => cut.To <= _starts[0]);
    }
}
