using Leadwright.Formats.Text;
using Parquet;
using Parquet.Schema;

namespace Leadwright.Formats.Logs.Rows;

/// <summary>The rows of a Parquet file: first a row of the columns' names, then a row group at a time.</summary>
internal sealed class ParquetRows : TableRows
{
    private const int MostRowsInAGroup = 5_000_000;

    // Packed tables shrink far, but a few bytes that claim millions of cells are made to fill the memory.
    private const long FreeCells = 4_000_000;
    private const long MostCellsPerByte = 1000;

    private readonly string _source;
    private readonly ParquetReader _reader;
    private readonly Stream _stream;
    private readonly long _length;
    private readonly DataField[] _fields;
    private readonly Array?[] _columns;
    private int _group = -1;
    private int _at;
    private int _rows;
    private bool _hasNames;

    private ParquetRows(string source, ParquetReader reader, Stream stream)
    {
        (_source, _reader, _stream, _length) = (source, reader, stream, stream.Length);
        _fields = reader.Schema.GetDataFields();
        _columns = new Array?[_fields.Length];
        if (_fields.Length > MostCells) throw new FormatReadException(source, $"at most {MostCells} columns", $"{_fields.Length}");
    }

    /// <inheritdoc/>
    public override double Progress => _reader.RowGroupCount == 0 ? 1 : Math.Max(_group, 0) / (double)_reader.RowGroupCount;

    /// <summary>Starts at the top. Waits for the reading, which is at hand at once from memory and files.</summary>
    /// <param name="source">Display name.</param>
    /// <param name="stream">The file; stays open.</param>
    public static ParquetRows Start(string source, Stream stream)
    {
        if (!ParquetFooter.IsSound(stream))
        {
            throw new FormatReadException(
                source, "a whole Parquet file", "one that is cut short or damaged: its list of columns does not end", "Copy the file again from where it was written.");
        }

        stream.Position = 0;
        return new ParquetRows(source, Wait(ParquetReader.CreateAsync(stream, null, leaveStreamOpen: true)), stream);
    }

    /// <inheritdoc/>
    public override bool Read()
    {
        Count = _fields.Length;
        Line++;
        if (!_hasNames)
        {
            _hasNames = true;
            return true;
        }

        while (++_at >= _rows)
        {
            if (_group + 1 >= _reader.RowGroupCount) return false;
            Wait(ReadGroup(++_group));
            _at = -1;
        }

        return true;
    }

    /// <inheritdoc/>
    public override CellKind KindOf(int cell)
    {
        if (_group < 0) return CellKind.Text;
        return _columns[cell] switch
        {
            double[] numbers => double.IsNaN(numbers[_at]) ? CellKind.Empty : CellKind.Number,
            DateTime[] dates => dates[_at] == DateTime.MaxValue ? CellKind.Empty : CellKind.Date,
            string?[] texts => string.IsNullOrWhiteSpace(texts[_at]) ? CellKind.Empty : CellKind.Text,
            _ => CellKind.Empty,
        };
    }

    /// <inheritdoc/>
    public override ReadOnlySpan<char> TextOf(int cell)
    {
        if (_group < 0) return _fields[cell].Name;
        return KindOf(cell) switch
        {
            CellKind.Number => Invariant(NumberOf(cell)),
            CellKind.Date => Invariant(DateOf(cell)),
            CellKind.Text => ((string?[])_columns[cell]!)[_at].AsSpan().Trim(),
            _ => [],
        };
    }

    /// <inheritdoc/>
    public override double NumberOf(int cell) => _group >= 0 && _columns[cell] is double[] numbers ? numbers[_at] : double.NaN;

    /// <inheritdoc/>
    public override DateTime DateOf(int cell) => _group >= 0 && _columns[cell] is DateTime[] dates ? dates[_at] : default;

    /// <inheritdoc/>
    protected override void Dispose(bool isDisposing)
    {
        if (isDisposing) Wait(_reader.DisposeAsync());
        base.Dispose(isDisposing);
    }

    private static T Wait<T>(Task<T> task) => task.ConfigureAwait(false).GetAwaiter().GetResult();

    private static void Wait(ValueTask task) => task.AsTask().ConfigureAwait(false).GetAwaiter().GetResult();

    private async ValueTask ReadGroup(int group)
    {
        using var rows = _reader.OpenRowGroupReader(group);
        if (rows.RowCount is < 0 or > MostRowsInAGroup)
        {
            throw new FormatReadException(
                _source, $"row groups of at most {MostRowsInAGroup} rows", $"one of {rows.RowCount}", "Write the table in smaller row groups.");
        }

        if (rows.RowCount * _fields.Length > FreeCells + (MostCellsPerByte * _length))
        {
            throw new FormatReadException(
                _source, "row groups that the file has room for", $"one of {rows.RowCount} rows and {_fields.Length} columns in {_length} bytes", "The file is damaged, or made to fill the memory: write the table again.");
        }

        _rows = (int)rows.RowCount;
        for (var column = 0; column < _fields.Length; column++)
        {
            try
            {
                _columns[column] = await ReadColumn(rows, _fields[column]).ConfigureAwait(false);
            }
            catch (NotSupportedException failure)
            {
                // Of the packings that the format knows the library lacks some for some kinds of value.
                throw new FormatReadException(
                    _source, $"column {Quoted.Of(_fields[column].Name)} packed in a way that is read here", "one of the newer packings", "Write the table as Parquet version 1, or as text.", innerException: failure);
            }
        }
    }

    private async ValueTask<Array> ReadColumn(ParquetRowGroupReader rows, DataField field)
    {
        var type = field.ClrType;
        if (field.IsArray || field.MaxRepetitionLevel > 0) return Unread("a list");
        if (!ParquetPages.AreSound(_stream, rows, field))
        {
            throw new FormatReadException(
                _source, $"pages of column {Quoted.Of(field.Name)} that lie in the file", "ones that do not, or that claim more than they can hold", "The file is damaged: copy it again from where it was written.");
        }

        if (type == typeof(double)) return await Numbers<double>(rows, field, value => value).ConfigureAwait(false);
        if (type == typeof(float)) return await Numbers<float>(rows, field, Widened).ConfigureAwait(false);
        if (type == typeof(int)) return await Numbers<int>(rows, field, value => value).ConfigureAwait(false);
        if (type == typeof(long)) return await Numbers<long>(rows, field, value => value).ConfigureAwait(false);
        if (type == typeof(uint)) return await Numbers<uint>(rows, field, value => value).ConfigureAwait(false);
        if (type == typeof(ulong)) return await Numbers<ulong>(rows, field, value => value).ConfigureAwait(false);
        if (type == typeof(short)) return await Numbers<short>(rows, field, value => value).ConfigureAwait(false);
        if (type == typeof(ushort)) return await Numbers<ushort>(rows, field, value => value).ConfigureAwait(false);
        if (type == typeof(byte)) return await Numbers<byte>(rows, field, value => value).ConfigureAwait(false);
        if (type == typeof(sbyte)) return await Numbers<sbyte>(rows, field, value => value).ConfigureAwait(false);
        if (type == typeof(decimal)) return await Numbers<decimal>(rows, field, value => (double)value).ConfigureAwait(false);
        if (type == typeof(bool)) return await Numbers<bool>(rows, field, value => value ? 1 : 0).ConfigureAwait(false);
        if (type == typeof(DateTime)) return await Dates<DateTime>(rows, field, value => value).ConfigureAwait(false);
        if (type == typeof(DateOnly)) return await Dates<DateOnly>(rows, field, value => value.ToDateTime(default)).ConfigureAwait(false);
        if (type == typeof(TimeSpan)) return await Dates<TimeSpan>(rows, field, value => new DateTime(Math.Clamp(value.Ticks, 0, TimeSpan.TicksPerDay))).ConfigureAwait(false);
        if (type == typeof(TimeOnly)) return await Dates<TimeOnly>(rows, field, value => new DateTime(value.Ticks)).ConfigureAwait(false);
        if (type != typeof(string) && type != typeof(ReadOnlyMemory<char>)) return Unread($"of type {type.Name}");
        var texts = new string?[_rows];
        await rows.ReadAsync(field, texts.AsMemory()!).ConfigureAwait(false);
        return texts;
    }

    // Its column is told with the words that a log has no use for.
    private string[] Unread(string what)
    {
        var texts = new string[_rows];
        Array.Fill(texts, $"({what})");
        return texts;
    }

    // A single is written with seven digits and means what they say, not what a double makes of it.
    private static double Widened(float value) =>
        float.IsFinite(value) ? double.Parse(value.ToString("R", System.Globalization.CultureInfo.InvariantCulture), System.Globalization.CultureInfo.InvariantCulture) : double.NaN;

    private async ValueTask<double[]> Numbers<T>(ParquetRowGroupReader rows, DataField field, Func<T, double> convert)
        where T : struct
    {
        var numbers = new double[_rows];
        if (field.IsNullable)
        {
            var values = new T?[_rows];
            await rows.ReadAsync<T>(field, values.AsMemory()).ConfigureAwait(false);
            for (var row = 0; row < _rows; row++) numbers[row] = values[row] is { } value ? convert(value) : double.NaN;
        }
        else
        {
            var values = new T[_rows];
            await rows.ReadAsync<T>(field, values.AsMemory()).ConfigureAwait(false);
            for (var row = 0; row < _rows; row++) numbers[row] = convert(values[row]);
        }

        return numbers;
    }

    // The greatest date stands for none.
    private async ValueTask<DateTime[]> Dates<T>(ParquetRowGroupReader rows, DataField field, Func<T, DateTime> convert)
        where T : struct
    {
        var dates = new DateTime[_rows];
        if (field.IsNullable)
        {
            var values = new T?[_rows];
            await rows.ReadAsync<T>(field, values.AsMemory()).ConfigureAwait(false);
            for (var row = 0; row < _rows; row++) dates[row] = values[row] is { } value ? convert(value) : DateTime.MaxValue;
        }
        else
        {
            var values = new T[_rows];
            await rows.ReadAsync<T>(field, values.AsMemory()).ConfigureAwait(false);
            for (var row = 0; row < _rows; row++) dates[row] = convert(values[row]);
        }

        return dates;
    }
}
