using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds a clamp that was knocked open at once, or closed at once: where the voltages break into two laws by one clamp's current, and on one side it shows less than the other lines' clamps.</summary>
/// <remarks>The stretch is <see cref="AnswerBreak"/>'s, the gain on both sides <see cref="SupplyMatrix"/>'s, the rows of its ends those in which the current leaps. What opens slowly is <see cref="DriftFinder"/>'s.</remarks>
internal static class BrokenGain
{
    private const double LeastOdds = 6;
    private const double MostGain = 0.87;

    /// <summary>The other side must be right to so much, logarithm.</summary>
    private const double Right = 0.2;

    /// <summary>The confidence of one whose ends are leaps of its size.</summary>
    public const double Sure = 0.95;

    /// <summary>Where no leap shows when, the hour is all that is known.</summary>
    private const double WithoutLeap = 0.85;

    /// <summary>The span; null where there is none.</summary>
    /// <param name="chained">The recording.</param>
    /// <param name="isUsable">Rows whose leads and clamps are in their places.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static GuardSpan? Find(Chained chained, bool[] isUsable, CancellationToken cancellation)
    {
        var frame = chained.Frame;
        if (frame.Options.Check.MayExport || chained.Currents.Take(3).Any(current => current is null || !Array.TrueForAll(current.Rows, state => current.Scales[state] == 1))) return null;
        if (AnswerBreak.Find(frame, chained.Voltages, cancellation) is not { Clamp: >= 0 and var clamp } found) return null;
        bool IsInside(int row) => row >= found.From && row <= found.To;
        if (SupplyMatrix.Learn(frame, chained.Voltages, row => isUsable[row] && IsInside(row))?.GainOf(clamp) is not { } inside
            || SupplyMatrix.Learn(frame, chained.Voltages, row => isUsable[row] && !IsInside(row))?.GainOf(clamp) is not { } outside) return null;
        var (isOpenInside, open, closed) = inside.Gain < outside.Gain ? (true, inside, outside) : (false, outside, inside);
        if (!(open.Gain < MostGain) || open.Odds < LeastOdds || Math.Abs(Math.Log(closed.Gain)) > Right) return null;
        if (!StandingGain.HoldsForSmall(chained, row => isUsable[row] && IsInside(row) == isOpenInside, clamp, open.Gain)) return null;
        // Open before and behind, and closed between: that is two mishaps.
        if (!isOpenInside && found.From > 0 && found.To + 1 < frame.Count) return null;
        var (from, to) = isOpenInside ? (found.From, found.To) : found.From > 0 ? (0, found.From - 1) : (found.To + 1, frame.Count - 1);
        var isLeftOut = new bool[frame.Count];
        Array.Fill(isLeftOut, true, from, to - from + 1);
        VoltageAnswer[] answers = [.. Enumerable.Range(0, 3).Select(line => VoltageAnswer.Learn(frame, chained.Voltages, line, isLeftOut))];
        var edges = new BrokenRatio(frame, answers, [clamp], open.Gain / closed.Gain);
        int? begin = edges.Edge(from, found.PerBlock, true), end = edges.Edge(to + 1, found.PerBlock, false);
        var hasLeaps = begin is not null && end is not null;
        (from, to) = (begin ?? from, (end ?? (to + 1)) - 1);
        if (to - from < found.PerBlock) return null;
        var (first, last) = (frame.From(from), frame.To(to));
        return new GuardSpan(SpanKind.ClampOpen, [], [(Clamp)clamp], first, last, hasLeaps ? Sure : WithoutLeap, new SpanFinding(SpanRelation.CurrentDrifted, open.Odds)
        {
            Rival = SpanKind.RatioWrong, Before = 1, Within = open.Gain, Intervals = to - from + 1,
        })
        {
            Gain = ImmutableArray.Create(new GainPoint(first, open.Gain), new GainPoint(last, open.Gain)),
        };
    }
}
