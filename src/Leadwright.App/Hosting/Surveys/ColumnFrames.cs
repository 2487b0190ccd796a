using System.Collections.Immutable;
using Leadwright.Client.Model.Charts;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Cuts columns of a log down to what a chart can show.</summary>
internal static class ColumnFrames
{
    /// <summary>Columns over a span.</summary>
    /// <param name="log">The log.</param>
    /// <param name="standings">Standings by index of column; one that is not there counts as measured.</param>
    /// <param name="names">Names of columns, as <see cref="LogNames"/> gives them.</param>
    /// <param name="from">Start, milliseconds as in a frame; null for the log's.</param>
    /// <param name="to">End; null for the log's.</param>
    /// <param name="width">The most rows.</param>
    /// <returns>One row an interval where they are few enough, with one on either side of the span; else each row sums up a block of equal time.</returns>
    /// <exception cref="ArgumentException">There is no column of a name.</exception>
    public static ColumnFrame Of(
        IntervalLog log, ImmutableDictionary<int, ReadOnlyMemory<Standing>> standings, ImmutableArray<string> names, double? from, double? to, int width)
    {
        var (wholeFrom, wholeTo) = (ColumnFrame.MillisecondsOf(log.From), ColumnFrame.MillisecondsOf(log.To));
        var (start, end) = (Math.Max(from ?? wholeFrom, wholeFrom), Math.Min(to ?? wholeTo, wholeTo));
        if (!(end > start)) (start, end) = (wholeFrom, wholeTo);
        int[] columns = [.. names.Select(name => IndexOf(log, name))];
        var starts = log.Starts.Span;
        var first = Math.Max(0, RowAt(starts, ColumnFrame.TimeOf(start).Ticks) - 1);
        var last = Math.Min(log.Count - 1, RowAt(starts, ColumnFrame.TimeOf(end).Ticks));
        var interval = log.IntervalSeconds * 1000;
        var blocks = last - first + 1 <= width ? RowsOf(first, last) : BlocksOf(log, first, last, start, (end - start) / width);
        return new ColumnFrame
        {
            From = start,
            To = end,
            WholeFrom = wholeFrom,
            WholeTo = wholeTo,
            Step = last - first + 1 <= width ? interval : Math.Max(interval, (end - start) / width),
            Times = [.. blocks.Select(block => (ColumnFrame.MillisecondsOf(new DateTime(log.Starts.Span[block.First])) + ColumnFrame.MillisecondsOf(new DateTime(log.Starts.Span[block.Last])) + interval) / 2)],
            Columns = [.. columns.Select((column, index) => Column(log, standings.GetValueOrDefault(column), column, names[index], blocks))],
        };
    }

    private static List<(int First, int Last)> RowsOf(int first, int last) => [.. Enumerable.Range(first, Math.Max(0, last - first + 1)).Select(row => (row, row))];

    private static List<(int First, int Last)> BlocksOf(IntervalLog log, int first, int last, double start, double length)
    {
        var blocks = new List<(int, int)>();
        var starts = log.Starts.Span;
        var (open, number) = (first, double.NaN);
        for (var row = first; row <= last; row++)
        {
            var at = Math.Floor((ColumnFrame.MillisecondsOf(new DateTime(starts[row])) - start) / length);
            if (at == number) continue;
            if (!double.IsNaN(number)) blocks.Add((open, row - 1));
            (open, number) = (row, at);
        }

        if (last >= first) blocks.Add((open, last));
        return blocks;
    }

    private static FrameColumn Column(IntervalLog log, ReadOnlyMemory<Standing> standings, int column, string name, List<(int First, int Last)> blocks)
    {
        var values = log.Values(column);
        var (mean, low, high, weakest) = (new float[blocks.Count], new float[blocks.Count], new float[blocks.Count], new byte[blocks.Count]);
        for (var block = 0; block < blocks.Count; block++)
        {
            var (sum, count, least, most, worst) = (0.0, 0, double.PositiveInfinity, double.NegativeInfinity, Standing.Measured);
            for (var row = blocks[block].First; row <= blocks[block].Last; row++)
            {
                if (!standings.IsEmpty && standings.Span[row] > worst) worst = standings.Span[row];
                var value = values[row];
                if (!double.IsFinite(value)) continue;
                sum += value;
                count++;
                least = Math.Min(least, value);
                most = Math.Max(most, value);
            }

            weakest[block] = (byte)(count == 0 ? Standing.Lost : worst);
            (mean[block], low[block], high[block]) = count == 0 ? (float.NaN, float.NaN, float.NaN) : ((float)(sum / count), (float)least, (float)most);
        }

        return new FrameColumn(name, UnitOf(log.Columns[column])) { Mean = mean, Low = low, High = high, Standing = weakest };
    }

    /// <summary>The unit of a column.</summary>
    public static string UnitOf(LogColumn column) => column.Quantity == LogQuantity.Other ? column.OtherUnit : LogUnit.Of(column.Quantity);

    private static int IndexOf(IntervalLog log, string name)
    {
        for (var index = 0; index < log.Columns.Length; index++)
        {
            if (LogNames.Of(log.Columns[index]) == name) return index;
        }

        throw new ArgumentException($"The recording has no column '{name}'.", nameof(name));
    }

    // The first row that starts at a time or after it.
    private static int RowAt(ReadOnlySpan<long> starts, long ticks)
    {
        var found = starts.BinarySearch(ticks);
        return found >= 0 ? found : ~found;
    }
}
