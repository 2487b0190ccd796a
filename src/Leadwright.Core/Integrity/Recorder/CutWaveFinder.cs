using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Finds clamps whose range ends below what flows where no value shows the end: the crests of the waves are cut, the reading creeps on, and the voltage falls as ever.</summary>
/// <remarks>
/// From row to row the phase's voltage against the others' answers to every current alike, however much flows. Where the crests are cut (<see cref="CutWave"/>) it answers to what flows, and so ever more to what
/// is shown. The changes are explained by the readings as they stand, and by what would have been shown in full for each of several ends; the sum of absolute rests (Laplace's law: the supply has heavy tails) says which
/// explains more: n·ln of their ratio, in nats.
/// </remarks>
internal static class CutWaveFinder
{
    private const int MostRows = 4000;
    private const int LeastRows = 60;

    /// <summary>Below so much of the largest value nothing can be cut: a square wave has √2 times the rms of the sine that just passes.</summary>
    private const double LeastTold = 0.45;
    private const double LeastOdds = 20;
    private const double LeastGain = 0.015;
    private const double LeastAnswer = 0.04;
    private const double LeastOddsByAmperes = 80;
    private const double LeastGainByAmperes = 0.1;

    /// <summary>How far beyond the end the largest value must lie, for what is cut to be told from what is not.</summary>
    private static readonly double[] s_ends = [0.708, 0.72, 0.735, 0.75, 0.765, 0.78, 0.8, 0.82, 0.84, 0.86, 0.88, 0.9];

    public static void Find(GuardFrame frame, List<GuardSpan> spans, CancellationToken cancellation)
    {
        for (var clamp = 0; clamp < frame.Lines; clamp++)
        {
            cancellation.ThrowIfCancellationRequested();
            var which = (Clamp)clamp;
            if (frame.Amperes[clamp] is not { } column || frame.Volts[clamp] is null || spans.Exists(span => span.Kind == SpanKind.OverRange && span.Clamps.Contains(which))) continue;
            if (Weigh(frame, clamp, column, spans) is not var (end, odds)) continue;
            foreach (var (from, to) in FlatTopFinder.Rows(column, end * 1.01))
            {
                spans.Add(new GuardSpan(
                    SpanKind.OverRange, [], [which], frame.From(from), frame.To(to), Math.Min(0.99, 1 - Math.Exp(-odds / 8)),
                    new SpanFinding(SpanRelation.VoltageFallsOn, odds) { Within = end }));
            }
        }
    }

    private static (double End, double Odds)? Weigh(GuardFrame frame, int clamp, double[] column, List<GuardSpan> spans)
    {
        var top = Robust.Quantile(column, 0.9995);
        if (!(top > 0)) return null;
        var rows = Rows(frame, clamp, column, top, spans);
        if (rows.Count < LeastRows) return null;
        var regressors = VoltageAnswer.Regressors(frame, clamp, out var own);
        var plain = RestOf(frame, clamp, column, rows, regressors, own, double.PositiveInfinity);
        double best = 0, end = 0;
        void Try(double at)
        {
            var gain = Math.Log(plain / RestOf(frame, clamp, column, rows, regressors, own, at));
            if (gain > best) (best, end) = (gain, at);
        }

        foreach (var share in s_ends) Try(share * top);
        // To half a percent, where there is an end at all.
        if (best * rows.Count < LeastOdds) return null;
        for (var step = 0.01 * top; step > 0.004 * end; step /= 2)
        {
            var about = end;
            Try(about - step);
            Try(about + step);
        }

        // Where what is written of the voltage answers to nothing that this line carries, it says nothing of how much that is.
        var bare = RestOf(frame, clamp, column, rows, regressors[own..], 0, double.PositiveInfinity);
        if (regressors.Count > own && Math.Log(bare / plain) + best < LeastAnswer) return null;
        // Voltages go with mean currents. Where rms values alone are known, loads that come and go within an interval bend the answer too, and a motor that starts pulls its voltage down further than its amperes say.
        var (least, odds) = frame.Watts[clamp] is null || frame.IsPairs || frame.Options.Check.MayExport ? (LeastGainByAmperes, LeastOddsByAmperes) : (LeastGain, LeastOdds);
        return best > least && best * rows.Count > odds ? (end, best * rows.Count) : null;
    }

    /// <summary>Rows that follow on another, of which one at least is large, and in which nothing else is wrong with the line.</summary>
    private static List<int> Rows(GuardFrame frame, int clamp, double[] column, double top, List<GuardSpan> spans)
    {
        var isWrong = new bool[frame.Count];
        foreach (var span in spans)
        {
            if (span.Kind is SpanKind.OverRange or SpanKind.ClockJump || (span.Leads.IsEmpty && !span.Clamps.Contains((Clamp)clamp))) continue;
            for (var row = 0; row < isWrong.Length; row++) isWrong[row] |= frame.To(row) > span.From && frame.From(row) < span.To;
        }

        var rows = new List<int>();
        for (var row = 1; row < frame.Count; row++)
        {
            if (isWrong[row] || isWrong[row - 1] || !(Math.Max(column[row], column[row - 1]) > LeastTold * top) || frame.Starts[row] - frame.Starts[row - 1] > 1.5 * frame.Log.IntervalTicks) continue;
            if (!double.IsNaN(Apart(frame, clamp, row)) && !double.IsNaN(Apart(frame, clamp, row - 1))) rows.Add(row);
        }

        var step = Math.Max(1, rows.Count / MostRows);
        return step == 1 ? rows : [.. rows.Where((_, at) => at % step == 0)];
    }

    /// <summary>The voltage that answers to the clamp's current, less the mean of those that the supply moves alike. Between lines: the two pairs that the line belongs to, against the third.</summary>
    private static double Apart(GuardFrame frame, int clamp, int row)
    {
        var own = frame.Volts[clamp]![row];
        if (frame.IsPairs) return ((own + At(frame, clamp + 2, row, own)) / 2) - At(frame, clamp + 1, row, 0);
        // The two ends of one winding go together, and the high leg by itself.
        if (frame.Service.Kind == ServiceKind.HighLeg && clamp != 1) return own - At(frame, 2 - clamp, row, 0);
        return VoltageAnswer.Relative(frame, clamp, row);
    }

    private static double At(GuardFrame frame, int index, int row, double otherwise) => frame.Volts[index % 3] is { } column ? column[row] : otherwise;

    /// <summary>The mean absolute rest of the voltage's changes when the line's current is taken as what would have been shown in full.</summary>
    private static double RestOf(GuardFrame frame, int clamp, double[] column, List<int> rows, List<double[]> regressors, int own, double end)
    {
        var changes = new double[rows.Count];
        var causes = new double[rows.Count * regressors.Count];
        for (var at = 0; at < rows.Count; at++)
        {
            var row = rows[at];
            changes[at] = Apart(frame, clamp, row) - Apart(frame, clamp, row - 1);
            double now = Times(column[row], end), then = Times(column[row - 1], end);
            for (var index = 0; index < regressors.Count; index++)
            {
                var isOwn = index < own;
                causes[(at * regressors.Count) + index] = (regressors[index][row] * (isOwn ? now : 1)) - (regressors[index][row - 1] * (isOwn ? then : 1));
            }
        }

        return LeastAbsolute.Fit(causes, regressors.Count, changes);
    }

    private static double Times(double shown, double end) => shown > end ? end * CutWave.Current(shown / end) / shown : 1;
}
