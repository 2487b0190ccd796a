using System.Collections.Immutable;

namespace Leadwright.Reports.Studies;

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
}
