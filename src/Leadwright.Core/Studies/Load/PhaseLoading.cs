using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies.Load;

/// <summary>How one clamp was loaded.</summary>
/// <param name="Place">Which.</param>
/// <param name="MeanAmperes">Mean of the interval values, A.</param>
/// <param name="Percentile95Amperes">Value that 95 % of them do not exceed, A.</param>
/// <param name="HighestAmperes">Highest interval value, A.</param>
/// <param name="HighestAt">Start of that interval.</param>
/// <param name="DemandAmperes">Highest rms current over fifteen minutes (or the log's own interval where longer), A; NaN when fifteen minutes are no whole number
/// of intervals.</param>
public sealed record PhaseLoading(
    LogPlace Place, double MeanAmperes, double Percentile95Amperes, double HighestAmperes, DateTime HighestAt, double DemandAmperes)
{
    private const double DemandSeconds = 900;

    /// <summary>Works it out for each clamp that the log has.</summary>
    /// <param name="data">The log.</param>
    public static ImmutableArray<PhaseLoading> Of(StudyData data)
    {
        ArgumentNullException.ThrowIfNull(data);
        var found = ImmutableArray.CreateBuilder<PhaseLoading>();
        foreach (var place in (LogPlace[])[.. StudyData.Phases, LogPlace.Neutral])
        {
            if (data.Series(LogQuantity.Current, place) is not { } current) continue;
            var sound = current.SoundValues();
            if (sound.Length == 0) continue;
            var highest = current.Extremes().Most;
            var demand = current.IntervalSeconds >= DemandSeconds ? current : current.Aggregate(DemandSeconds, isRms: true);
            var demands = demand?.SoundSorted() ?? [];
            found.Add(new PhaseLoading(
                place, sound.Average(), Percentile.OfUnsorted(sound, 95), current.Values[highest], current.StartOf(highest), demands.Length > 0 ? demands[^1] : double.NaN));
        }

        return found.ToImmutable();
    }

    /// <summary>Largest deviation of a phase's mean current from the mean of the three, percent of it; NaN without three phases.</summary>
    /// <param name="phases">The loading.</param>
    public static double DeviationPercent(ImmutableArray<PhaseLoading> phases)
    {
        double[] means = [.. phases.Where(phase => phase.Place != LogPlace.Neutral).Select(phase => phase.MeanAmperes)];
        if (means.Length != 3) return double.NaN;
        var mean = means.Average();
        return 100 * means.Max(value => Math.Abs(value - mean)) / mean;
    }

    /// <summary>Neutral current that the unbalance of three rms currents alone makes, A.</summary>
    /// <param name="a">Phase A, A.</param>
    /// <param name="b">Phase B, A.</param>
    /// <param name="c">Phase C, A.</param>
    /// <remarks>|Ia + Ib∠−120° + Ic∠120°| = √(a² + b² + c² − ab − bc − ca): equal power factors, no harmonics. Third harmonics come on top and may
    /// exceed it, so it is a lower estimate. Derived in docs/methods/load-study.md.</remarks>
    public static double NeutralOfUnbalance(double a, double b, double c) =>
        Math.Sqrt(Math.Max((a * a) + (b * b) + (c * c) - (a * b) - (b * c) - (c * a), 0));
}
