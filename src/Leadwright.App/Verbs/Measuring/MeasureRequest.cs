using Leadwright.Core.Circuits;
using Leadwright.Core.Measuring;
using Leadwright.Core.Signals.Events;
using Leadwright.Core.Signals.Flicker;
using Leadwright.Reports.Measuring;

namespace Leadwright.App.Verbs.Measuring;

/// <summary>What the command line asks of <c>measure</c>.</summary>
public sealed record MeasureRequest
{
    /// <summary>The service; null to go by the channels.</summary>
    public ServiceKind? Service { get; init; }

    /// <summary>Nominal voltage as on the nameplate; null when not given.</summary>
    public string? Nominal { get; init; }

    /// <summary>Nominal frequency; null when not given.</summary>
    public double? FrequencyHertz { get; init; }

    /// <summary>Which channel of a recording is which, as typed; null to go by names and units.</summary>
    public string? Channels { get; init; }

    /// <summary>Which side of the instrument transformers the values are wanted for.</summary>
    public Scaling Scaling { get; init; }

    /// <summary>Samples per second of a table without a time column; null when not given.</summary>
    public double? RateHertz { get; init; }

    /// <summary>Decimal mark of a table; null to find it out.</summary>
    public char? DecimalMark { get; init; }

    /// <summary>Headings of a table that has none, as typed; null when not given.</summary>
    public string? Columns { get; init; }

    /// <summary>Length of a row.</summary>
    public MeasuringInterval Interval { get; init; } = MeasuringInterval.TenMinutes;

    /// <summary>True for intervals by the clock, false for intervals from the recording's start.</summary>
    public bool IsByClock { get; init; } = true;

    /// <summary>The table to write; null for none.</summary>
    public string? Output { get; init; }

    /// <summary>How much of the spectra goes into the table.</summary>
    public SpectrumDetail Spectra { get; init; } = SpectrumDetail.Harmonics;

    /// <summary>The lamp; null to go by the nominal voltage.</summary>
    public FlickerLamp? Lamp { get; init; }

    /// <summary>Mains-signalling frequency; 0 for none.</summary>
    public double SignallingHertz { get; init; }

    /// <summary>Demand current for total demand distortion; 0 for none.</summary>
    public double DemandAmperes { get; init; }

    /// <summary>Where events begin and end.</summary>
    public EventThresholds Events { get; init; } = new();

    /// <summary>Folder for the waveforms of events; null for none.</summary>
    public string? Waveforms { get; init; }
}
