using System.Globalization;
using System.Text;
using ExcelDataReader;

namespace Leadwright.Formats.Logs.Rows;

/// <summary>The rows of a worksheet (Office Open XML, and the binary workbooks before it), streamed.</summary>
internal sealed class SheetRows : TableRows
{
    // The library hands over every row up to the number that the next one states, be it two thousand million.
    private const int MostEmptyRows = 20_000;

    // ECMA-376 part 1, 18.3.1.4: the last column is XFD. The library makes room for as many as the name of one cell claims.
    private const int MostColumns = 16_384;

    private readonly string _source;
    private readonly IExcelDataReader _reader;
    private readonly string[] _texts = new string[MostCells];
    private readonly CellKind[] _kinds = new CellKind[MostCells];
    private readonly double[] _numbers = new double[MostCells];
    private readonly DateTime[] _dates = new DateTime[MostCells];
    private int _row;
    private int _emptyRows;

    private SheetRows(string source, IExcelDataReader reader) => (_source, _reader) = (source, reader);

    /// <summary>Names of the worksheets.</summary>
    public static List<string> SheetsOf(Stream stream)
    {
        using var reader = Open(stream);
        var names = new List<string>();
        do names.Add(reader.Name ?? "");
        while (reader.NextResult() && names.Count < 1000);
        return names;
    }

    /// <summary>Starts at the top of a worksheet.</summary>
    /// <param name="source">Display name.</param>
    /// <param name="stream">The workbook; stays open.</param>
    /// <param name="sheet">Index of the worksheet.</param>
    public static SheetRows Start(string source, Stream stream, int sheet)
    {
        var reader = Open(stream);
        for (var index = 0; index < sheet; index++) reader.NextResult();
        if (reader.FieldCount <= MostColumns) return new SheetRows(source, reader);
        using (reader)
        {
            throw new FormatReadException(
                source, string.Create(CultureInfo.InvariantCulture, $"worksheets of at most {MostColumns} columns"), string.Create(CultureInfo.InvariantCulture, $"a cell in column {reader.FieldCount}"),
                "The workbook is damaged: export the log again.");
        }
    }

    /// <inheritdoc/>
    public override double Progress => _reader.RowCount > 0 ? Math.Min((double)_row / _reader.RowCount, 1) : 0;

    /// <inheritdoc/>
    public override bool Read()
    {
        if (!_reader.Read()) return false;
        Line = ++_row;
        Count = Math.Min(_reader.FieldCount, MostCells);
        for (var cell = 0; cell < Count; cell++) Take(cell, _reader.GetValue(cell));
        while (Count > 0 && _kinds[Count - 1] == CellKind.Empty) Count--;
        _emptyRows = Count == 0 ? _emptyRows + 1 : 0;
        if (_emptyRows > MostEmptyRows)
        {
            throw new FormatReadException(
                _source, "rows that follow each other", string.Create(CultureInfo.InvariantCulture, $"more than {MostEmptyRows} empty rows"),
                "Export the log again, or delete what stands below its last row.", _row - MostEmptyRows);
        }

        return true;
    }

    /// <inheritdoc/>
    public override CellKind KindOf(int cell) => cell < Count ? _kinds[cell] : CellKind.Empty;

    /// <inheritdoc/>
    public override ReadOnlySpan<char> TextOf(int cell) => KindOf(cell) switch
    {
        CellKind.Empty => [],
        CellKind.Number => Invariant(_numbers[cell]),
        CellKind.Date => Invariant(_dates[cell]),
        _ => _texts[cell].AsSpan().Trim(),
    };

    /// <inheritdoc/>
    public override double NumberOf(int cell) => KindOf(cell) == CellKind.Number ? _numbers[cell] : double.NaN;

    /// <inheritdoc/>
    public override DateTime DateOf(int cell) => KindOf(cell) == CellKind.Date ? _dates[cell] : default;

    /// <inheritdoc/>
    protected override void Dispose(bool isDisposing)
    {
        if (isDisposing) _reader.Dispose();
        base.Dispose(isDisposing);
    }

    private static IExcelDataReader Open(Stream stream)
    {
        // The reader asks for code page 1252 even where a workbook needs none.
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        stream.Position = 0;
        return ExcelReaderFactory.CreateReader(stream, new ExcelReaderConfiguration { LeaveOpen = true });
    }

    private void Take(int cell, object? value)
    {
        _kinds[cell] = CellKind.Number;
        switch (value)
        {
            case null: _kinds[cell] = CellKind.Empty; break;
            case double number: _numbers[cell] = number; break;
            case int number: _numbers[cell] = number; break;
            case bool flag: _numbers[cell] = flag ? 1 : 0; break;
            case DateTime date: (_kinds[cell], _dates[cell]) = (CellKind.Date, RoundedToMilliseconds(date)); break;
            case TimeSpan time when time >= TimeSpan.Zero && time <= TimeSpan.FromDays(1):
                (_kinds[cell], _dates[cell]) = (CellKind.Date, RoundedToMilliseconds(DateTime.MinValue + time));
                break;
            default:
                _texts[cell] = Convert.ToString(value, CultureInfo.InvariantCulture) ?? "";
                _kinds[cell] = string.IsNullOrWhiteSpace(_texts[cell]) ? CellKind.Empty : CellKind.Text;
                break;
        }
    }

    // Dates are fractions of days there: a quarter of an hour comes out a few microseconds off.
    private static DateTime RoundedToMilliseconds(DateTime date)
    {
        var ticks = (date.Ticks + (TimeSpan.TicksPerMillisecond / 2)) / TimeSpan.TicksPerMillisecond * TimeSpan.TicksPerMillisecond;
        return new DateTime(Math.Min(ticks, DateTime.MaxValue.Ticks));
    }
}
