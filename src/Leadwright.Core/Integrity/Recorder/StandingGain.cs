using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds a clamp whose jaw was not closed from first to last: the voltages answer to its current by one share more strongly than to the other lines', which no ratio of a range makes.</summary>
/// <remarks>See <see cref="SupplyMatrix"/>. Ratios are <see cref="Chains.StandingRatio"/>'s.</remarks>
internal static class StandingGain
{
    /// <summary>More than a ratio needs: any gain may fit.</summary>
    private const double LeastOdds = 9;
    private const double OverOthers = 5;

    /// <summary>Lines of a service differ by a tenth; what lacks less than that is not told.</summary>
    private const double MostGain = 0.85;
    private const double LeastShare = 0.6;

    /// <summary>The span; null where no clamp stands out.</summary>
    /// <param name="chained">The recording.</param>
    /// <param name="isUsable">Rows whose leads and clamps are in their places.</param>
    public static GuardSpan? Find(Chained chained, bool[] isUsable)
    {
        var frame = chained.Frame;
        if (frame.Lines != 3 || isUsable.Count(usable => usable) < LeastShare * frame.Count || SupplyMatrix.Learn(frame, chained.Voltages, row => isUsable[row]) is not { } matrix) return null;
        var gains = Enumerable.Range(0, 3).Select(clamp => (Clamp: clamp, Of: matrix.GainOf(clamp))).Where(entry => entry.Of is not null).OrderByDescending(entry => entry.Of!.Value.Odds).ToArray();
        if (gains is not [var first, ..] || first.Of!.Value is not { Gain: < MostGain, Odds: > LeastOdds } of) return null;
        if (gains.Length > 1 && of.Odds < gains[1].Of!.Value.Odds + OverOthers) return null;
        if (chained.Currents[first.Clamp] is not { } current || !Array.TrueForAll(current.Rows, state => current.Scales[state] == 1)) return null;
        return new GuardSpan(SpanKind.ClampOpen, [], [(Clamp)first.Clamp], frame.Log.From, frame.Log.To, Math.Min(0.98, 1 - Math.Exp(-(of.Odds - LeastOdds + 6) / 4)), new SpanFinding(SpanRelation.CurrentDrifted, of.Odds)
        {
            Rival = SpanKind.RatioWrong, Before = 1, Within = of.Gain, Intervals = frame.Count,
        })
        {
            Gain = ImmutableArray.Create(new GainPoint(frame.Log.From, of.Gain), new GainPoint(frame.Log.To, of.Gain)),
        };
    }
}
