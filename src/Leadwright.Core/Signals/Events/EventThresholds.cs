namespace Leadwright.Core.Signals.Events;

/// <summary>Where voltage events begin and end, as fractions of the declared voltage.</summary>
/// <remarks>Defaults are the usual ones of IEC 61000-4-30 clauses 5.4, 5.5 and 5.11 (from memory).</remarks>
public sealed record EventThresholds
{
    /// <summary>A dip begins below. Default 0.9.</summary>
    public double Dip { get; init; } = 0.9;

    /// <summary>A swell begins above. Default 1.1.</summary>
    public double Swell { get; init; } = 1.1;

    /// <summary>An interruption begins below, on all channels. Default 0.05.</summary>
    public double Interruption { get; init; } = 0.05;

    /// <summary>How far back across the threshold an event ends. Default 0.02.</summary>
    public double Hysteresis { get; init; } = 0.02;

    /// <summary>A rapid voltage change begins this far from the steady level; 0 looks for none. Default 0.05.</summary>
    public double RapidChange { get; init; } = 0.05;

    /// <summary>How much of <see cref="RapidChange"/> it must come back within to be steady. Default 0.5.</summary>
    public double RapidChangeHysteresis { get; init; } = 0.5;

    /// <summary>A transient deviates from the cycle before by this much of the nominal peak; 0 looks for none. Default 0.15
    /// (common practice, no source).</summary>
    public double Transient { get; init; } = 0.15;
}
