using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Csv;

/// <summary>The lines that begin with <c>#</c> before the heading row.</summary>
internal sealed class CsvPreamble
{
    /// <summary><c># rate_hz: 10240</c>: samples per second.</summary>
    public double? RateHertz { get; private set; }

    /// <summary><c># line_frequency_hz: 50</c>.</summary>
    public double? LineFrequencyHertz { get; private set; }

    /// <summary><c># start: 2026-03-02T10:00:00</c>: time of the first sample.</summary>
    public DateTime? Start { get; private set; }

    /// <summary><c># columns: V1 (V), V2 (V)</c>: headings of a file without a heading row; empty when not given.</summary>
    public ImmutableArray<string> Columns { get; private set; } = [];

    /// <summary>Reads one line. A line without a colon is a remark; a key that is not known is reported.</summary>
    public void Read(SourceLine line, string source, List<ReadWarning> warnings)
    {
        var text = line.Text.TrimStart().TrimStart('#');
        var colon = text.IndexOf(':', StringComparison.Ordinal);
        if (colon < 0) return;
        var key = text[..colon].Trim();
        var value = text[(colon + 1)..].Trim();
        switch (key.ToLowerInvariant())
        {
            case "rate_hz": RateHertz = Positive(line, source, key, value); break;
            case "line_frequency_hz": LineFrequencyHertz = Positive(line, source, key, value); break;
            case "columns": Columns = [.. CsvRow.Split(value, CsvRow.SeparatorOf(value))]; break;
            case "start":
                if (!DateTime.TryParse(value, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out var start))
                    throw Bad(line, source, key, value, "a date and time such as 2026-03-02T10:00:00");
                Start = DateTime.SpecifyKind(start, DateTimeKind.Unspecified);
                break;
            default:
                warnings.Add(new ReadWarning($"The line '# {key}: …' is not known and is left out.", line.Number, line.ByteOffset));
                break;
        }
    }

    private static double Positive(SourceLine line, string source, string key, string value) =>
        Number.TryParse(value, out var number) && number > 0 ? number : throw Bad(line, source, key, value, "a number above zero");

    private static FormatReadException Bad(SourceLine line, string source, string key, string value, string expected) =>
        new(source, expected, Quoted.Of(value), null, line.Number, null, key, line.ByteOffset);
}
