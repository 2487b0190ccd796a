using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Matching;

namespace Leadwright.App.Verbs;

/// <summary>What the command line says about a panel and about how to read a recording of it; the verbs' requests build on it.</summary>
public record RecordingRequest
{
    /// <summary>The service; null to go by the file.</summary>
    public Service? Service { get; init; }

    /// <summary>Nominal voltage as on the nameplate; null when not given.</summary>
    public string? Nominal { get; init; }

    /// <summary>Nominal frequency in hertz; null when not given.</summary>
    public double? FrequencyHertz { get; init; }

    /// <summary>Which channel of a recording is which, as typed; null to go by names and units.</summary>
    public string? Channels { get; init; }

    /// <summary>Which side of the instrument transformers the values are wanted for.</summary>
    public Scaling Scaling { get; init; }

    /// <summary>Samples per second of a table without a time column; null when not given.</summary>
    public double? RateHertz { get; init; }

    /// <summary>Decimal mark of a table; null to find it out.</summary>
    public char? DecimalMark { get; init; }

    /// <summary>Headings of a table that has none, as typed: <c>V1 (V),I1 (A)</c>; null when not given.</summary>
    public string? Columns { get; init; }

    /// <summary>Name of the recording that is wanted of a survey; null for all.</summary>
    public string? Recording { get; init; }

    /// <summary>How a person confirmed that tables are to be read. Default none.</summary>
    public ImmutableArray<ColumnProfile> Profiles { get; init; } = [];

    /// <summary>How to read COMTRADE.</summary>
    public ComtradeReadOptions ToComtradeOptions() => new()
    {
        Scaling = Scaling switch
        {
            Scaling.Primary => ComtradeScaling.Primary,
            Scaling.Secondary => ComtradeScaling.Secondary,
            _ => ComtradeScaling.AsRecorded,
        },
    };

    /// <summary>How to read a table of samples.</summary>
    public CsvSampleOptions ToCsvOptions() => new()
    {
        RateHertz = RateHertz,
        DecimalMark = DecimalMark,
        Columns = [.. (Columns ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)],
    };
}
