using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Finds a ratio that was set wrong for a time, for one line clamp or all, where the voltages break into two laws and the currents leap by the ratio at the ends.</summary>
/// <remarks>
/// Asked where <see cref="AnsweredRatio"/> found nothing: it needs answers that the whole recording teaches. The ends are those of <see cref="AnswerBreak"/>, moved to the rows in which the currents leap by the ratio
/// and from which on the voltages answer to the currents over it.
/// </remarks>
internal sealed class BrokenRatio
{
    private const int Reach = 3;
    private const int Near = 4;

    /// <summary>A leap may miss the ratio by so much of its logarithm: loads go on being switched.</summary>
    private const double OfLeap = 0.3;
    private const double LeapKnownTo = 0.15;
    private const double LeastOfMean = 2.5;
    private const double Most = 0.5;
    private const double MostKnown = 0.1;
    private const double StepKnownTo = 0.2;
    private readonly GuardFrame _frame;
    private readonly VoltageAnswer[] _answers;
    private readonly int[] _clamps;
    private readonly double _ratio;

    /// <param name="frame">The recording.</param>
    /// <param name="answers">How the phases answer in the rest of it.</param>
    /// <param name="clamps">The clamps.</param>
    /// <param name="ratio">What they show over what flows.</param>
    public BrokenRatio(GuardFrame frame, VoltageAnswer[] answers, int[] clamps, double ratio) => (_frame, _answers, _clamps, _ratio) = (frame, answers, clamps, ratio);

    /// <summary>The stretch; null where there is none.</summary>
    public static AnsweredRatio.Stretch? Find(GuardFrame frame, VoltageHistory voltages, AngleHistory?[] angles, CurrentHistory?[] currents, CancellationToken cancellation)
    {
        if (frame.Options.Check.MayExport || AnswerBreak.Find(frame, voltages, cancellation) is not { } found || found.Ratio is not (10 or 5 or 2 or 0.5 or 0.2 or 0.1)) return null;
        int[] clamps = found.Clamp < 0 ? [0, 1, 2] : [found.Clamp];
        var isInside = new bool[frame.Count];
        Array.Fill(isInside, true, found.From, found.To - found.From + 1);
        VoltageAnswer[] answers = [.. Enumerable.Range(0, 3).Select(line => VoltageAnswer.Learn(frame, voltages, line, isInside))];
        var edges = new BrokenRatio(frame, answers, clamps, found.Ratio);
        if (edges.Edge(found.From, found.PerBlock, true) is not { } from || edges.Edge(found.To + 1, found.PerBlock, false) is not { } end || end - from < 2 * found.PerBlock) return null;
        var ratio = found.Ratio;
        // What is so for longer is the usual.
        if (end - from > Most * frame.Count && (from == 0 || end == frame.Count)) (from, end, ratio) = from == 0 ? (end, frame.Count, 1 / ratio) : (0, from, 1 / ratio);
        if (end - from == frame.Count || Array.Exists(angles, angle => angle is not null && Array.Exists(angle.Rows[from..end], turn => turn > 0))) return null;
        // What a clamp's own history knows it dates better.
        if (clamps.Any(clamp => currents[clamp] is { } current && (Known(current, from, end) > MostKnown * (end - from) || current.Rows[from..end].Any(state => current.Scales[state] == 0)))) return null;
        // A neutral lead in the air scales the answers of the phases' differences too, and not that of their mean.
        // And loads of all lines at once move that mean and none of the differences.
        if (clamps.Length > 1 && !(MeanAnswer.OddsOfRatio(frame, voltages, answers, from, end - 1, ratio) > LeastOfMean)) return null;
        return new AnsweredRatio.Stretch(from, end - 1, ratio, clamps, found.Odds);
    }

    /// <summary>In how many rows a clamp is said to read otherwise already.</summary>
    private static int Known(CurrentHistory current, int from, int end) => current.Rows[from..end].Count(state => current.Scales[state] != 1);

    /// <summary>The first row behind the leap that best parts the rows on both sides; the recording's own ends, where nothing need leap, are ones too. Null where none leaps so.</summary>
    public int? Edge(int row, int reach, bool isBegin)
    {
        if (row <= 0 || row >= _frame.Count) return Math.Clamp(row, 0, _frame.Count);
        int first = Math.Max(Reach, row - (2 * reach)), last = Math.Min(_frame.Count - Reach - 1, row + (2 * reach));
        var log = isBegin ? Math.Log(_ratio) : -Math.Log(_ratio);
        var (best, most, parted) = (-1, double.NegativeInfinity, 0.0);
        for (var at = first; at <= last; at++)
        {
            var off = _clamps.Average(clamp => Off(_frame.Amperes[clamp]!, at, log));
            if (off < OfLeap * Math.Abs(log) && parted - (0.5 * off * off / (LeapKnownTo * LeapKnownTo)) is var say && say > most) (best, most) = (at, say);
            // As the edge moves on, this row goes over to the side before it.
            var gain = Gain(at);
            parted += isBegin ? -gain : gain;
        }

        return best < 0 ? null : Polished(best);
    }

    /// <summary>The row about a leap that parts those like the level before from those like the level behind.</summary>
    private int Polished(int edge)
    {
        int first = Math.Max(0, edge - (2 * Near)), last = Math.Min(_frame.Count, edge + (2 * Near));
        var (best, least) = (edge, double.PositiveInfinity);
        for (var at = Math.Max(first + Near, edge - Near); at <= Math.Min(last - Near, edge + Near); at++)
        {
            double off = 0;
            foreach (var clamp in _clamps)
            {
                var amperes = _frame.Amperes[clamp]!;
                double before = Robust.Median(amperes.AsSpan(first, Near)), behind = Robust.Median(amperes.AsSpan(last - Near, Near));
                for (var row = first + Near; row < last - Near; row++)
                {
                    var level = row < at ? before : behind;
                    off += amperes[row] > 0 && level > 0 ? Math.Abs(Math.Log(amperes[row] / level)) : Math.Abs(Math.Log(_ratio));
                }
            }

            if (off < least) (best, least) = (at, off);
        }

        return best;
    }

    /// <summary>How much better a row's changes are explained with the currents over the ratio than with them as shown.</summary>
    private double Gain(int row)
    {
        double gain = 0;
        for (var line = 0; line < 3; line++)
        {
            var answer = _answers[line];
            double own = answer.Own(row) - answer.Own(row - 1), others = answer.Others(row), moved = answer.Change(row);
            if (!answer.IsKnown || double.IsNaN(own + others + moved) || (_clamps.Length == 1 && _clamps[0] != line)) continue;
            var scaled = (own / _ratio) + (_clamps.Length == 1 ? others : others / _ratio);
            gain += Say(moved - scaled, scaled) - Say(moved - own - others, own + others);
            double Say(double left, double step) => NeutralLeadChain.Say(left, Math.Sqrt((answer.Spread * answer.Spread) + (StepKnownTo * StepKnownTo * step * step)));
        }

        return gain;
    }

    /// <summary>By how much the leap at a row misses a ratio's; the row itself may be mixed and is then left out.</summary>
    private static double Off(double[] amperes, int at, double log)
    {
        double whole = Leap(at, at), mixed = Leap(at, at + 1);
        return double.IsNaN(whole) ? double.IsNaN(mixed) ? double.PositiveInfinity : mixed : double.IsNaN(mixed) ? whole : Math.Min(whole, mixed);

        double Leap(int from, int to)
        {
            if (to + Reach > amperes.Length) return double.NaN;
            double then = Robust.Median(amperes.AsSpan(from - Reach, Reach)), now = Robust.Median(amperes.AsSpan(to, Reach));
            return then > 0 && now > 0 ? Math.Abs(Math.Log(now / then) - log) : double.NaN;
        }
    }
}
