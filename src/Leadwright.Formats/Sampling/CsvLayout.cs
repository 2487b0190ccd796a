using System.Text;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Sampling;

/// <summary>What must be known of a table of samples before it can be read block by block: its head, and when its rows were taken.</summary>
/// <remarks>Where there is a time column, the file is gone through once for it: the rate is that of the whole column.</remarks>
public sealed class CsvLayout
{
    private const int HeadBytes = 1 << 16;

    private CsvLayout(string name, CsvHead head, CsvTimeline timeline, DateTime? firstDate, List<ReadWarning> warnings) =>
        (Name, Head, Timeline, FirstDate, Warnings) = (name, head, timeline, firstDate, warnings);

    /// <summary>Display name.</summary>
    public string Name { get; }

    internal CsvHead Head { get; }

    internal CsvTimeline Timeline { get; }

    internal DateTime? FirstDate { get; }

    internal List<ReadWarning> Warnings { get; }

    /// <summary>Finds it out.</summary>
    /// <param name="name">Display name.</param>
    /// <param name="table">The table, at its start, with seeking; stays open.</param>
    /// <param name="options">How to read; null for the defaults.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <exception cref="FormatReadException">It is no table of samples.</exception>
    public static CsvLayout Of(string name, Stream table, CsvSampleOptions? options = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(table);
        options ??= new();
        var warnings = new List<ReadWarning>();
        var lines = new LineReader(table, name) { Encoding = EncodingOf(table, options, warnings) };
        var head = CsvHead.Of(LinesOf(lines), name, options, warnings);
        var reader = new CsvRowReader(name, head);
        if (reader.TimeColumn < 0)
            return new CsvLayout(name, head, CsvTimeline.ByRate(name, long.MaxValue, head.Preamble, options), null, warnings);
        var scan = new CsvTimeScan(name, head.Headings[reader.TimeColumn], reader.TimeColumn + 1, warnings);
        lines.Seek(head.FirstOffset, head.FirstLine);
        var rows = new CsvRows(lines, head, reader);
        while (rows.Next(out var row))
        {
            if ((rows.Count & 0xFFFF) == 0) cancellation.ThrowIfCancellationRequested();
            if (!reader.TryReadTime(row, out var time)) time = rows.ReadAsText(row)[reader.TimeColumn];
            scan.Add(time, lines.Line, lines.Offset);
        }

        var timeline = CsvTimeline.ByColumn(name, scan, reader.FirstDate, head.Preamble, options, warnings);
        return new CsvLayout(name, head, timeline, reader.FirstDate, warnings);
    }

    // By the top of the table, where its headings stand; null for UTF-8.
    private static Encoding? EncodingOf(Stream table, CsvSampleOptions options, List<ReadWarning> warnings)
    {
        var start = table.Position;
        var head = new byte[HeadBytes];
        var length = table.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        table.Position = start;
        var end = length < head.Length ? length : head.AsSpan().LastIndexOfAny((byte)'\n', (byte)'\r');
        var encoding = SourceText.EncodingOf(head.AsSpan(0, Math.Max(end, 0)), options.Encoding, warnings);
        return ReferenceEquals(encoding, Encoding.UTF8) ? null : encoding;
    }

    private static IEnumerable<SourceLine> LinesOf(LineReader lines)
    {
        while (Take(lines, out var line)) yield return line;
    }

    private static bool Take(LineReader lines, out SourceLine line)
    {
        line = default;
        if (!lines.Next(out var bytes)) return false;
        line = lines.Text(bytes);
        return true;
    }
}
