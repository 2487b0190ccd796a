using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Surveys.Storage;
using Parquet;
using Parquet.Schema;

namespace Leadwright.Surveys.Tables;

/// <summary>Writes a log as a table of a survey, with its pyramid. A log without dates has <c>start_s</c> and <c>end_s</c>, seconds since its start, in place of times.</summary>
internal sealed class LogTableWriter
{
    /// <summary>Rows of a row group: a zoom reads one or two of them, 256 KB a column.</summary>
    public const int RowsPerGroup = 32_768;

    private readonly IntervalLog _log;
    private readonly bool _hasDates;
    private readonly DataField _start, _end;
    private readonly (DataField Value, DataField? Standing)[] _fields;
    private readonly ReadOnlyMemory<Standing>[] _standings;
    private readonly double?[] _numbers = new double?[RowsPerGroup];
    private readonly DateTime[] _times = new DateTime[RowsPerGroup];
    private readonly string[] _words = new string[RowsPerGroup];

    private LogTableWriter(IntervalLog log, IReadOnlyDictionary<int, ReadOnlyMemory<Standing>> standings)
    {
        _log = log;
        _hasDates = log.Count == 0 || RecordTime.IsDated(log.From);
        _start = _hasDates ? TimeField("start") : new DataField<double>("start_s");
        _end = _hasDates ? TimeField("end") : new DataField<double>("end_s");
        _standings = [.. Enumerable.Range(0, log.Columns.Length).Select(column => Told(standings, column, log.Count))];
        var names = new FieldNames();
        _fields = [.. log.Columns.Select((column, index) => FieldsOf(names, LogNames.Of(column), _standings[index].Length > 0))];
    }

    /// <summary>Writes the table, then its pyramid.</summary>
    public static async Task WriteAsync(ISurveyStorage storage, string survey, IntervalLog log, TableWriteOptions options, CancellationToken cancellation)
    {
        options.Table.Require();
        SurveyId.Require(survey);
        for (var row = 0; row < log.Count; row++)
        {
            if (row > 0 && Rounded(log.Starts.Span[row]) <= Rounded(log.Starts.Span[row - 1]))
                throw new ArgumentException($"Rows {row - 1} and {row} start in the same microsecond: a table can't tell them apart.", nameof(log));
        }

        await new LogTableWriter(log, options.Standings).WriteAsync(storage, survey, options, cancellation).ConfigureAwait(false);
    }

    // Times are kept to the microsecond.
    private static long Rounded(long ticks) => ticks - (ticks % TimeSpan.TicksPerMicrosecond);

    private static DateTimeDataField TimeField(string name) =>
        new(name, DateTimeFormat.Timestamp, isAdjustedToUTC: false, unit: DateTimeTimeUnit.Micros, isNullable: false);

    private static ReadOnlyMemory<Standing> Told(IReadOnlyDictionary<int, ReadOnlyMemory<Standing>> standings, int column, int count)
    {
        if (!standings.TryGetValue(column, out var told)) return default;
        if (told.Length != count) throw new ArgumentException($"The standings of column {column} are {told.Length}, the rows {count}.", nameof(standings));
        return told.Span.IndexOfAnyExcept(Standing.Measured) < 0 ? default : told;
    }

    private static (DataField, DataField?) FieldsOf(FieldNames names, string name, bool hasStandings)
    {
        var value = new DataField<double?>(names.Free(name));
        return (value, hasStandings ? new DataField<string>(names.Free(LogNames.StandingOf(name))) : null);
    }

    private async Task WriteAsync(ISurveyStorage storage, string survey, TableWriteOptions options, CancellationToken cancellation)
    {
        DataField[] fields = [_start, _end, .. _fields.SelectMany(pair => pair.Standing is null ? (DataField[])[pair.Value] : [pair.Value, pair.Standing])];
        var file = await TableFileWriter.StartAsync(storage, options.Table.FileIn(survey), new ParquetSchema(fields)).ConfigureAwait(false);
        string digest;
        var groups = ImmutableArray.CreateBuilder<long>();
        var pyramid = await PyramidWriter.StartAsync(
            storage, survey, options.Table, _log.Count, _log.IntervalTicks,
            [.. _fields.Select((pair, index) => new PyramidColumn(pair.Value.Name, pair.Standing is not null, IsAngle(_log.Columns[index])))], _hasDates).ConfigureAwait(false);
        await using (pyramid.ConfigureAwait(false))
        {
            await using (file.ConfigureAwait(false))
            {
                for (var row = 0; row < _log.Count; row += RowsPerGroup)
                {
                    var count = Math.Min(RowsPerGroup, _log.Count - row);
                    await WriteGroupAsync(file, row, count, cancellation).ConfigureAwait(false);
                    await AddToPyramidAsync(pyramid, row, count).ConfigureAwait(false);
                    groups.Add(Rounded(_log.Starts.Span[row]));
                    groups.Add(Rounded(_log.Starts.Span[row + count - 1]));
                    options.Progress?.Report((double)(row + count) / _log.Count);
                }

                var metadata = MetadataOf(survey, options, groups.ToImmutable());
                await file.CompleteAsync(metadata).ConfigureAwait(false);
                digest = metadata["data_sha256"];
            }

            await pyramid.CompleteAsync(digest).ConfigureAwait(false);
        }
    }

    private static bool IsAngle(LogColumn column) => column.Quantity is LogQuantity.VoltageAngle or LogQuantity.CurrentAngle;

    private Dictionary<string, string> MetadataOf(string survey, TableWriteOptions options, ImmutableArray<long> groups)
    {
        var head = new TableHead
        {
            IntervalSeconds = _log.IntervalSeconds,
            Columns = [.. _fields.Select((pair, index) => HeadColumn.Of(_log.Columns[index], pair.Value.Name, pair.Standing?.Name))],
            ClockSteps = [.. _log.ClockSteps.Select(step => new HeadStep(step.Row, step.Ticks))],
            Groups = groups,
        };
        return new Dictionary<string, string>(options.Metadata)
        {
            ["schema"] = TableHead.Schema, ["kind"] = options.Table.Kind, ["survey"] = survey, [TableHead.MetadataName] = head.ToJson(),
        };
    }

    private async Task WriteGroupAsync(TableFileWriter file, int row, int count, CancellationToken cancellation)
    {
        using var group = file.StartGroup();
        await WriteTimesAsync(file, group, _start, row, count, 0).ConfigureAwait(false);
        await WriteTimesAsync(file, group, _end, row, count, _log.IntervalTicks).ConfigureAwait(false);
        for (var column = 0; column < _fields.Length; column++)
        {
            cancellation.ThrowIfCancellationRequested();
            FillNumbers(_log.Values(column).Slice(row, count));
            await group.WriteAsync<double>(_fields[column].Value, _numbers.AsMemory(0, count), cancellationToken: cancellation).ConfigureAwait(false);
            if (_fields[column].Standing is not { } field) continue;
            FillWords(_standings[column].Span.Slice(row, count));
            await group.WriteAsync(field, new ArraySegment<string>(_words, 0, count)).ConfigureAwait(false);
        }

        group.CompleteValidate();
    }

    private async Task WriteTimesAsync(TableFileWriter file, ParquetRowGroupWriter group, DataField field, int row, int count, long later)
    {
        if (!_hasDates)
        {
            var seconds = new double[count];
            for (var at = 0; at < count; at++) seconds[at] = (double)Rounded(_log.Starts.Span[row + at] + later) / TimeSpan.TicksPerSecond;
            await group.WriteAsync<double>(field, seconds.AsMemory()).ConfigureAwait(false);
            return;
        }

        for (var at = 0; at < count; at++) _times[at] = new DateTime(Rounded(_log.Starts.Span[row + at] + later));
        await group.WriteAsync<DateTime>(field, _times.AsMemory(0, count)).ConfigureAwait(false);
        file.NoteTimes(_times[0], _times[count - 1]);
    }

    private void FillNumbers(ReadOnlySpan<double> values)
    {
        for (var at = 0; at < values.Length; at++) _numbers[at] = double.IsNaN(values[at]) ? null : values[at];
    }

    private void FillWords(ReadOnlySpan<Standing> standings)
    {
        for (var at = 0; at < standings.Length; at++) _words[at] = StandingWords.Of(standings[at]);
    }

    private async Task AddToPyramidAsync(PyramidWriter pyramid, int row, int count)
    {
        pyramid.StartRows(_log.Starts.Span.Slice(row, count));
        for (var column = 0; column < _fields.Length; column++)
        {
            pyramid.Add(column, _log.Values(column).Slice(row, count), _standings[column].Length == 0 ? default : _standings[column].Span.Slice(row, count));
        }

        await pyramid.EndRowsAsync().ConfigureAwait(false);
    }
}
