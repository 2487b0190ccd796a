using System.Collections.Immutable;

namespace Leadwright.Formats.Comtrade;

/// <summary>What a .cfg file states.</summary>
public sealed record ComtradeConfiguration
{
    /// <summary>Name of the station.</summary>
    public required string StationName { get; init; }

    /// <summary>Name of the recorder.</summary>
    public required string DeviceId { get; init; }

    /// <summary>The revision year as written; empty when there is none.</summary>
    public required string RevisionText { get; init; }

    /// <summary>The revision whose layout the lines have: by their field counts first, then by the year.</summary>
    public required ComtradeRevision Revision { get; init; }

    /// <summary>The analog channels in order.</summary>
    public required ImmutableArray<ComtradeAnalogChannel> Analogs { get; init; }

    /// <summary>The status channels in order.</summary>
    public required ImmutableArray<ComtradeStatusChannel> Statuses { get; init; }

    /// <summary>Line frequency in hertz; null when it is not stated or 0.</summary>
    public double? LineFrequencyHertz { get; init; }

    /// <summary>The sampling rates in order; one of rate 0 when the time stamps of the data say when (nrates = 0).</summary>
    public required ImmutableArray<ComtradeRate> Rates { get; init; }

    /// <summary>Time of the first sample; null when it can't be read.</summary>
    public ComtradeTime? Start { get; init; }

    /// <summary>Time of the trigger; null when it can't be read.</summary>
    public ComtradeTime? Trigger { get; init; }

    /// <summary>How the samples are written.</summary>
    public required ComtradeDataType DataType { get; init; }

    /// <summary>What the time stamps of the data are multiplied by; above zero.</summary>
    public double TimeMultiplier { get; init; } = 1;

    /// <summary>Difference to UTC of the file's times, such as <c>-5h30</c>; empty when not stated.</summary>
    public string TimeCode { get; init; } = "";

    /// <summary>Difference to UTC of the recorder's place; empty when not stated.</summary>
    public string LocalCode { get; init; } = "";

    /// <summary>Quality of the clock, one hexadecimal digit: 0 locked, F failed; empty when not stated.</summary>
    public string TimeQualityCode { get; init; } = "";

    /// <summary>0 no leap second in the record, 1 added, 2 taken out, 3 not known; empty when not stated.</summary>
    public string LeapSecond { get; init; } = "";

    /// <summary>Number of samples that the rates state; 0 when they state none.</summary>
    public int StatedSampleCount => Rates.IsDefaultOrEmpty ? 0 : Rates[^1].LastSampleNumber;

    /// <summary>Length in bytes of one record of binary data; 0 for text.</summary>
    public int RecordLength => RecordLengthAs(DataType);

    internal int RecordLengthAs(ComtradeDataType type) => type switch
    {
        ComtradeDataType.Ascii => 0,
        ComtradeDataType.Binary => 8 + (2 * Analogs.Length) + (2 * StatusWordCount),
        _ => 8 + (4 * Analogs.Length) + (2 * StatusWordCount),
    };

    internal int StatusWordCount => (Statuses.Length + 15) / 16;
}
