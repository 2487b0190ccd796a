using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Events;

/// <summary>A voltage event as a study tells of it.</summary>
/// <param name="Kind"><c>dip</c>, <c>swell</c>, <c>interruption</c>, <c>rapid-voltage-change</c> or <c>transient</c>.</param>
/// <param name="Channels">The channels that took part.</param>
/// <param name="Start">Its start.</param>
/// <param name="Seconds">Its length, s.</param>
/// <param name="ExtremePercent">Residual or highest voltage, percent of the declared voltage; rapid change: largest change; transient: largest deviation.</param>
public sealed record StudyEvent(string Kind, ImmutableArray<string> Channels, DateTime Start, double Seconds, double ExtremePercent)
{
    /// <summary>True when the recording began or ended within it.</summary>
    public bool IsCutShort { get; init; }

    /// <summary>Type of a dip on three phases; null when it could not be told.</summary>
    public DipType? Type { get; init; }

    /// <summary>Where a dip came from; null without the waveform or currents.</summary>
    public DipOrigin? Origin { get; init; }

    /// <summary>What a dip looks like; null without the waveform.</summary>
    public EventCause? Cause { get; init; }

    /// <summary>Where a capacitor was switched, if the transient is one; null for other events.</summary>
    public CapacitorSide? Capacitor { get; init; }

    /// <summary>Its end.</summary>
    public DateTime End => Start.AddTicks((long)(Seconds * TimeSpan.TicksPerSecond));

    /// <summary>True for dips, swells and interruptions: those that have a magnitude and a duration.</summary>
    public bool HasMagnitude => Kind is "dip" or "swell" or "interruption";

    /// <summary>Where it lies against a tolerance curve.</summary>
    /// <param name="curve">The curve.</param>
    public ToleranceRegion RegionOf(ToleranceCurve curve)
    {
        ArgumentNullException.ThrowIfNull(curve);
        return HasMagnitude ? curve.Of(Seconds, ExtremePercent) : ToleranceRegion.NotCovered;
    }
}
