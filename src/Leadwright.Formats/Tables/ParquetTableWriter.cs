using System.Collections.Immutable;
using System.IO.Compression;
using Parquet;
using Parquet.Schema;

namespace Leadwright.Formats.Tables;

/// <summary>Writes a table as Parquet, zstd, in row groups of a bounded size. All columns may be empty in places (null).</summary>
public sealed class ParquetTableWriter : TableWriter
{
    // Cells held back at a time: some 20 MB.
    private const int CellsPerGroup = 2_000_000;

    private readonly ParquetWriter _writer;
    private readonly DataField[] _fields;
    private readonly Array[] _cells;
    private readonly int _rowsPerGroup;
    private int _rows;

    private ParquetTableWriter(ParquetWriter writer, DataField[] fields, ImmutableArray<TableColumn> columns)
        : base(columns)
    {
        (_writer, _fields) = (writer, fields);
        _rowsPerGroup = Math.Clamp(CellsPerGroup / Math.Max(columns.Length, 1), 64, 20_000);
        _cells = [.. columns.Select(column => (Array)(column.Kind switch
        {
            TableColumnKind.Number => new double?[_rowsPerGroup],
            TableColumnKind.Single => new float?[_rowsPerGroup],
            TableColumnKind.Time => new DateTime?[_rowsPerGroup],
            _ => new string?[_rowsPerGroup],
        }))];
    }

    /// <summary>Starts a table.</summary>
    /// <param name="stream">Receives the bytes; stays open.</param>
    /// <param name="columns">The columns.</param>
    /// <param name="metadata">Kept with the table: what made it, and from what.</param>
    public static async Task<ParquetTableWriter> StartAsync(
        Stream stream, ImmutableArray<TableColumn> columns, IReadOnlyDictionary<string, string> metadata)
    {
        DataField[] fields = [.. columns.Select(DataField (column) => column.Kind switch
        {
            TableColumnKind.Number => new DataField<double?>(column.Name),
            TableColumnKind.Single => new DataField<float?>(column.Name),
            TableColumnKind.Time => new DateTimeDataField(column.Name, DateTimeFormat.DateAndTimeMicros, isNullable: true),
            _ => new DataField<string>(column.Name),
        })];
        var writer = await ParquetWriter.CreateAsync(new ParquetSchema(fields), stream, new ParquetOptions
        {
            CompressionMethod = CompressionMethod.Zstd,
            // The default level is some sixty times slower for a few percent.
            CompressionLevel = CompressionLevel.Fastest,
        }).ConfigureAwait(false);
        writer.CustomMetadata = metadata.ToDictionary(pair => pair.Key, pair => pair.Value);
        return new ParquetTableWriter(writer, fields, columns);
    }

    /// <inheritdoc/>
    public override async ValueTask CompleteAsync()
    {
        await WriteGroupAsync().ConfigureAwait(false);
        await _writer.DisposeAsync().ConfigureAwait(false);
    }

    /// <inheritdoc/>
    protected override ValueTask WriteRowAsync()
    {
        for (var column = 0; column < _cells.Length; column++)
        {
            switch (_cells[column])
            {
                case double?[] numbers: numbers[_rows] = double.IsNaN(Numbers[column]) ? null : Numbers[column]; break;
                case float?[] singles: singles[_rows] = double.IsNaN(Numbers[column]) ? null : (float)Numbers[column]; break;
                case DateTime?[] times: times[_rows] = Times[column]; break;
                case string?[] texts: texts[_rows] = Texts[column]; break;
            }
        }

        return ++_rows < _rowsPerGroup ? ValueTask.CompletedTask : WriteGroupAsync();
    }

    private async ValueTask WriteGroupAsync()
    {
        if (_rows == 0) return;
        using var group = _writer.CreateRowGroup();
        for (var column = 0; column < _cells.Length; column++)
        {
            switch (_cells[column])
            {
                case double?[] numbers: await group.WriteAsync<double>(_fields[column], numbers.AsMemory(0, _rows)).ConfigureAwait(false); break;
                case float?[] singles: await group.WriteAsync<float>(_fields[column], singles.AsMemory(0, _rows)).ConfigureAwait(false); break;
                case DateTime?[] times: await group.WriteAsync<DateTime>(_fields[column], times.AsMemory(0, _rows)).ConfigureAwait(false); break;
                case string?[] texts: await group.WriteAsync(_fields[column], (string[])texts[.._rows]!).ConfigureAwait(false); break;
            }
        }

        group.CompleteValidate();
        _rows = 0;
    }
}
