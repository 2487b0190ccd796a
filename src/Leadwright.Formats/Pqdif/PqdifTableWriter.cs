using System.Collections.Immutable;
using Leadwright.Formats.Tables;

namespace Leadwright.Formats.Pqdif;

/// <summary>Writes a measured table as a PQDIF value log, at bounded memory: an observation for every stretch of rows.</summary>
/// <remarks>Numbers are written; texts and times other than <c>start</c> are not, since a value log holds numbers. Needs the column
/// <c>start_s</c>; <c>start</c> gives the date, and without it the log has none.</remarks>
public sealed class PqdifTableWriter : TableWriter
{
    private readonly PqdifWriter _writer;
    private readonly PqdifLogLayout _layout;
    private readonly double[]?[] _values;
    private readonly double[] _seconds;
    private readonly double _interval;
    private readonly int _startColumn, _secondsColumn;
    private DateTime? _start;
    private int _rows;
    private bool _isFirst = true;

    /// <summary>Starts a table.</summary>
    /// <param name="stream">Receives the bytes; stays open.</param>
    /// <param name="columns">The columns, named as the verb measure names them.</param>
    /// <param name="intervalSeconds">Length of a row; 0 when rows differ.</param>
    /// <param name="options">What the file says of itself; null for the defaults.</param>
    /// <exception cref="ArgumentException">There is no column start_s.</exception>
    public PqdifTableWriter(Stream stream, ImmutableArray<TableColumn> columns, double intervalSeconds, PqdifWriteOptions? options = null)
        : base(columns)
    {
        _secondsColumn = IndexOf(columns, new TableColumn("start_s", TableColumnKind.Number));
        if (_secondsColumn < 0) throw new ArgumentException("A table needs the column start_s to be written as a log.", nameof(columns));
        _startColumn = IndexOf(columns, new TableColumn("start", TableColumnKind.Time));
        PqdifLogSeries?[] series = [.. columns.Select((column, index) => index == _secondsColumn ? null : PqdifTableColumns.SeriesOf(column))];
        _layout = new PqdifLogLayout(series);
        _writer = new PqdifWriter(stream, options);
        _interval = intervalSeconds;
        var rows = _writer.RowsFor(series.Count(one => one is not null));
        _values = [.. series.Select(one => one is null ? null : new double[rows])];
        _seconds = new double[rows];
    }

    /// <inheritdoc/>
    public override ValueTask CompleteAsync()
    {
        WriteRows();
        _writer.Complete();
        return ValueTask.CompletedTask;
    }

    /// <inheritdoc/>
    protected override ValueTask WriteRowAsync()
    {
        var seconds = Numbers[_secondsColumn];
        if (_rows == 0) _start = _startColumn < 0 ? null : Times[_startColumn];
        if (_start is { } start && Times[_startColumn] is { } time) seconds = (time - start).Ticks / (double)TimeSpan.TicksPerSecond;
        _seconds[_rows] = seconds;
        for (var column = 0; column < _values.Length; column++)
        {
            // Single precision is what the table asks for; the rest of a double would be noise in the file.
            if (_values[column] is { } values) values[_rows] = Columns[column].Kind == TableColumnKind.Single ? (float)Numbers[column] : Numbers[column];
        }

        if (++_rows == _seconds.Length) WriteRows();
        return ValueTask.CompletedTask;
    }

    private static int IndexOf(ImmutableArray<TableColumn> columns, TableColumn wanted) => columns.IndexOf(wanted);

    private void WriteRows()
    {
        if (_isFirst)
        {
            _isFirst = false;
            _writer.Open(_start);
            _writer.AddSource(_layout, _interval > 0);
        }

        if (_rows == 0) return;
        var rows = _rows;
        _writer.AddObservation(_layout, _start, _seconds.AsSpan(0, rows), _interval, column => _values[column].AsMemory(0, rows));
        _rows = 0;
    }
}
