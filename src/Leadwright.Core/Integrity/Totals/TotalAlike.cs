using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Totals;

/// <summary>Tells two clamps on one conductor from a load that draws alike on both, where only the total power was written: the total then stands where the site's never does, and by the
/// hook-up's own factor where it usually does.</summary>
/// <remarks>With two elements and both clamps on A the total is −3 V(B)·I*: as large as ever, sixty degrees on. A pump alone is as much alike, but its power stands where a pump's does.</remarks>
internal static class TotalAlike
{
    private const double Share = 0.02;
    private const double BeyondDegrees = 10;
    private const double MostLagging = 48;
    private const int LeastOutside = 40;
    private const int LeastRows = 8;
    private const double LeastOdds = 12;
    private const double Idle = 0.01;
    private const double MostGain = 0.03;
    private const double MostOfThird = 0.06;
    private const double Spread = 0.003;

    // Two lines stand apart by up to a fifth either way.
    private const double Apart = 0.4;
    private const double Enter = 8;
    private const double Leave = 4;

    /// <summary>The stretches in which two clamps were on one conductor.</summary>
    public static IEnumerable<TotalStretch> Find(GuardFrame frame, TotalPower power, List<TotalHookup> hookups) =>
        hookups.Where(hookup => hookup.OnOne is var (moved, on) && moved < on).SelectMany(hookup => Of(frame, power, hookups, hookup.OnOne!.Value));

    private static IEnumerable<TotalStretch> Of(GuardFrame frame, TotalPower power, List<TotalHookup> hookups, (int One, int Other) pair)
    {
        foreach (var stretch in Alike(frame.Amperes[pair.One]!, frame.Amperes[pair.Other]!))
        {
            // One load on three lines is alike on all.
            if (frame.Lines == 3 && frame.Amperes[3 - pair.One - pair.Other] is { } third && power.Clamps.Length == 3
                && Robust.Quantile([.. Enumerable.Range(stretch.From, stretch.To - stretch.From + 1).Select(row => Math.Abs(Math.Log(third[row] / frame.Amperes[pair.One]![row])))], 0.8) < MostOfThird) continue;
            var outside = Degrees(power, hookups[0], 0, frame.Count - 1, stretch.From - 1, stretch.To + 1);
            if (outside.Length < LeastOutside) continue;
            double low = Robust.Quantile(outside, Share), high = Robust.Quantile(outside, 1 - Share), middle = Robust.Median(outside);
            var shown = Robust.Median(Degrees(power, hookups[0], stretch.From + 1, stretch.To - 1, 1, 0));
            // Where motors stand, and where the site has stood before, a load may be alike on two lines.
            if (!(shown > Math.Max(high, power.HasSign ? 0 : MostLagging) + BeyondDegrees || (power.HasSign && shown < low - BeyondDegrees))) continue;
            var best = hookups.Where(hookup => hookup.OnOne is var (moved, on) && ((moved, on) == pair || (on, moved) == pair))
                .Select(hookup => (Hookup: hookup, Off: Off(hookup))).OrderBy(entry => entry.Off).FirstOrDefault();
            if (best.Hookup is not null && best.Off < 0.5 * Math.Abs(shown - middle)) yield return new TotalStretch(Edge(stretch.From, 1), Edge(stretch.To, -1), best.Hookup, 0.97, LeastOdds);

            // Rows beside it may be alike by chance: the total tells where it begins.
            int Edge(int row, int step)
            {
                while (row + (3 * step) is var beyond && beyond > stretch.From && beyond < stretch.To && Degrees(power, hookups[0], row, row, 1, 0) is [var own] && Math.Abs(own - shown) > Math.Abs(own - middle)) row += step;
                return row;
            }

            double Off(TotalHookup hookup)
            {
                var site = Robust.Median(Degrees(power, hookup, stretch.From + 1, stretch.To - 1, 1, 0));
                return site > low - BeyondDegrees && site < high + BeyondDegrees ? Math.Abs(site - middle) : double.PositiveInfinity;
            }
        }
    }

    /// <summary>Stretches in which two currents keep one ratio near one.</summary>
    private static IEnumerable<(int From, int To)> Alike(double[] one, double[] other)
    {
        double firstLeast = Idle * Robust.Quantile(one, 0.95), secondLeast = Idle * Robust.Quantile(other, 0.95);
        var ratios = new double[one.Length];
        for (var row = 0; row < ratios.Length; row++) ratios[row] = one[row] > firstLeast && other[row] > secondLeast ? Math.Log(one[row] / other[row]) : double.NaN;
        var gain = Robust.Median(Array.FindAll(ratios, ratio => Math.Abs(ratio) < MostGain));
        if (double.IsNaN(gain)) yield break;
        double oneStep = 0.6 * Robust.Step(one), otherStep = 0.6 * Robust.Step(other);
        var chain = new StateChain([Leave, Enter], ratios.Length);
        for (var row = 0; row < ratios.Length; row++)
        {
            // Amperes are written to a step, and a ratio moves by it.
            var spread = Spread + (oneStep / one[row]) + (otherStep / other[row]);
            var off = (ratios[row] - gain) / spread;
            chain.Says[0] = 0;
            chain.Says[1] = double.IsNaN(off) ? 0 : Math.Max(-6, Math.Log(0.4 / spread * Apart) - (0.5 * off * off));
            chain.Take();
        }

        var history = chain.History();
        for (var row = 0; row < history.Length; row++)
        {
            var last = row;
            while (last + 1 < history.Length && history[last + 1] == history[row]) last++;
            if (history[row] == 1 && last - row + 1 >= LeastRows) yield return (row, last);
            row = last;
        }
    }

    /// <summary>Angles of the site's power under a hook-up over some rows, those of a stretch left out; their size alone where the vars have no sign.</summary>
    private static double[] Degrees(TotalPower power, TotalHookup hookup, int from, int to, int leftOutFrom, int leftOutTo)
    {
        var degrees = new List<double>();
        var step = Math.Max(1, (to - from) / 20000);
        for (var row = from; row <= to; row += step)
        {
            if ((row >= leftOutFrom && row <= leftOutTo) || power.Values[row] is not { } value || double.IsNaN(value.Imaginary)) continue;
            var factor = power.Factor(hookup, row);
            if (!(factor.Magnitude > 0.2)) continue;
            var angle = (value / factor).AngleDegrees;
            if (!power.HasSign)
            {
                // Either way round: what goes to the load and lags is likelier.
                var mirrored = (new Circuits.Phasor(value.Real, -value.Imaginary) / factor).AngleDegrees;
                angle = Math.Min(Math.Abs(angle), Math.Abs(mirrored));
            }

            degrees.Add(angle);
        }

        return [.. degrees];
    }
}
