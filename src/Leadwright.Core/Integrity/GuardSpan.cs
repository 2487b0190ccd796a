using System.Collections.Immutable;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Integrity;

/// <summary>By what a clamp's reading must be divided at one time.</summary>
/// <param name="At">The time, by the recorder's clock.</param>
/// <param name="Factor">The reading over the true current; above zero, 1 when right.</param>
public readonly record struct GainPoint(DateTime At, double Factor);

/// <summary>A stretch of time over which something did not tell the truth.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Leads">The leads concerned, in order.</param>
/// <param name="Clamps">The clamps concerned, in order.</param>
/// <param name="From">Start, by the recorder's clock: the start of the first interval concerned.</param>
/// <param name="To">End: the end of the last interval concerned.</param>
/// <param name="Confidence">Probability that the kind and the channels are right, 0 to 1.</param>
/// <param name="Finding">Why.</param>
public sealed record GuardSpan(
    SpanKind Kind, ImmutableArray<Lead> Leads, ImmutableArray<Clamp> Clamps, DateTime From, DateTime To, double Confidence, SpanFinding Finding)
{
    /// <summary>Confidence below which a span is called doubtful: its channels are then not counted as lost.</summary>
    public const double SureFrom = 0.8;

    /// <summary>True when the evidence leaves the kind open.</summary>
    public bool IsDoubtful => Confidence < SureFrom;

    /// <summary>For a clamp that opens slowly: its factor from the onset on, straight lines between the points. Empty for everything else.</summary>
    public ImmutableArray<GainPoint> Gain { get; init; } = [];

    /// <summary>How long it is.</summary>
    public TimeSpan Length => To - From;
}
