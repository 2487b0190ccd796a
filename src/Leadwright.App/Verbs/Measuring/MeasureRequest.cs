using Leadwright.Core.Measuring;
using Leadwright.Core.Signals.Events;
using Leadwright.Core.Signals.Flicker;
using Leadwright.Reports.Measuring;

namespace Leadwright.App.Verbs.Measuring;

/// <summary>What the command line asks of <c>measure</c>.</summary>
public sealed record MeasureRequest : RecordingRequest
{
    /// <summary>Nothing said.</summary>
    public MeasureRequest()
    {
    }

    /// <summary>What is said of the recording.</summary>
    /// <param name="recording">It.</param>
    public MeasureRequest(RecordingRequest recording)
        : base(recording)
    {
    }

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

    /// <summary>True to go on where an interrupted run of the same request stopped.</summary>
    public bool IsResumed { get; init; }

    /// <summary>Time between two checkpoints beside the output.</summary>
    public TimeSpan CheckpointEvery { get; init; } = TimeSpan.FromSeconds(10);
}
