using Parquet;
using Parquet.Schema;

namespace Leadwright.Surveys.Tables;

/// <summary>The columns of a pyramid's file: <c>start</c> (<c>start_s</c> where the table counts seconds) and <c>rows</c> of each block, and of each column of the table <c>_min</c>, <c>_max</c>, <c>_mean</c>,
/// <c>_count</c>, and <c>_standing</c> where it has standings.</summary>
internal sealed class PyramidFields
{
    public const string SchemaName = "leadwright.survey-pyramid/1";

    public const string Start = "start";
    public const string Elapsed = "start_s";
    public const string Rows = "rows";
    public const string Least = "_min";
    public const string Greatest = "_max";
    public const string Mean = "_mean";
    public const string Count = "_count";
    public const string Standing = "_standing";

    private readonly PyramidColumn[] _columns;
    private readonly DataField _start;
    private readonly bool _hasClock;
    private readonly DataField<int> _rows = new(Rows);
    private readonly DataField[][] _fields;

    public PyramidFields(PyramidColumn[] columns, bool hasClock)
    {
        (_columns, _hasClock) = (columns, hasClock);
        _start = hasClock
            ? new DateTimeDataField(Start, DateTimeFormat.Timestamp, isAdjustedToUTC: false, unit: DateTimeTimeUnit.Micros, isNullable: false) : new DataField<double>(Elapsed);
        _fields = [.. columns.Select(FieldsOf)];
        Schema = new ParquetSchema([_start, _rows, .. _fields.SelectMany(fields => fields)]);
    }

    public ParquetSchema Schema { get; }

    public async Task WriteAsync(ParquetRowGroupWriter group, List<long> starts, List<int> rows, BlockColumn[] blocks, int count)
    {
        if (_hasClock) await group.WriteAsync<DateTime>(_start, starts.Take(count).Select(ticks => new DateTime(ticks)).ToArray()).ConfigureAwait(false);
        else await group.WriteAsync<double>(_start, starts.Take(count).Select(ticks => (double)ticks / TimeSpan.TicksPerSecond).ToArray()).ConfigureAwait(false);
        await group.WriteAsync<int>(_rows, rows.Take(count).ToArray()).ConfigureAwait(false);
        var numbers = new double?[count];
        for (var column = 0; column < _columns.Length; column++)
        {
            var (fields, block) = (_fields[column], blocks[column]);
            for (var at = 0; at < count; at++) numbers[at] = block.Counts[at] == 0 ? null : block.Least[at];
            await group.WriteAsync<double>(fields[0], numbers.AsMemory()).ConfigureAwait(false);
            for (var at = 0; at < count; at++) numbers[at] = block.Counts[at] == 0 ? null : block.Greatest[at];
            await group.WriteAsync<double>(fields[1], numbers.AsMemory()).ConfigureAwait(false);
            for (var at = 0; at < count; at++) numbers[at] = MeanOf(block, at, _columns[column].IsAngle);
            await group.WriteAsync<double>(fields[2], numbers.AsMemory()).ConfigureAwait(false);
            await group.WriteAsync<int>(fields[3], block.Counts.AsMemory(0, count)).ConfigureAwait(false);
            if (_columns[column].HasStandings) await group.WriteAsync<int>(fields[4], Array.ConvertAll(block.Worst[..count], worst => (int)worst)).ConfigureAwait(false);
        }
    }

    // Of infinities of both signs there is no mean; it stays empty, as the mean of nothing does.
    private static double? MeanOf(BlockColumn block, int at, bool isAngle)
    {
        if (isAngle || block.Counts[at] == 0) return null;
        var mean = block.Sums[at] / block.Counts[at];
        return double.IsNaN(mean) ? null : mean;
    }

    private static DataField[] FieldsOf(PyramidColumn column)
    {
        DataField[] numbers =
        [
            new DataField<double?>(column.Name + Least), new DataField<double?>(column.Name + Greatest), new DataField<double?>(column.Name + Mean),
            new DataField<int>(column.Name + Count),
        ];
        return column.HasStandings ? [.. numbers, new DataField<int>(column.Name + Standing)] : numbers;
    }
}
