using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Signals;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Csv;

/// <summary>Reads a table of samples: one column per channel, one row per sample, a heading row with units.</summary>
/// <remarks>Remark lines before the heading may give what the columns do not: see <c>docs/formats/csv-samples.md</c>.</remarks>
/// <example><code>
/// time (s),V1 (V),I1 (A)
/// 0,325.1,14.2
/// 0.0001,324.9,14.1
/// </code></example>
public static class CsvSampleReader
{
    /// <summary>Reads a table.</summary>
    /// <param name="file">The file: UTF-8, or one byte a character.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <exception cref="FormatReadException">The file can't be used.</exception>
    public static CsvSampleRecording Read(InputFile file, CsvSampleOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(file);
        options ??= new();
        var warnings = new List<ReadWarning>();
        var lines = SourceText.Lines(file.Bytes.Span, file.Name);
        var preamble = new CsvPreamble();
        var first = 0;
        for (; first < lines.Count && (lines[first].IsBlank || lines[first].Text.TrimStart().StartsWith('#')); first++)
        {
            if (!lines[first].IsBlank) preamble.Read(lines[first], file.Name, warnings);
        }

        if (first == lines.Count)
            throw new FormatReadException(file.Name, "a heading row and rows of samples", "no row", "The file is empty: export it again.");

        var columns = options.Columns.IsDefaultOrEmpty ? preamble.Columns : options.Columns;
        var separator = options.Separator ?? CsvRow.SeparatorOf(lines[first].Text);
        var hasHeadingRow = columns.IsEmpty;
        var headings = HeadingsOf(hasHeadingRow ? [.. CsvRow.Split(lines[first].Text, separator)] : columns, lines[first], file.Name, separator);
        var body = lines[(hasHeadingRow ? first + 1 : first)..];
        body.RemoveAll(line => line.IsBlank);
        DropCutLastRow(body, headings.Length, separator, file.Bytes.Span, warnings);
        var decimalMark = options.DecimalMark ?? DecimalMarkOf(body, separator);
        var table = new CsvSampleTable(file.Name, headings, separator, decimalMark);
        table.Read(body, warnings);
        if (table.RowCount == 0)
        {
            throw new FormatReadException(
                file.Name, "rows of samples below the headings", "no row", "The file is cut short: export it again.",
                lines[^1].Number, byteOffset: lines[^1].ByteOffset);
        }

        var timeline = CsvTimeline.Of(table, preamble, options, warnings);
        var recording = new SampledRecording(
            table.Channels(warnings), timeline.Segments, preamble.LineFrequencyHertz, timeline.Start);
        return new CsvSampleRecording(recording, separator, decimalMark, [.. warnings]);
    }

    private static ImmutableArray<CsvHeading> HeadingsOf(
        ImmutableArray<string> texts, SourceLine line, string source, char separator)
    {
        // A last separator at the end of the line opens no column.
        if (texts.Length > 1 && texts[^1].Length == 0) texts = texts[..^1];
        if (texts.Any(text => text.Length == 0 || Number.TryParse(text.Replace(',', '.'), out _)))
        {
            throw new FormatReadException(
                source, "a heading row with a name and unit for each column, such as 'time (s),V1 (V),I1 (A)'",
                Quoted.Of(line.Text),
                "Add a heading row, or a first line such as '# columns: V1 (V), I1 (A)', and '# rate_hz: 10240' where there is no time column.",
                line.Number, byteOffset: line.ByteOffset);
        }

        var headings = texts.Select(CsvHeading.Parse).ToImmutableArray();
        if (headings.All(heading => heading.IsTime))
        {
            throw new FormatReadException(
                source, "at least one column of samples", Quoted.Of(line.Text),
                $"The columns are taken to be separated by {NameOf(separator)}; the file may use another separator.",
                line.Number, byteOffset: line.ByteOffset);
        }

        var twice = headings.Where(heading => heading.Name.Length > 0)
            .GroupBy(heading => heading.Name, StringComparer.OrdinalIgnoreCase)
            .FirstOrDefault(group => group.Count() > 1);
        if (twice is not null)
        {
            throw new FormatReadException(
                source, "a different name for each column", $"{Quoted.Of(twice.Key)} {twice.Count()} times",
                "Give each column a name of its own: which of them is meant can't be known.",
                line.Number, byteOffset: line.ByteOffset);
        }

        return headings;
    }

    private static void DropCutLastRow(
        List<SourceLine> body, int columns, char separator, ReadOnlySpan<byte> bytes, List<ReadWarning> warnings)
    {
        var end = SourceText.LengthWithoutPadding(bytes);
        if (body.Count < 2 || bytes[end - 1] is (byte)'\n' or (byte)'\r') return;
        if (CsvRow.Split(body[^1].Text, separator) is { } cells && cells.Length >= columns && cells[columns - 1].Length > 0) return;
        warnings.Add(new ReadWarning("The last row is cut short and is left out.", body[^1].Number, body[^1].ByteOffset));
        body.RemoveAt(body.Count - 1);
    }

    // The comma is the decimal mark when it is no separator and the first row that has either mark has commas only.
    private static char DecimalMarkOf(List<SourceLine> body, char separator)
    {
        if (separator == ',') return '.';
        foreach (var line in body.Take(50))
        {
            if (line.Text.Contains('.', StringComparison.Ordinal)) return '.';
            if (line.Text.Contains(',', StringComparison.Ordinal)) return ',';
        }

        return '.';
    }

    internal static string NameOf(char separator) => separator switch
    {
        '\t' => "tabs",
        ';' => "semicolons",
        ',' => "commas",
        _ => string.Create(CultureInfo.InvariantCulture, $"'{separator}'"),
    };
}
