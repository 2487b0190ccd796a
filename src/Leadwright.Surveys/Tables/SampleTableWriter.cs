using System.Collections.Immutable;
using Leadwright.Core.Signals;
using Leadwright.Formats;
using Leadwright.Formats.Sampling;
using Leadwright.Surveys.Storage;
using Parquet.Schema;

namespace Leadwright.Surveys.Tables;

/// <summary>Writes the samples of a recording as a table: <c>start</c> (or <c>start_s</c> where the recording has no clock), and a column for each channel.</summary>
/// <remarks>Row groups are short, so that a cycle is read without the rest; everything longer comes from the pyramid. Values are single precision, as
/// converters of recorders have no more.</remarks>
internal sealed class SampleTableWriter : IDisposable
{
    /// <summary>Rows of a row group: a cycle reads one or two of them, half a megabyte a channel.</summary>
    internal const int RowsPerGroup = 131_072;

    private readonly SampleLanes _lanes;
    private readonly DataField _time;
    private readonly DataField[] _fields;
    private readonly double[][] _columns;
    private readonly float?[] _numbers = new float?[RowsPerGroup];
    private readonly DateTime[] _times = new DateTime[RowsPerGroup];
    private readonly double[] _seconds = new double[RowsPerGroup];
    private readonly ImmutableArray<long>.Builder _groups = ImmutableArray.CreateBuilder<long>();
    private readonly long _zero;
    private int _held;
    private long _rows;

    private SampleTableWriter(SampleLanes lanes)
    {
        _lanes = lanes;
        _zero = lanes.Start is { Year: > 1 } start ? start.Ticks - (start.Ticks % TimeSpan.TicksPerMicrosecond) : 0;
        _time = HasClock
            ? new DateTimeDataField("start", DateTimeFormat.Timestamp, isAdjustedToUTC: false, unit: DateTimeTimeUnit.Micros, isNullable: false) : new DataField<double>("start_s");
        var names = new FieldNames();
        _fields = [.. lanes.Channels.Select(channel => new DataField<float?>(names.Free(NameOf(channel))))];
        _columns = [.. lanes.Channels.Select(_ => new double[RowsPerGroup])];
    }

    private bool HasClock => _zero > 0;

    /// <summary>Writes the table, then its pyramid.</summary>
    public static async Task<SampleTableFacts> WriteAsync(
        ISurveyStorage storage, string survey, Func<SampleSource> open, TableWriteOptions options, CancellationToken cancellation)
    {
        options.Table.Require();
        SurveyId.Require(survey);
        SampleTableFacts facts;
        using (var writer = new SampleTableWriter(new SampleLanes(open))) facts = await writer.WriteAsync(storage, survey, options, cancellation).ConfigureAwait(false);
        if (facts.Count > 0) await TableCopy.BuildPyramidAsync(storage, survey, options.Table, cancellation).ConfigureAwait(false);
        options.Progress?.Report(1);
        return facts;
    }

    public void Dispose() => _lanes.Dispose();

    // The name in the file with the unit of the values, which has no prefix.
    private static string NameOf(SampledChannel channel)
    {
        var name = channel.Name.Trim();
        var unit = SampleUnit.Of(channel);
        return unit.Length == 0 || name.EndsWith("_" + unit, StringComparison.Ordinal) ? name : $"{name}_{unit}";
    }

    private async Task<SampleTableFacts> WriteAsync(ISurveyStorage storage, string survey, TableWriteOptions options, CancellationToken cancellation)
    {
        var step = TimeSpan.TicksPerSecond / _lanes.RateHertz;
        var file = await TableFileWriter.StartAsync(storage, options.Table.FileIn(survey), new ParquetSchema([_time, .. _fields])).ConfigureAwait(false);
        await using (file.ConfigureAwait(false))
        {
            var (stretches, moved, begin, inStretch) = (0, 0, 0.0, 0L);
            var isNew = true;
            while (true)
            {
                cancellation.ThrowIfCancellationRequested();
                var count = _lanes.Read(_columns, _held, RowsPerGroup - _held);
                if (count == 0)
                {
                    if (_lanes.NextSegmentSeconds is not { } next) break;
                    var end = begin + (inStretch * step);
                    begin = next * TimeSpan.TicksPerSecond;
                    if (begin < end) (begin, moved) = (end, moved + 1);
                    (inStretch, isNew) = (0, true);
                    continue;
                }

                if (isNew) stretches++;
                isNew = false;
                for (var row = 0; row < count; row++) Time(_held + row, begin + ((inStretch + row) * step));
                (inStretch, _held) = (inStretch + count, _held + count);
                if (_held == RowsPerGroup) await WriteGroupAsync(file, cancellation).ConfigureAwait(false);
                options.Progress?.Report(0.7 * _lanes.Share);
            }

            if (_held > 0) await WriteGroupAsync(file, cancellation).ConfigureAwait(false);
            if (_rows == 0) throw new FormatReadException(options.Table.ToString(), "a recording with samples", "none");
            await file.CompleteAsync(MetadataOf(survey, options)).ConfigureAwait(false);
            var (from, to) = (_groups[0], _groups[^1] + (long)Math.Round(step));
            return new SampleTableFacts(_rows, _lanes.RateHertz, HasClock ? new DateTime(from) : null, HasClock ? new DateTime(to) : null, stretches, moved);
        }
    }

    private void Time(int row, double ticks)
    {
        _seconds[row] = ticks / TimeSpan.TicksPerSecond;
        if (!HasClock) return;
        // Times are kept to the microsecond.
        var whole = _zero + (long)Math.Round(ticks / TimeSpan.TicksPerMicrosecond) * TimeSpan.TicksPerMicrosecond;
        _times[row] = new DateTime(Math.Min(whole, DateTime.MaxValue.Ticks));
    }

    private async Task WriteGroupAsync(TableFileWriter file, CancellationToken cancellation)
    {
        using (var group = file.StartGroup())
        {
            if (HasClock) await group.WriteAsync<DateTime>(_time, _times.AsMemory(0, _held), cancellationToken: cancellation).ConfigureAwait(false);
            else await group.WriteAsync<double>(_time, _seconds.AsMemory(0, _held), cancellationToken: cancellation).ConfigureAwait(false);
            for (var column = 0; column < _fields.Length; column++)
            {
                cancellation.ThrowIfCancellationRequested();
                var values = _columns[column];
                for (var row = 0; row < _held; row++) _numbers[row] = double.IsNaN(values[row]) ? null : (float)values[row];
                await group.WriteAsync<float>(_fields[column], _numbers.AsMemory(0, _held), cancellationToken: cancellation).ConfigureAwait(false);
            }

            group.CompleteValidate();
        }

        if (HasClock) file.NoteTimes(_times[0], _times[_held - 1]);
        foreach (var row in (int[])[0, _held - 1]) _groups.Add(HasClock ? _times[row].Ticks : (long)Math.Round(_seconds[row] * TimeSpan.TicksPerSecond));
        _rows += _held;
        _held = 0;
    }

    private Dictionary<string, string> MetadataOf(string survey, TableWriteOptions options) => new(options.Metadata)
    {
        ["schema"] = TableHead.Schema, ["kind"] = options.Table.Kind, ["survey"] = survey,
        [TableHead.MetadataName] = new TableHead { IntervalSeconds = 1 / _lanes.RateHertz, Groups = _groups.ToImmutable() }.ToJson(),
    };
}
