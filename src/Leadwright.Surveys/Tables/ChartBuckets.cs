using System.Collections.Immutable;

namespace Leadwright.Surveys.Tables;

/// <summary>What a chart draws of some columns over a span of time: stretches of equal length one after another, or the rows themselves where they are few.</summary>
/// <remarks>
/// <para>A bucket holds the rows that start in it. Only buckets with a row are there: where <see cref="Starts"/> jump by more than <see cref="WidthTicks"/> nothing was
/// recorded, and nothing is to be drawn across it. A bucket with rows but without a value of a column has NaN there.</para>
/// <para>Buckets start on multiples of their width since the least date: they stay where they are when the span is moved. So the first may start before the span
/// and the last end behind it; both are whole.</para>
/// </remarks>
public sealed class ChartBuckets
{
    internal ChartBuckets(ReadOnlyMemory<long> starts, ReadOnlyMemory<int> rows, long widthTicks, long intervalTicks, bool areRows, ImmutableArray<ChartSeries> series) =>
        (Starts, Rows, WidthTicks, IntervalTicks, AreRows, Series) = (starts, rows, widthTicks, intervalTicks, areRows, series);

    /// <summary>Start of each bucket, ticks (100 ns) as <see cref="DateTime.Ticks"/> counts them, by the recorder's clock; strictly rising.</summary>
    public ReadOnlyMemory<long> Starts { get; }

    /// <summary>Number of rows of each.</summary>
    public ReadOnlyMemory<int> Rows { get; }

    /// <summary>Length of each bucket, ticks; of an interval when they are rows.</summary>
    public long WidthTicks { get; }

    /// <summary>Length of an interval of the table, ticks.</summary>
    public long IntervalTicks { get; }

    /// <summary>True when each bucket is a row of the table as it stands.</summary>
    public bool AreRows { get; }

    /// <summary>The columns, in the order asked for.</summary>
    public ImmutableArray<ChartSeries> Series { get; }

    /// <summary>Number of buckets.</summary>
    public int Count => Starts.Length;

    /// <summary>The share of a bucket that values of a column cover.</summary>
    /// <param name="series">Place of the column in <see cref="Series"/>.</param>
    /// <param name="bucket">The bucket.</param>
    /// <returns>0 to 1: values that are there, over the intervals that have room in the bucket.</returns>
    public double CoverageOf(int series, int bucket) => AreRows
        ? Series[series].Known.Span[bucket]
        : Math.Min(1, Series[series].Known.Span[bucket] * (double)IntervalTicks / WidthTicks);
}
