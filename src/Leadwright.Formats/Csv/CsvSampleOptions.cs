using System.Collections.Immutable;

namespace Leadwright.Formats.Csv;

/// <summary>How a table of samples is read. What is null is found out from the file.</summary>
public sealed record CsvSampleOptions
{
    /// <summary>Samples per second, for a file without a time column; wins over a <c># rate_hz:</c> line.</summary>
    public double? RateHertz { get; init; }

    /// <summary>The separator: comma, semicolon or tab.</summary>
    public char? Separator { get; init; }

    /// <summary>The decimal mark: point or comma.</summary>
    public char? DecimalMark { get; init; }

    /// <summary>How the letters of headings are written, for a text that does not say. Null to find it out.</summary>
    public System.Text.Encoding? Encoding { get; init; }

    /// <summary>Column headings with unit, such as <c>V1 (V)</c>, for a file without a heading row; wins over a
    /// <c># columns:</c> line. Empty to read the heading row of the file.</summary>
    public ImmutableArray<string> Columns { get; init; } = [];

    /// <summary>The lowest rate that is taken for a waveform, samples per second. Default 120, twice a line frequency of
    /// 60 hertz: anything slower is a log of intervals and no recording of samples.</summary>
    public double LeastRateHertz { get; init; } = 120;
}
