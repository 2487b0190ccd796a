using System.Collections.Immutable;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>What each kind of evidence says for the best answer against the rival that matters.</summary>
internal static class EvidenceLedger
{
    /// <summary>Weighs the best answer against its rival.</summary>
    /// <param name="posterior">The answers.</param>
    /// <param name="rival">The right hook-up when the best answer is faulty, else the strongest other.</param>
    /// <param name="leads">The leads.</param>
    /// <param name="clamps">The clamps.</param>
    public static ImmutableArray<Evidence> Of(Posterior posterior, Hypothesis rival, Lead[] leads, Clamp[] clamps)
    {
        var best = posterior.Answers[0];
        var hookup = Posterior.ToHookup(rival, leads, clamps);
        var one = best.Strongest;
        Evidence[] ledger =
        [
            new(EvidenceKind.VoltageGeometry, one.Voltage - rival.Voltage, hookup),
            new(EvidenceKind.Displacement, one.Current.Displacement - rival.Current.Displacement, hookup),
            new(EvidenceKind.Kirchhoff, one.Current.Kirchhoff - rival.Current.Kirchhoff, hookup),
            new(EvidenceKind.Magnitudes, one.Current.Sizes - rival.Current.Sizes, hookup),
            new(EvidenceKind.Steps, one.Current.Steps - rival.Current.Steps, hookup),
            new(EvidenceKind.Harmonics, one.Current.Harmonics - rival.Current.Harmonics, hookup),
            new(EvidenceKind.Prior, one.LogPrior - rival.LogPrior, hookup),
            new(EvidenceKind.Convention, one.Convention.LogPrior - rival.Convention.LogPrior, hookup),
            new(EvidenceKind.Told, one.Told - rival.Told, hookup),
        ];
        return [.. ledger.Where(entry => Math.Abs(entry.LogOdds) > 0.05).OrderByDescending(entry => Math.Abs(entry.LogOdds))];
    }
}
