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

    /// <summary>Lines of a service differ by a tenth; what lacks less than that is not told.</summary>
    private const double MostGain = 0.85;
    private const double LeastShare = 0.6;
    private const double MostBefore = 0.5;

    /// <summary>The span; null where no clamp stands out.</summary>
    /// <param name="chained">The recording.</param>
    /// <param name="isUsable">Rows whose leads and clamps are in their places.</param>
    public static GuardSpan? Find(Chained chained, bool[] isUsable)
    {
        var frame = chained.Frame;
        if (frame.Lines != 3 || isUsable.Count(usable => usable) < LeastShare * frame.Count || First(chained, row => isUsable[row]) is not { } first) return null;
        if (chained.Currents[first.Clamp] is not { } current || !Array.TrueForAll(current.Rows, state => current.Scales[state] == 1)) return null;
        // A jaw may have opened within the recording: what is steady is its rest.
        var from = SupplyMatrix.HoldsFrom(frame, chained.Voltages, row => isUsable[row], first.Clamp, first.Gain);
        if (from > MostBefore * frame.Count) return null;
        if (from > 0)
        {
            if (First(chained, row => row >= from && isUsable[row]) is not { } rest || rest.Clamp != first.Clamp) return null;
            first = rest;
        }

        if (!HoldsForSmall(chained, row => row >= from && isUsable[row], first.Clamp, first.Gain)) return null;
        var onset = Math.Max(0, from - (frame.Count / SupplyMatrix.Parts));
        ImmutableArray<GainPoint> gain = [new(frame.From(onset), from == 0 ? first.Gain : 1), new(frame.From(from), first.Gain), new(frame.Log.To, first.Gain)];
        return new GuardSpan(SpanKind.ClampOpen, [], [(Clamp)first.Clamp], frame.From(onset), frame.Log.To, Math.Min(0.98, 1 - Math.Exp(-(first.Odds - LeastOdds + 6) / 4)), new SpanFinding(SpanRelation.CurrentDrifted, first.Odds)
        {
            Rival = SpanKind.RatioWrong, Before = 1, Within = first.Gain, Intervals = frame.Count - onset,
        })
        {
            Gain = from == 0 ? gain.RemoveAt(1) : gain,
        };
    }

    /// <summary>False where small currents are shown in full: what lacks of the large ones was cut off at the end of a range.</summary>
    internal static bool HoldsForSmall(Chained chained, Func<int, bool> isAsked, int clamp, double gain)
    {
        var amperes = chained.Frame.Amperes[clamp]!;
        var middle = Robust.Median([.. Enumerable.Range(0, amperes.Length).Where(isAsked).Select(row => amperes[row])]);
        return SupplyMatrix.Learn(chained.Frame, chained.Voltages, row => isAsked(row) && amperes[row] < middle) is not { } matrix || matrix.Odds(clamp, gain, 1) > 0;
    }

    /// <summary>The clamp that shows too little by far before the others; null where there is none.</summary>
    private static (int Clamp, double Gain, double Odds)? First(Chained chained, Func<int, bool> isAsked) =>
        SupplyMatrix.Learn(chained.Frame, chained.Voltages, isAsked)?.Blamed(LeastOdds) is { Gain: < MostGain } found ? found : null;
}
