namespace Leadwright.Surveys.Tables;

/// <summary>Gathers the buckets of a chart from a table or from a level of its pyramid.</summary>
internal static class ChartReading
{
    /// <summary>No bucket at all.</summary>
    public static ChartBuckets Empty(TableShape shape, IReadOnlyList<int> columns) =>
        new ChartGathering(shape, columns).Finish(shape.IntervalTicks, areRows: false);

    /// <summary>The rows whose interval touches a span, as they stand; null when they are more than were to be expected.</summary>
    public static Task<ChartBuckets?> RowsAsync(
        TableFile file, TableShape shape, IReadOnlyList<int> columns, long first, long end, int buckets, CancellationToken cancellation)
    {
        var after = first - shape.IntervalTicks;
        return file.ReadAsync(async reader =>
        {
            var gathering = new ChartGathering(shape, columns);
            for (var group = 0; group < shape.Groups.Length; group++)
            {
                if (shape.Groups[group].Last <= after || shape.Groups[group].First >= end) continue;
                using var rows = reader.OpenRowGroupReader(group);
                var starts = await TableFile.ReadTimesAsync(rows, shape.Time, file.GroupRows[group], cancellation).ConfigureAwait(false);
                var (from, to) = (Bound(starts, after + 1), Bound(starts, end));
                if (to == from) continue;
                for (var row = from; row < to; row++) gathering.Open(starts[row], 1);
                if (gathering.Count > buckets + 2) return null;
                await gathering.AddRowsAsync(rows, from, to, starts.Length, cancellation).ConfigureAwait(false);
            }

            return gathering.Finish(shape.IntervalTicks, areRows: true);
        }, cancellation);
    }

    /// <summary>Buckets of the rows themselves.</summary>
    public static Task<ChartBuckets> BucketsAsync(
        TableFile file, TableShape shape, IReadOnlyList<int> columns, long first, long end, long width, CancellationToken cancellation)
    {
        var (low, high) = (ReadPlan.Down(first, width), ReadPlan.Down(end - 1, width) + width);
        return file.ReadAsync(async reader =>
        {
            var gathering = new ChartGathering(shape, columns);
            for (var group = 0; group < shape.Groups.Length; group++)
            {
                if (shape.Groups[group].Last < low || shape.Groups[group].First >= high) continue;
                using var rows = reader.OpenRowGroupReader(group);
                var starts = await TableFile.ReadTimesAsync(rows, shape.Time, file.GroupRows[group], cancellation).ConfigureAwait(false);
                var (from, to) = (Bound(starts, low), Bound(starts, high));
                if (to == from) continue;
                for (var row = from; row < to; row++) gathering.Open(ReadPlan.Down(starts[row], width), 1);
                await gathering.AddRowsAsync(rows, from, to, starts.Length, cancellation).ConfigureAwait(false);
            }

            return gathering.Finish(width, areRows: false);
        }, cancellation);
    }

    /// <summary>Buckets of the blocks of a level.</summary>
    public static Task<ChartBuckets> BlocksAsync(
        PyramidLevel level, TableShape shape, IReadOnlyList<int> columns, long first, long end, long width, CancellationToken cancellation)
    {
        var (low, high) = (ReadPlan.Down(first, width), ReadPlan.Down(end - 1, width) + width);
        return level.File.ReadAsync(async reader =>
        {
            var gathering = new ChartGathering(shape, columns);
            for (var group = 0; group < level.Starts.Length; group++)
            {
                var starts = level.Starts[group];
                if (starts.Length == 0 || starts[^1] < low || starts[0] >= high) continue;
                var (from, to) = (Bound(starts, low), Bound(starts, high));
                if (to == from) continue;
                for (var block = from; block < to; block++) gathering.Open(ReadPlan.Down(starts[block], width), level.Rows[group][block]);
                using var rows = reader.OpenRowGroupReader(group);
                await gathering.AddBlocksAsync(rows, level, from, to, starts.Length, cancellation).ConfigureAwait(false);
            }

            return gathering.Finish(width, areRows: false);
        }, cancellation);
    }

    // The first place whose time is not before another.
    private static int Bound(long[] times, long time)
    {
        var (low, high) = (0, times.Length);
        while (low < high)
        {
            var middle = (low + high) >>> 1;
            if (times[middle] < time) low = middle + 1;
            else high = middle;
        }

        return low;
    }
}
