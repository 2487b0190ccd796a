using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Csv;

/// <summary>Reads one row of a table at a time.</summary>
internal sealed class CsvRowReader
{
    private readonly string _source;
    private readonly ImmutableArray<CsvHeading> _headings;
    private readonly char _separator, _decimalMark;

    public CsvRowReader(string source, CsvHead head)
    {
        (_source, _headings, _separator, _decimalMark) = (source, head.Headings, head.Separator, head.DecimalMark);
        TimeColumn = -1;
        for (var index = _headings.Length - 1; index >= 0; index--)
        {
            if (_headings[index].IsTime) TimeColumn = index;
        }
    }

    /// <summary>Index of the time column; −1 when there is none.</summary>
    public int TimeColumn { get; }

    /// <summary>The date and time of the first row, when the time column holds dates; else null.</summary>
    public DateTime? FirstDate { get; set; }

    /// <summary>Reads a row of plain numbers straight from its bytes.</summary>
    /// <param name="row">The row.</param>
    /// <param name="values">Receives a value a column, NaN for an empty cell; the time's is left alone.</param>
    /// <returns>False when the row must be read as text: it holds something else than plain numbers.</returns>
    public bool TryRead(ReadOnlySpan<byte> row, Span<double> values)
    {
        if (_separator > 127 || row.Contains((byte)'"')) return false;
        for (var column = 0; column < _headings.Length; column++)
        {
            if (!TryCut(ref row, column == _headings.Length - 1, out var cell)) return false;
            if (column == TimeColumn) continue;
            if (cell.IsEmpty) values[column] = double.NaN;
            else if (!TryNumber(cell, out values[column])) return false;
        }

        return row.IsEmpty;
    }

    /// <summary>Reads the time of a row straight from its bytes.</summary>
    /// <returns>False when the row must be read as text.</returns>
    public bool TryReadTime(ReadOnlySpan<byte> row, out double time)
    {
        time = 0;
        if (_separator > 127 || FirstDate is not null || row.Contains((byte)'"')) return false;
        var cell = row;
        for (var column = 0; column <= TimeColumn; column++)
        {
            if (!TryCut(ref row, column == _headings.Length - 1, out cell)) return false;
        }

        return TryNumber(cell, out time);
    }

    /// <summary>Reads a row.</summary>
    /// <param name="line">The row.</param>
    /// <param name="isFirst">True for the first of the table.</param>
    /// <param name="values">Receives a value a column: times in the unit of the column or in seconds after <see cref="FirstDate"/>.</param>
    /// <exception cref="FormatReadException">A cell can't be used, or there are too few or too many.</exception>
    public void Read(SourceLine line, bool isFirst, Span<double> values)
    {
        var cells = CsvRow.Split(line.Text, _separator);
        if (cells.Length < _headings.Length || cells.AsSpan(_headings.Length).ContainsAnyExcept("", " "))
            throw WrongColumnCount(line, cells.Length);
        for (var column = 0; column < _headings.Length; column++) values[column] = ReadCell(cells, column, line, isFirst);
    }

    private bool TryCut(scoped ref ReadOnlySpan<byte> row, bool isLast, out ReadOnlySpan<byte> cell)
    {
        var end = row.IndexOf((byte)_separator);
        cell = (end < 0 ? row : row[..end]).Trim(" \t"u8);
        row = end < 0 ? [] : row[(end + 1)..];
        if (isLast) row = row.Trim(" "u8);
        return end >= 0 || isLast;
    }

    private bool TryNumber(ReadOnlySpan<byte> cell, out double value)
    {
        var comma = _decimalMark == ',' ? cell.IndexOf((byte)',') : -1;
        if (comma < 0) return Number.TryParse(cell, out value) && (_decimalMark == '.' || !cell.Contains((byte)'.'));
        value = 0;
        Span<byte> copy = stackalloc byte[64];
        if (cell.Length > copy.Length || cell.Contains((byte)'.')) return false;
        cell.CopyTo(copy);
        copy[comma] = (byte)'.';
        return Number.TryParse(copy[..cell.Length], out value);
    }

    private double ReadCell(string[] cells, int column, SourceLine line, bool isFirst)
    {
        var cell = cells[column].Trim();
        if (column != TimeColumn && cell.ToUpperInvariant() is "" or "NAN" or "NA") return double.NaN;
        var text = _decimalMark == ',' && !cell.Contains('.', StringComparison.Ordinal) ? cell.Replace(',', '.') : cell;
        if ((_decimalMark == '.' || !cell.Contains('.', StringComparison.Ordinal)) && Number.TryParse(text, out var value)) return value;
        if (column == TimeColumn && TryDate(cell, out var date) && (FirstDate is not null || isFirst))
        {
            FirstDate ??= date;
            return (date - FirstDate.Value).TotalSeconds;
        }

        var offset = line.ByteOffset + cells.Take(column).Sum(before => before.Length + 1);
        throw new FormatReadException(
            _source, column == TimeColumn ? "a time" : "a number", Quoted.Of(cell), HintFor(cell),
            line.Number, column + 1, _headings[column].Name, offset);
    }

    private string HintFor(string cell)
    {
        if (_decimalMark == '.' && Number.TryParse(cell.Replace(',', '.'), out _))
            return "The decimal mark seems to be ','. Read it with --decimal-mark comma.";
        if (_decimalMark == ',' && Number.TryParse(cell, out _))
            return "The decimal mark seems to be '.'. Read it with --decimal-mark point.";
        return "Every cell must hold a number; leave a cell empty where a sample is missing.";
    }

    private static bool TryDate(string cell, out DateTime date)
    {
        date = default;
        return cell.Length >= 10 && cell[4] == '-'
            && DateTime.TryParse(cell, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out date);
    }

    private FormatReadException WrongColumnCount(SourceLine line, int found)
    {
        var hint = _separator == ',' && found > _headings.Length
            ? "The decimal mark may be ',': then the columns must be separated by semicolons or tabs. Export the file again so."
            : $"The columns are separated by {CsvHead.NameOf(_separator)}; leave a cell empty where a sample is missing.";
        return new FormatReadException(
            _source,
            string.Create(CultureInfo.InvariantCulture, $"{_headings.Length} columns as in the heading row"),
            string.Create(CultureInfo.InvariantCulture, $"{found}"), hint, line.Number, byteOffset: line.ByteOffset);
    }
}
