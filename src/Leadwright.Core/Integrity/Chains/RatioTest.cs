using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Whether one clamp's wrong ratio explains that the phases' voltages answer otherwise for a while, as the neutral lead in the air does too.</summary>
/// <remarks>With the neutral lead off every phase's voltage answers less to all currents, and no current leaps. With a ratio of two set on one clamp every phase answers to that clamp's current half as much
/// as it seems, to the others' as ever, and the current leaps by the ratio at both ends.</remarks>
internal static class RatioTest
{
    private static readonly double[] s_ratios = [2, 0.5, 5, 0.2];

    /// <summary>Log-likelihood that the best ratio of one clamp wins over none in the rows of a stretch; minus infinity where no current leaps by one, or nothing is known.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="answers">How the voltages answer.</param>
    /// <param name="on">How strongly, against what was learned.</param>
    /// <param name="from">First row.</param>
    /// <param name="to">Last row.</param>
    public static double Gain(GuardFrame frame, VoltageAnswer[] answers, double on, int from, int to)
    {
        var best = double.NegativeInfinity;
        if (frame.Lines != 3 || to - from < 4) return best;
        for (var clamp = 0; clamp < 3; clamp++)
        {
            if (frame.Amperes[clamp] is not { } amperes || Array.Exists(answers[..3], answer => answer.Weights.Length <= clamp)) continue;
            var leap = Leap(amperes, from, to);
            foreach (var ratio in s_ratios)
            {
                if (!(Math.Abs(leap - Math.Log(ratio)) < 0.4 * Math.Abs(Math.Log(ratio)))) continue;
                double gain = 0;
                for (var row = from + 2; row < to; row++) gain += OfRow(frame, answers, on, clamp, ratio, row);
                best = Math.Max(best, gain);
            }
        }

        return best;
    }

    private static double OfRow(GuardFrame frame, VoltageAnswer[] answers, double on, int clamp, double ratio, int row)
    {
        if (!frame.TryMeanCurrent(clamp, row, out var inPhase, out var across) || !frame.TryMeanCurrent(clamp, row - 1, out var inPhaseThen, out var acrossThen)) return 0;
        double gain = 0;
        for (var phase = 0; phase < 3; phase++)
        {
            var answer = answers[phase];
            var (real, imaginary) = answer.Weights[clamp];
            double moved = answer.Change(row), all = answer.Own(row) - answer.Own(row - 1) + answer.Others(row);
            var seems = (real * (inPhase - inPhaseThen)) + (imaginary * (across - acrossThen));
            if (double.IsNaN(moved + all + seems)) continue;
            gain += 2 / 3.0 * (Say(moved, all - ((1 - (1 / ratio)) * seems), on, answer.Spread) - Say(moved, all, on, answer.Spread));
        }

        return gain;
    }

    private static double Say(double moved, double all, double on, double spread)
    {
        var wide = Math.Sqrt((spread * spread) + (0.09 * on * on * all * all));
        var off = (moved - (on * all)) / wide;
        return -Math.Log(wide) - (2.5 * Math.Log(1 + (off * off / 4)));
    }

    /// <summary>By how much the logarithm of a current leaps as a stretch begins and back as it ends, the rows in which the change may have fallen left out; NaN where it does so at one end only.</summary>
    private static double Leap(double[] amperes, int from, int to)
    {
        double comes = Across(from - 2, from + 1, 1), goes = Across(to + 2, to - 1, -1);
        if (double.IsNaN(comes)) return goes;
        if (double.IsNaN(goes)) return comes;
        return comes * goes > 0 && Math.Abs(comes - goes) < 0.8 * Math.Abs(comes + goes) ? 0.5 * (comes + goes) : double.NaN;

        double Across(int outside, int inside, int step)
        {
            double then = 0, now = 0;
            for (var off = 0; off < 2; off++)
            {
                int one = outside - (step * off), other = inside + (step * off);
                if (one < 0 || one >= amperes.Length) return double.NaN;
                (then, now) = (then + amperes[one], now + amperes[other]);
            }

            return Math.Log(now / then);
        }
    }
}
