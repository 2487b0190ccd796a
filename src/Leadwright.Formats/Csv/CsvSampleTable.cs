using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Signals;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Csv;

/// <summary>The numbers of a table, by column.</summary>
internal sealed class CsvSampleTable(string source, ImmutableArray<CsvHeading> headings, char separator, char decimalMark)
{
    private readonly int _timeColumn = IndexOfTime(headings);
    private double[][] _columns = [];
    private SourceLine[] _lines = [];

    /// <summary>Display name of the source.</summary>
    public string Source => source;

    /// <summary>Number of rows read.</summary>
    public int RowCount { get; private set; }

    /// <summary>The heading of the time column; null when there is none.</summary>
    public CsvHeading? TimeHeading => _timeColumn < 0 ? null : headings[_timeColumn];

    /// <summary>Number of the time column, from 1; 0 when there is none.</summary>
    public int TimeColumnNumber => _timeColumn + 1;

    /// <summary>The times: in the unit of the column, or in seconds after <see cref="FirstDate"/>.</summary>
    public ReadOnlySpan<double> Times => _columns[_timeColumn].AsSpan(0, RowCount);

    /// <summary>The date and time of the first row, when the time column holds dates; else null.</summary>
    public DateTime? FirstDate { get; private set; }

    /// <summary>The line of a row.</summary>
    public SourceLine LineOf(int row) => _lines[row];

    /// <summary>Reads the rows.</summary>
    public void Read(List<SourceLine> body, List<ReadWarning> warnings)
    {
        _columns = [.. headings.Select(_ => new double[body.Count])];
        _lines = [.. body];
        var needed = headings.Length;
        foreach (var line in body)
        {
            var cells = CsvRow.Split(line.Text, separator);
            if (cells.Length < needed || cells.AsSpan(needed).ContainsAnyExcept("", " "))
                throw WrongColumnCount(line, cells.Length);
            for (var column = 0; column < needed; column++)
                _columns[column][RowCount] = ReadCell(cells, column, line);
            RowCount++;
        }

        foreach (var (column, heading) in headings.Index())
        {
            if (column == _timeColumn) continue;
            var missing = _columns[column].Count(double.IsNaN);
            if (missing > 0)
            {
                warnings.Add(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                    $"Column '{heading.Name}': {missing} of {RowCount} samples are missing.")));
            }
        }
    }

    /// <summary>The channels in base units.</summary>
    public ImmutableArray<SampledChannel> Channels(List<ReadWarning> warnings)
    {
        var channels = ImmutableArray.CreateBuilder<SampledChannel>();
        for (var column = 0; column < headings.Length; column++)
        {
            if (column == _timeColumn) continue;
            var unit = UnitText.Parse(headings[column].Unit);
            var values = _columns[column];
            if (unit.Factor != 1)
            {
                foreach (ref var value in values.AsSpan()) value *= unit.Factor;
            }

            if (headings[column].Unit.Length == 0)
            {
                warnings.Add(new ReadWarning(
                    $"Column '{headings[column].Name}' states no unit; its numbers are taken as they are. Write the unit in the heading, as in '{headings[column].Name} (V)'."));
            }

            channels.Add(new SampledChannel(headings[column].Name, "", headings[column].Unit, values.AsMemory(0, RowCount)));
        }

        return channels.ToImmutable();
    }

    private double ReadCell(string[] cells, int column, SourceLine line)
    {
        var cell = cells[column].Trim();
        if (column != _timeColumn && cell.ToUpperInvariant() is "" or "NAN" or "NA") return double.NaN;
        var text = decimalMark == ',' && !cell.Contains('.', StringComparison.Ordinal) ? cell.Replace(',', '.') : cell;
        if ((decimalMark == '.' || !cell.Contains('.', StringComparison.Ordinal)) && Number.TryParse(text, out var value)) return value;
        if (column == _timeColumn && TryDate(cell, out var date) && (FirstDate is not null || RowCount == 0))
        {
            FirstDate ??= date;
            return (date - FirstDate.Value).TotalSeconds;
        }

        var offset = line.ByteOffset + cells.Take(column).Sum(before => before.Length + 1);
        throw new FormatReadException(
            source, column == _timeColumn ? "a time" : "a number", Quoted.Of(cell), HintFor(cell),
            line.Number, column + 1, headings[column].Name, offset);
    }

    private string HintFor(string cell)
    {
        if (decimalMark == '.' && Number.TryParse(cell.Replace(',', '.'), out _))
            return "The decimal mark seems to be ','. Read it with --decimal-mark comma.";
        if (decimalMark == ',' && Number.TryParse(cell, out _))
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
        var hint = separator == ',' && found > headings.Length
            ? "The decimal mark may be ',': then the columns must be separated by semicolons or tabs. Export the file again so."
            : $"The columns are separated by {CsvSampleReader.NameOf(separator)}; leave a cell empty where a sample is missing.";
        return new FormatReadException(
            source,
            string.Create(CultureInfo.InvariantCulture, $"{headings.Length} columns as in the heading row"),
            string.Create(CultureInfo.InvariantCulture, $"{found}"), hint, line.Number, byteOffset: line.ByteOffset);
    }

    private static int IndexOfTime(ImmutableArray<CsvHeading> headings)
    {
        for (var index = 0; index < headings.Length; index++)
        {
            if (headings[index].IsTime) return index;
        }

        return -1;
    }
}
