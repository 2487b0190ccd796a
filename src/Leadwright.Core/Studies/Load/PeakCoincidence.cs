using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Load;

/// <summary>How the peaks of the phases fall together.</summary>
/// <param name="Together">The highest demand of the whole.</param>
/// <param name="Alone">The highest demand of each phase by itself.</param>
/// <remarks>Coincidence factor: highest demand of the whole over the sum of the parts' own highest demands; its inverse is the diversity factor
/// (common definitions of the trade, no source).</remarks>
public sealed record PeakCoincidence(DemandPeak Together, ImmutableArray<DemandPeak> Alone)
{
    /// <summary>Sum of the phases' own highest demands, W.</summary>
    public double AloneWatts => Alone.Sum(peak => peak.Watts);

    /// <summary>Coincidence factor, at most 1 for loads.</summary>
    public double Factor => Together.Watts / AloneWatts;

    /// <summary>Finds the peaks.</summary>
    /// <param name="whole">Power of the whole, W.</param>
    /// <param name="phases">Power of each phase, W; two at least.</param>
    /// <param name="kind">Block or sliding.</param>
    /// <param name="minutes">Length of the window, minutes.</param>
    /// <returns>Null when the length is no whole number of intervals or there are no phases.</returns>
    public static PeakCoincidence? Of(StudySeries whole, ImmutableArray<StudySeries> phases, DemandKind kind, double minutes)
    {
        if (phases.IsDefaultOrEmpty || phases.Length < 2 || Demand.Highest(whole, kind, minutes, phases) is not { } together) return null;
        return new PeakCoincidence(together, [.. phases.Select(phase => Demand.Highest(phase, kind, minutes)!)]);
    }
}
