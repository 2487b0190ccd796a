using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Tests.Tables;

/// <summary>The buckets of a chart computed from the rows of the log one by one, the plain way.</summary>
internal static class BruteForce
{
    public static void Check(
        IntervalLog log, ImmutableDictionary<int, ReadOnlyMemory<Standing>> standings, ChartBuckets chart, int[] columns, long from, long to)
    {
        var inside = Inside(log, chart, from, to);
        var buckets = inside.GroupBy(row => chart.AreRows ? log.Starts.Span[row] : log.Starts.Span[row] / chart.WidthTicks * chart.WidthTicks).ToArray();
        Assert.Equal(buckets.Select(bucket => bucket.Key), chart.Starts.ToArray());
        Assert.Equal(buckets.Select(bucket => bucket.Count()), chart.Rows.ToArray());
        Assert.Equal(0, chart.WidthTicks % log.IntervalTicks);
        for (var series = 0; series < columns.Length; series++)
        {
            for (var at = 0; at < buckets.Length; at++) CheckBucket(log, standings, chart, columns[series], series, at, [.. buckets[at]]);
        }
    }

    // Rows that touch the span, or those of whole buckets that touch it: every row of the span is drawn.
    private static int[] Inside(IntervalLog log, ChartBuckets chart, long from, long to)
    {
        (from, to) = (Math.Max(from, log.From.Ticks), Math.Min(to, log.To.Ticks));
        if (to <= from) return [];
        var (low, high) = chart.AreRows
            ? (from - log.IntervalTicks + 1, to)
            : (from / chart.WidthTicks * chart.WidthTicks, ((to - 1) / chart.WidthTicks * chart.WidthTicks) + chart.WidthTicks);
        return [.. Enumerable.Range(0, log.Count).Where(row => log.Starts.Span[row] >= low && log.Starts.Span[row] < high)];
    }

    private static void CheckBucket(
        IntervalLog log, ImmutableDictionary<int, ReadOnlyMemory<Standing>> standings, ChartBuckets chart, int column, int series, int at, int[] rows)
    {
        var drawn = chart.Series[series];
        var known = rows.Select(row => log.Values(column)[row]).Where(value => !double.IsNaN(value)).ToArray();
        Assert.Equal(known.Length, drawn.Known.Span[at]);
        Assert.Equal(known.Length == 0 ? double.NaN : known.Min(), drawn.Least.Span[at]);
        Assert.Equal(known.Length == 0 ? double.NaN : known.Max(), drawn.Greatest.Span[at]);
        Assert.Equal(standings.TryGetValue(column, out var told) ? rows.Max(row => told.Span[row]) : Standing.Measured, drawn.Worst.Span[at]);
        var isAngle = log.Columns[column].Quantity == LogQuantity.CurrentAngle;
        var mean = known.Length == 0 || (isAngle && known.Min() != known.Max()) ? double.NaN : known.Sum() / known.Length;
        // Sums of sums differ from one sum by rounding alone: a few units in the last place of the sum of magnitudes.
        var bound = double.IsFinite(mean) ? 1e-13 * known.Sum(Math.Abs) / known.Length : 0;
        if (double.IsFinite(mean)) Assert.InRange(drawn.Mean.Span[at], mean - bound, mean + bound);
        else Assert.Equal(mean, drawn.Mean.Span[at]);
        if (!chart.AreRows) Assert.InRange(chart.CoverageOf(series, at), 0, Math.Min(1, (double)known.Length * log.IntervalTicks / chart.WidthTicks));
    }
}
