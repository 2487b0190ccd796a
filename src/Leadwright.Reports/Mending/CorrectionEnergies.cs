using System.Collections.Immutable;
using Leadwright.Core.Mending;
using Leadwright.Core.Mending.Answers;

namespace Leadwright.Reports.Mending;

/// <summary>The energy that each correction of an answer changed, as far as it can be told.</summary>
/// <remarks>A correction that changes the energy has no figure of its own where others fall into the same rows. What all of these changed together is
/// what is left of the whole change; where there is one, and arithmetic made it, that is its figure.</remarks>
/// <param name="Corrections">The corrections, with every figure that there is.</param>
/// <param name="TogetherWattHours">What those without a figure changed together, watt-hours; NaN where each has one, or nothing is known.</param>
public sealed record CorrectionEnergies(ImmutableArray<Correction> Corrections, double TogetherWattHours)
{
    // Half a watt-hour is what rounding leaves of thousands of rows.
    private const double LeastWattHours = 0.5;

    /// <summary>The energies of an answer.</summary>
    /// <param name="report">The answer.</param>
    public static CorrectionEnergies Of(MendReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var left = report.After.WattHours - report.Before.WattHours - report.Corrections.Where(correction => double.IsFinite(correction.WattHours)).Sum(correction => correction.WattHours);
        var untold = report.Corrections.Where(correction => !double.IsFinite(correction.WattHours) && ChangesEnergy(correction.Kind)).ToList();
        if (untold.Count == 0 || !double.IsFinite(left)) return new(report.Corrections, double.NaN);
        if (untold is [{ Basis: CorrectionBasis.Exact } one]) return new(report.Corrections.Replace(one, one with { WattHours = left }), double.NaN);
        return new(report.Corrections, Math.Abs(left) < LeastWattHours ? double.NaN : left);
    }

    // A voltage that was rebuilt and a clamp that opened change it through the power that is rebuilt of them, a correction of its own.
    private static bool ChangesEnergy(CorrectionKind kind) =>
        kind is not (CorrectionKind.LeadOpen or CorrectionKind.ClampOpening or CorrectionKind.ClockJump);
}
