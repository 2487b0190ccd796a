using Leadwright.Formats.Text;

namespace Leadwright.Formats.Csv;

/// <summary>Goes through the rows of a table, blank lines and a last row that is cut short left out.</summary>
internal sealed class CsvRows(LineReader lines, CsvHead head, CsvRowReader reader)
{
    private readonly double[] _values = new double[head.Headings.Length];

    /// <summary>Rows taken so far.</summary>
    public long Count { get; set; }

    /// <summary>The last row that was left out because it was cut short; null when there was none.</summary>
    public SourceLine? CutShort { get; private set; }

    /// <summary>Takes the next row.</summary>
    /// <param name="row">Its bytes, until the next call.</param>
    /// <returns>False at the end.</returns>
    public bool Next(out ReadOnlySpan<byte> row)
    {
        while (lines.Next(out row))
        {
            if (row.Trim(" \t"u8).IsEmpty) continue;
            if (lines.IsOpen && Count > 0 && CsvSampleReader.IsCutShort(lines.Text(row).Text, head.Headings.Length, head.Separator))
            {
                CutShort = lines.Text(row);
                return false;
            }

            Count++;
            return true;
        }

        return false;
    }

    /// <summary>The values of the row taken last, read as text.</summary>
    /// <param name="row">The row.</param>
    /// <exception cref="FormatReadException">A cell can't be used.</exception>
    public ReadOnlySpan<double> ReadAsText(ReadOnlySpan<byte> row)
    {
        reader.Read(lines.Text(row), Count == 1, _values);
        return _values;
    }

    /// <summary>The values of the row taken last, by the shortest way; the time's may be left out.</summary>
    /// <param name="row">The row.</param>
    /// <exception cref="FormatReadException">A cell can't be used.</exception>
    public ReadOnlySpan<double> Read(ReadOnlySpan<byte> row) => reader.TryRead(row, _values) ? _values : ReadAsText(row);
}
