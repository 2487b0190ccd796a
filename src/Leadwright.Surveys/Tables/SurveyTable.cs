using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Tables;

/// <summary>A table of a survey that is open to read, by several at a time.</summary>
public sealed class SurveyTable : IDisposable
{
    /// <summary>The most buckets that are given at once.</summary>
    public const int MostBuckets = 100_000;

    private readonly TableFile _file;
    private readonly TableShape _shape;
    private readonly SurveyPyramid _pyramid;

    private SurveyTable(TableName name, string survey, TableFile file, TableShape shape, SurveyPyramid pyramid) =>
        (Name, Survey, _file, _shape, _pyramid) = (name, survey, file, shape, pyramid);

    /// <summary>Which table it is.</summary>
    public TableName Name { get; }

    /// <summary>The survey's name among all.</summary>
    public string Survey { get; }

    /// <summary>The columns of numbers.</summary>
    public ImmutableArray<StoredColumn> Columns => _shape.Columns;

    /// <summary>Number of rows.</summary>
    public long RowCount => _shape.Rows;

    /// <summary>Length of an interval, seconds; where the table does not state it, the mean step between rows.</summary>
    public double IntervalSeconds => _shape.IntervalSeconds;

    /// <summary>False when the recording has no clock: times then count from the least date, its start.</summary>
    public bool HasClock => _shape.HasClock;

    /// <summary>Start of the first interval, by the recorder's clock; the least date when there is no row.</summary>
    public DateTime From => RowCount == 0 ? default : new DateTime(_shape.Groups[0].First);

    /// <summary>End of the last interval; the least date when there is no row.</summary>
    public DateTime To => RowCount == 0 ? default : new DateTime(_shape.Groups[^1].Last + _shape.IntervalTicks);

    /// <summary>The place of a column among <see cref="Columns"/>; −1 when there is none of that name.</summary>
    /// <param name="name">Its name in the table.</param>
    public int IndexOf(string name)
    {
        foreach (var column in Columns)
        {
            if (column.Name == name) return column.Index;
        }

        return -1;
    }

    /// <summary>Reads columns over a span of time, for a chart of some width.</summary>
    /// <param name="columns">Places among <see cref="Columns"/>; one may come twice.</param>
    /// <param name="from">Start of the span, by the recorder's clock.</param>
    /// <param name="to">End of the span; not before its start. An empty span gives no bucket.</param>
    /// <param name="buckets">How many buckets fit on the chart, 1 to <see cref="MostBuckets"/>: there are two more at most, for whole ones at both ends, and usually
    /// more than two thirds of them.</param>
    /// <param name="cancellation">Ends the reading.</param>
    /// <returns>Buckets, or the rows themselves where they are not more than the buckets.</returns>
    /// <exception cref="ArgumentException">The span ends before it starts, a column isn't there, or the buckets are none or too many.</exception>
    /// <exception cref="SurveyException">The table is damaged.</exception>
    /// <remarks>Buckets of many rows come from a pyramid of summaries. It is built anew when it is missing, damaged or of another table; where the folder can't be
    /// written to, the table itself is read instead.</remarks>
    public async Task<ChartBuckets> ReadAsync(IReadOnlyList<int> columns, DateTime from, DateTime to, int buckets, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(columns);
        ArgumentOutOfRangeException.ThrowIfLessThan(buckets, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(buckets, MostBuckets);
        if (to < from) throw new ArgumentException($"The span ends ({to:s}) before it starts ({from:s}).", nameof(to));
        foreach (var column in columns)
        {
            if (column < 0 || column >= Columns.Length) throw new ArgumentException($"There is no column {column}: the table has {Columns.Length}.", nameof(columns));
        }

        var (first, end) = (Math.Max(from.Ticks, From.Ticks), Math.Min(to.Ticks, To.Ticks));
        if (RowCount == 0 || end <= first) return ChartReading.Empty(_shape, columns);
        var plan = ReadPlan.Of(end - first, buckets, _shape.IntervalTicks, PyramidGrid.LevelsOf(RowCount));
        if (plan.AreRows)
        {
            // Rows that are no even interval apart may be more than they seem.
            var rows = await ChartReading.RowsAsync(_file, _shape, columns, first, end, buckets, cancellation).ConfigureAwait(false);
            if (rows is not null) return rows;
            plan = ReadPlan.Bucketed(end - first, buckets, _shape.IntervalTicks, 0);
        }

        if (plan.Level >= 0 && await _pyramid.LevelAsync(plan.Level, cancellation).ConfigureAwait(false) is { } level)
        {
            try
            {
                return await ChartReading.BlocksAsync(level, _shape, columns, first, end, plan.WidthTicks, cancellation).ConfigureAwait(false);
            }
            catch (SurveyException)
            {
                _pyramid.Distrust(level);
                return await ReadAgainAsync(columns, first, end, plan, cancellation).ConfigureAwait(false);
            }
        }

        return await ChartReading.BucketsAsync(_file, _shape, columns, first, end, plan.WidthTicks, cancellation).ConfigureAwait(false);
    }

    /// <summary>Reads columns by their names; see <see cref="ReadAsync(IReadOnlyList{int}, DateTime, DateTime, int, CancellationToken)"/>.</summary>
    /// <param name="columns">Names of columns.</param>
    /// <param name="from">Start of the span.</param>
    /// <param name="to">End of the span.</param>
    /// <param name="buckets">How many buckets fit on the chart.</param>
    /// <param name="cancellation">Ends the reading.</param>
    /// <returns>Buckets, or rows.</returns>
    /// <exception cref="ArgumentException">As there, or there is no column of a name.</exception>
    public Task<ChartBuckets> ReadAsync(IReadOnlyList<string> columns, DateTime from, DateTime to, int buckets, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(columns);
        var places = columns.Select(name => IndexOf(name) is >= 0 and var place
            ? place
            : throw new ArgumentException($"The table '{Name}' has no column '{name}'.", nameof(columns))).ToArray();
        return ReadAsync(places, from, to, buckets, cancellation);
    }

    /// <summary>Reads the whole log back as it was written.</summary>
    /// <param name="cancellation">Ends the reading.</param>
    /// <returns>The log, and standings by the index of their column; a column without is measured throughout. Times are to the microsecond.</returns>
    /// <exception cref="SurveyException">The table is no log's, or is damaged.</exception>
    public async Task<(IntervalLog Log, ImmutableDictionary<int, ReadOnlyMemory<Standing>> Standings)> ReadLogAsync(CancellationToken cancellation = default) =>
        await LogTableReader.ReadAsync(_file, _shape, Name, cancellation).ConfigureAwait(false);

    /// <summary>Reads the whole file and its pyramid through and holds them against the digests that are kept with them. A level of the pyramid that is damaged
    /// is taken away, and built anew when a chart wants it.</summary>
    /// <param name="cancellation">Ends the reading.</param>
    /// <returns>True when the table is as it was written; false when it was written elsewhere, without a digest.</returns>
    /// <exception cref="SurveyException">The table is damaged.</exception>
    public async Task<bool> VerifyAsync(CancellationToken cancellation = default)
    {
        var isVerified = await _file.VerifyAsync(cancellation).ConfigureAwait(false);
        await _pyramid.VerifyAsync(cancellation).ConfigureAwait(false);
        return isVerified;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _pyramid.Dispose();
        _file.Dispose();
    }

    internal static async Task<SurveyTable> OpenAsync(ISurveyStorage storage, TableName name, string survey, CancellationToken cancellation)
    {
        var file = await TableFile.OpenAsync(storage, name.FileIn(survey), cancellation).ConfigureAwait(false);
        try
        {
            var shape = await TableShape.OfAsync(file, storage, name, cancellation).ConfigureAwait(false);
            return new SurveyTable(name, survey, file, shape, new SurveyPyramid(storage, name, survey, file, shape));
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    private async Task<ChartBuckets> ReadAgainAsync(IReadOnlyList<int> columns, long first, long end, ReadPlan plan, CancellationToken cancellation)
    {
        if (await _pyramid.LevelAsync(plan.Level, cancellation).ConfigureAwait(false) is { } rebuilt)
            return await ChartReading.BlocksAsync(rebuilt, _shape, columns, first, end, plan.WidthTicks, cancellation).ConfigureAwait(false);
        return await ChartReading.BucketsAsync(_file, _shape, columns, first, end, plan.WidthTicks, cancellation).ConfigureAwait(false);
    }
}
