using System.Collections.Immutable;

namespace Leadwright.Reports.Measuring;

/// <summary>What a measurement of a whole recording gave.</summary>
public sealed record MeasureDocument
{
    /// <summary>The file as it was named.</summary>
    public required string File { get; init; }

    /// <summary>The service, as in the contract of the command line.</summary>
    public required string Service { get; init; }

    /// <summary>The nominal voltage as on the nameplate; null when not known.</summary>
    public string? Nominal { get; init; }

    /// <summary>Time of the first sample in the recorder's own zone; null when the file doesn't state it.</summary>
    public DateTime? Start { get; init; }

    /// <summary>Length of the recording, gaps included, seconds.</summary>
    public required double Seconds { get; init; }

    /// <summary>Mean frequency, hertz.</summary>
    public required double FrequencyHertz { get; init; }

    /// <summary>Lowest frequency over ten seconds; NaN when the recording holds none.</summary>
    public double LowestHertz { get; init; } = double.NaN;

    /// <summary>Highest frequency over ten seconds.</summary>
    public double HighestHertz { get; init; } = double.NaN;

    /// <summary>Negative over positive sequence of the voltages (u2), percent.</summary>
    public double UnbalancePercent { get; init; } = double.NaN;

    /// <summary>Zero over positive sequence of the voltages (u0), percent.</summary>
    public double ZeroPercent { get; init; } = double.NaN;

    /// <summary>Largest deviation of a line-to-line voltage from their mean, percent.</summary>
    public double DeviationPercent { get; init; } = double.NaN;

    /// <summary>The channels.</summary>
    public ImmutableArray<ChannelMeasurement> Channels { get; init; } = [];

    /// <summary>The phases; empty without currents.</summary>
    public ImmutableArray<PhaseMeasurement> Phases { get; init; } = [];

    /// <summary>Total active power, W; NaN without currents.</summary>
    public double Watts { get; init; } = double.NaN;

    /// <summary>Total fundamental reactive power, var.</summary>
    public double Vars { get; init; } = double.NaN;

    /// <summary>Total apparent power, VA: effective for three phases, else the sum.</summary>
    public double VoltAmperes { get; init; } = double.NaN;

    /// <summary>Energy toward the load, Wh.</summary>
    public double ImportWattHours { get; init; }

    /// <summary>Energy from the load, Wh.</summary>
    public double ExportWattHours { get; init; }

    /// <summary>Windows measured.</summary>
    public int WindowCount { get; init; }

    /// <summary>Windows flagged for a dip, swell or interruption.</summary>
    public int FlaggedCount { get; init; }

    /// <summary>The events in order of their ends.</summary>
    public ImmutableArray<EventMeasurement> Events { get; init; } = [];

    /// <summary>The tables that were written.</summary>
    public ImmutableArray<string> Written { get; init; } = [];

    /// <summary>What a person must know about how the file was read.</summary>
    public ImmutableArray<string> Notes { get; init; } = [];
}
