using System.Buffers;
using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Surveys.Tables;

/// <summary>The buckets of one call while they are gathered.</summary>
internal sealed class ChartGathering
{
    private readonly TableShape _shape;
    private readonly IReadOnlyList<int> _columns;
    private readonly BlockColumn[] _series;
    private readonly List<long> _starts = [];
    private readonly List<int> _rows = [];

    // Of what was opened since values were added: bucket and number of rows or blocks in a run.
    private readonly List<(int Bucket, int Length)> _runs = [];

    public ChartGathering(TableShape shape, IReadOnlyList<int> columns)
    {
        (_shape, _columns) = (shape, columns);
        _series = [.. columns.Select(_ => new BlockColumn(0))];
    }

    public int Count => _starts.Count;

    /// <summary>Takes a row or block into the bucket of a start, a new one where the last is another.</summary>
    public void Open(long start, int rows)
    {
        if (_starts.Count == 0 || _starts[^1] != start)
        {
            _starts.Add(start);
            _rows.Add(0);
        }

        _rows[^1] += rows;
        if (_runs.Count > 0 && _runs[^1].Bucket == _starts.Count - 1) _runs[^1] = (_runs[^1].Bucket, _runs[^1].Length + 1);
        else _runs.Add((_starts.Count - 1, 1));
    }

    public async Task AddRowsAsync(Parquet.ParquetRowGroupReader group, int from, int to, int count, CancellationToken cancellation)
    {
        Grow();
        var numbers = ArrayPool<double>.Shared.Rent(count);
        try
        {
            for (var series = 0; series < _series.Length; series++)
            {
                cancellation.ThrowIfCancellationRequested();
                var column = _columns[series];
                await TableFile.ReadNumbersAsync(group, _shape.Values[column], numbers.AsMemory(0, count), cancellation).ConfigureAwait(false);
                var standings = _shape.Standings[column] is { } field ? await TableFile.ReadStandingsAsync(group, field, count).ConfigureAwait(false) : [];
                Add(series, numbers.AsSpan(from, to - from), standings.Length == 0 ? default : standings.AsSpan(from, to - from));
            }
        }
        finally
        {
            ArrayPool<double>.Shared.Return(numbers);
        }

        _runs.Clear();
    }

    public async Task AddBlocksAsync(Parquet.ParquetRowGroupReader group, PyramidLevel level, int from, int to, int count, CancellationToken cancellation)
    {
        Grow();
        var numbers = Array.ConvertAll(new int[5], _ => ArrayPool<double>.Shared.Rent(count));
        try
        {
            for (var series = 0; series < _series.Length; series++)
            {
                cancellation.ThrowIfCancellationRequested();
                var fields = level.FieldsOf(_shape.Columns[_columns[series]]);
                for (var index = 0; index < fields.Length; index++)
                    await TableFile.ReadNumbersAsync(group, fields[index], numbers[index].AsMemory(0, count), cancellation).ConfigureAwait(false);
                AddBlocks(series, numbers, fields.Length > 4, from);
            }
        }
        finally
        {
            foreach (var array in numbers) ArrayPool<double>.Shared.Return(array);
        }

        _runs.Clear();
    }

    public ChartBuckets Finish(long width, bool areRows)
    {
        var series = _series.Select((summary, index) => SeriesOf(_shape.Columns[_columns[index]], summary, _starts.Count)).ToImmutableArray();
        return new ChartBuckets(_starts.ToArray(), _rows.ToArray(), width, _shape.IntervalTicks, areRows, series);
    }

    private static ChartSeries SeriesOf(StoredColumn column, BlockColumn summary, int count)
    {
        var (least, greatest, mean) = (new double[count], new double[count], new double[count]);
        for (var at = 0; at < count; at++)
        {
            var known = summary.Counts[at];
            least[at] = known == 0 ? double.NaN : summary.Least[at];
            greatest[at] = known == 0 ? double.NaN : summary.Greatest[at];
            if (known == 0) mean[at] = double.NaN;
            else if (column.IsAngle) mean[at] = least[at] == greatest[at] ? least[at] : double.NaN;
            else mean[at] = summary.Sums[at] / known;
        }

        return new ChartSeries(column, least, greatest, mean, summary.Counts.AsMemory(0, count), Array.ConvertAll(summary.Worst[..count], worst => (Standing)worst));
    }

    // Room doubles: the memory is that of the buckets asked for.
    private void Grow()
    {
        foreach (var series in _series)
        {
            if (series.Counts.Length < _starts.Count) series.Grow(Math.Max(_starts.Count, 2 * series.Counts.Length));
        }
    }

    private void Add(int series, ReadOnlySpan<double> values, ReadOnlySpan<Standing> standings)
    {
        var row = 0;
        foreach (var (bucket, length) in _runs)
        {
            _series[series].Add(bucket, values.Slice(row, length), standings.IsEmpty ? default : standings.Slice(row, length));
            row += length;
        }
    }

    private void AddBlocks(int series, double[][] numbers, bool hasStandings, int from)
    {
        var block = from;
        foreach (var (bucket, length) in _runs)
        {
            for (var end = block + length; block < end; block++)
            {
                var (count, standing) = ((int)numbers[3][block], hasStandings ? (byte)numbers[4][block] : (byte)0);
                RequireSound(numbers[0][block], numbers[1][block], numbers[2][block], count);
                _series[series].Add(bucket, numbers[0][block], numbers[1][block], numbers[2][block] * count, count, standing);
            }
        }
    }

    // Pages of Parquet carry no sum of their own: a summary that can't be one shows a damaged page, and the pyramid is built anew.
    private static void RequireSound(double least, double greatest, double mean, int count)
    {
        var isSound = count == 0 || (count > 0 && least <= greatest
            && (double.IsNaN(mean) || !double.IsFinite(mean) || (mean >= least - Math.Abs(1e-9 * least) - double.Epsilon && mean <= greatest + Math.Abs(1e-9 * greatest) + double.Epsilon)));
        if (!isSound) throw new InvalidDataException("a summary that can't be one");
    }
}
