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
        var lines = SourceText.Lines(file.Bytes.Span, file.Name, stated: options.Encoding, warnings: warnings);
        var head = CsvHead.Of(lines, file.Name, options, warnings);
        lines.RemoveAll(line => line.Number < head.FirstLine || line.IsBlank);
        DropCutLastRow(lines, head, file.Bytes.Span, warnings);
        var table = new CsvSampleTable(file.Name, head);
        table.Read(lines, warnings);
        var timeline = CsvTimeline.Of(table, head.Preamble, options, warnings);
        var recording = new SampledRecording(
            table.Channels(warnings), timeline.Segments, head.Preamble.LineFrequencyHertz, timeline.Start);
        return new CsvSampleRecording(recording, head.Separator, head.DecimalMark, [.. warnings]);
    }

    internal static ReadWarning CutShort(SourceLine line) => new("The last row is cut short and is left out.", line.Number, line.ByteOffset);

    internal static bool IsCutShort(string row, int columns, char separator) =>
        CsvRow.Split(row, separator) is var cells && (cells.Length < columns || cells[columns - 1].Length == 0);

    private static void DropCutLastRow(List<SourceLine> body, CsvHead head, ReadOnlySpan<byte> bytes, List<ReadWarning> warnings)
    {
        var end = SourceText.LengthWithoutPadding(bytes);
        if (body.Count < 2 || bytes[end - 1] is (byte)'\n' or (byte)'\r') return;
        if (!IsCutShort(body[^1].Text, head.Headings.Length, head.Separator)) return;
        warnings.Add(CutShort(body[^1]));
        body.RemoveAt(body.Count - 1);
    }
}
