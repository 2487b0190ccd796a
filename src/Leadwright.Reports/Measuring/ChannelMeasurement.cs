using System.Collections.Immutable;

namespace Leadwright.Reports.Measuring;

/// <summary>What a measurement says of one channel over the whole recording. What was not measured is NaN.</summary>
/// <param name="Name">The channel, such as <c>V1</c>.</param>
/// <param name="Unit">V or A.</param>
public sealed record ChannelMeasurement(string Name, string Unit)
{
    /// <summary>True rms, root of the mean square of all windows.</summary>
    public double Rms { get; init; }

    /// <summary>Least half-cycle value.</summary>
    public double Least { get; init; }

    /// <summary>Largest half-cycle value.</summary>
    public double Most { get; init; }

    /// <summary>Total harmonic distortion of the subgroups, percent of the fundamental.</summary>
    public double ThdPercent { get; init; }

    /// <summary>Total demand distortion against the stated demand current, percent; NaN when none was stated.</summary>
    public double TddPercent { get; init; } = double.NaN;

    /// <summary>Direct part.</summary>
    public double Direct { get; init; }

    /// <summary>Crest factor.</summary>
    public double Crest { get; init; }

    /// <summary>Harmonic loss factor (K-factor) of a current.</summary>
    public double LossFactor { get; init; } = double.NaN;

    /// <summary>Voltage at the mains-signalling frequency; NaN when none was asked for.</summary>
    public double Signalling { get; init; } = double.NaN;

    /// <summary>Short-term flicker of each whole ten minutes; empty for currents.</summary>
    public ImmutableArray<double> Pst { get; init; } = [];

    /// <summary>Long-term flicker of each whole two hours.</summary>
    public ImmutableArray<double> Plt { get; init; } = [];
}

/// <summary>What a measurement says of one phase over the whole recording.</summary>
/// <param name="Number">1 to 3.</param>
/// <param name="Watts">Active power; positive toward the load.</param>
/// <param name="Vars">Fundamental reactive power; positive when the current lags.</param>
/// <param name="VoltAmperes">Apparent power.</param>
/// <param name="DisplacementPowerFactor">Fundamental active over fundamental apparent power.</param>
public sealed record PhaseMeasurement(int Number, double Watts, double Vars, double VoltAmperes, double DisplacementPowerFactor)
{
    /// <summary>True power factor.</summary>
    public double PowerFactor => Watts / VoltAmperes;
}

/// <summary>An event in words that a table and JSON share.</summary>
/// <param name="Kind"><c>dip</c>, <c>swell</c>, <c>interruption</c>, <c>rapid-voltage-change</c> or <c>transient</c>.</param>
/// <param name="Channels">The channels that took part.</param>
/// <param name="StartSeconds">Start after the recording's start.</param>
/// <param name="Seconds">Its length.</param>
/// <param name="ExtremePercent">Residual or highest voltage, percent of the declared voltage; rapid change: largest change;
/// transient: largest deviation, percent of the nominal peak.</param>
/// <param name="SteadyPercent">Rapid change: change of the steady level, percent; else NaN.</param>
/// <param name="IsCutShort">True when the recording began or ended within it.</param>
public sealed record EventMeasurement(
    string Kind, ImmutableArray<string> Channels, double StartSeconds, double Seconds, double ExtremePercent, double SteadyPercent, bool IsCutShort);
