using System.Collections.Immutable;
using System.IO.Compression;
using System.Runtime.InteropServices;
using Leadwright.Core.Signals;
using Parquet;
using Parquet.Schema;

namespace Leadwright.Formats.Tables;

/// <summary>Writes a table as Parquet, zstd, in row groups of a bounded size. All columns may be empty in places (null).</summary>
public sealed class ParquetTableWriter : TableWriter
{
    // Cells held back at a time: some 20 MB.
    private const int CellsPerGroup = 2_000_000;

    private readonly Stream _stream;
    private readonly Dictionary<string, string> _metadata;
    private ParquetWriter? _writer;
    private int _groups;
    private long _footerAt;
    private readonly DataField[] _fields;
    private readonly Array[] _cells;
    private readonly int _rowsPerGroup;
    private readonly ParquetTimeStatistics _times = new();
    private int _rows;

    /// <summary>Starts a table.</summary>
    /// <param name="stream">Receives the bytes, with reading and seeking; stays open.</param>
    /// <param name="columns">The columns.</param>
    /// <param name="metadata">Kept with the table: what made it, and from what.</param>
    public ParquetTableWriter(Stream stream, ImmutableArray<TableColumn> columns, IReadOnlyDictionary<string, string> metadata)
        : base(columns)
    {
        (_stream, _metadata) = (stream, metadata.ToDictionary(pair => pair.Key, pair => pair.Value));
        _fields = [.. columns.Select(DataField (column) => column.Kind switch
        {
            TableColumnKind.Number => new DataField<double?>(column.Name),
            TableColumnKind.Single => new DataField<float?>(column.Name),
            TableColumnKind.Time => new DateTimeDataField(column.Name, DateTimeFormat.DateAndTimeMicros, isNullable: true),
            _ => new DataField<string>(column.Name),
        })];
        _rowsPerGroup = Math.Clamp(CellsPerGroup / Math.Max(columns.Length, 1), 64, 20_000);
        _cells = [.. columns.Select(column => (Array)(column.Kind switch
        {
            TableColumnKind.Number => new double?[_rowsPerGroup],
            TableColumnKind.Single => new float?[_rowsPerGroup],
            TableColumnKind.Time => new DateTime?[_rowsPerGroup],
            _ => new string?[_rowsPerGroup],
        }))];
    }

    /// <inheritdoc/>
    public override async ValueTask CompleteAsync()
    {
        await WriteGroupAsync().ConfigureAwait(false);
        await CloseAsync(await WriterAsync().ConfigureAwait(false)).ConfigureAwait(false);
    }

    /// <inheritdoc/>
    /// <remarks>The file is closed with its footer and opened again behind its last row group; rows that make no whole group yet are carried themselves,
    /// so that the groups are those of a run without a stop.</remarks>
    public override void Carry(StateCarrier carrier)
    {
        ArgumentNullException.ThrowIfNull(carrier);
        if (_writer is not null)
        {
            _footerAt = _groups > 0 ? _stream.Position : 0;
            CloseAsync(_writer).GetAwaiter().GetResult();
        }

        carrier.Carry(ref _groups);
        carrier.Carry(ref _footerAt);
        CarryFooter(carrier);
        carrier.Carry(ref _rows);
        for (var row = 0; row < _rows; row++)
        {
            for (var column = 0; column < _cells.Length; column++) CarryCell(carrier, _cells[column], row);
        }
    }

    private async Task CloseAsync(ParquetWriter writer)
    {
        var footerAt = _stream.Position;
        await writer.DisposeAsync().ConfigureAwait(false);
        _writer = null;
        var footer = new byte[_stream.Length - footerAt];
        _stream.Position = footerAt;
        await _stream.ReadExactlyAsync(footer).ConfigureAwait(false);
        _times.Mend(footer);
        _stream.Position = footerAt;
        await _stream.WriteAsync(footer).ConfigureAwait(false);
    }

    private void CarryFooter(StateCarrier carrier)
    {
        var footer = new List<byte>();
        if (!carrier.IsReading && _groups > 0)
        {
            CollectionsMarshal.SetCount(footer, (int)(_stream.Length - _footerAt));
            _stream.Position = _footerAt;
            _stream.ReadExactly(CollectionsMarshal.AsSpan(footer));
        }

        carrier.Carry(footer);
        if (!carrier.IsReading) return;
        CutBack(_stream, _footerAt);
        _stream.Write(CollectionsMarshal.AsSpan(footer));
    }

    private static void CarryCell(StateCarrier carrier, Array cells, int row)
    {
        switch (cells)
        {
            case double?[] numbers: CarryEmptiable(carrier, ref numbers[row]); break;
            case float?[] singles: CarryEmptiable(carrier, ref singles[row]); break;
            case DateTime?[] times: CarryEmptiable(carrier, ref times[row]); break;
            case string?[] texts:
                var isThere = texts[row] is not null;
                carrier.Carry(ref isThere);
                var text = texts[row] ?? "";
                if (isThere) carrier.Carry(ref text);
                texts[row] = isThere ? text : null;
                break;
        }
    }

    private static void CarryEmptiable<T>(StateCarrier carrier, ref T? cell)
        where T : unmanaged
    {
        var (isThere, value) = (cell.HasValue, cell.GetValueOrDefault());
        carrier.Carry(ref isThere);
        if (isThere) carrier.Carry(ref value);
        cell = isThere ? value : null;
    }

    private async ValueTask<ParquetWriter> WriterAsync() => _writer ??= await OpenAsync().ConfigureAwait(false);

    private async Task<ParquetWriter> OpenAsync()
    {
        if (_groups == 0) _stream.SetLength(0);
        _stream.Position = 0;
        var writer = await ParquetWriter.CreateAsync(new ParquetSchema(_fields), _stream, new ParquetOptions
        {
            CompressionMethod = CompressionMethod.Zstd,
            // The default level is some sixty times slower for a few percent.
            CompressionLevel = CompressionLevel.Fastest,
        }, append: _groups > 0).ConfigureAwait(false);
        writer.CustomMetadata = _metadata;
        return writer;
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
        var writer = await WriterAsync().ConfigureAwait(false);
        using var group = writer.CreateRowGroup();
        for (var column = 0; column < _cells.Length; column++)
        {
            switch (_cells[column])
            {
                case double?[] numbers: await group.WriteAsync<double>(_fields[column], numbers.AsMemory(0, _rows)).ConfigureAwait(false); break;
                case float?[] singles: await group.WriteAsync<float>(_fields[column], singles.AsMemory(0, _rows)).ConfigureAwait(false); break;
                case DateTime?[] times:
                    await group.WriteAsync<DateTime>(_fields[column], times.AsMemory(0, _rows)).ConfigureAwait(false);
                    _times.Add(times.AsSpan(0, _rows));
                    break;
                case string?[] texts: await group.WriteAsync(_fields[column], (string[])texts[.._rows]!).ConfigureAwait(false); break;
            }
        }

        group.CompleteValidate();
        _rows = 0;
        _groups++;
    }
}
