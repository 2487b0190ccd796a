using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Asks the voltage, in rows of seconds, whether more flowed than a clamp showed where its largest values pile up.</summary>
/// <remarks>
/// In such rows loads stand still for minutes: one that comes and goes piles its readings up at one value however often it is written, and their number says nothing of a range. But as a current goes beyond the
/// end of a range the voltage falls by more than what is shown, and rises by more as it comes back; where a load of one size comes and goes it moves by what is shown. Each edge is weighed by
/// log of the mean over hidden shares s of p(change | own part (1 + s) inside) against p(change | as shown), with <see cref="VoltageAnswer"/>'s own density. All of s are a priori alike: by how far a current goes
/// beyond its range nobody knows (our choice).
/// </remarks>
internal static class HiddenCurrent
{
    /// <summary>By how much of what is shown more may have flowed.</summary>
    internal static readonly double[] Shares = [0.02, 0.04, 0.08, 0.16, 0.32, 0.64];
    private static readonly double[] s_often = [0.003, 0.01, 0.03, 0.1, 0.3, 0.9];

    /// <summary>What choosing among six costs.</summary>
    private const double Choice = 1.8;

    /// <summary>An edge's row may be mixed: the row before and the one behind it are held against each other.</summary>
    private const int Across = 2;

    /// <summary>So many rows below the value within a stay at it are noise.</summary>
    private const int Break = 3;

    /// <summary>Log-odds that more flowed than was shown in rows at or above a value; NaN where the voltage can't tell.</summary>
    /// <param name="answer">How the phase's voltage answers.</param>
    /// <param name="column">The clamp's current, amperes.</param>
    /// <param name="least">From which value on it may have been cut.</param>
    public static double Odds(VoltageAnswer answer, double[] column, double least)
    {
        if (!answer.IsKnown || !answer.IsSharp) return double.NaN;
        var edges = new double[s_often.Length];
        var inside = new double[s_often.Length];
        foreach (var (from, to) in FlatTopFinder.Stays(column, least, Break))
        {
            if (to - from < 1) continue;
            Add(edges, answer, from - Across, from + 1, from + 1, 1, 0);
            Add(edges, answer, to - 1, to + Across, to - 1, -1, 0);
            for (var row = from + 1; row <= to; row++) Add(inside, answer, row - 1, row, row, 1, -1);
        }

        return Math.Max(0, edges.Max() - Choice) + Math.Max(0, inside.Max() - Choice);
    }

    /// <summary>Adds what a change says, for each share of changes in which something hidden moves.</summary>
    private static void Add(double[] sums, VoltageAnswer answer, int then, int now, int at, int sign, int otherSign)
    {
        if (then < 0 || now >= answer.Count) return;
        double own = answer.Own(at), shown = answer.Own(now) - answer.Own(then), plain = answer.SayAcross(then, now, shown), mean = 0;
        if (double.IsNaN(shown) || double.IsNaN(plain)) return;
        var ways = otherSign == 0 ? 1 : 2;
        foreach (var share in Shares)
        {
            mean += Ratio(sign * share);
            if (otherSign != 0) mean += Ratio(otherSign * share);
        }

        mean /= ways * Shares.Length;
        for (var index = 0; index < sums.Length; index++) sums[index] += Math.Log(1 - s_often[index] + (s_often[index] * mean));
        double Ratio(double share) => Math.Exp(Math.Clamp(answer.SayAcross(then, now, shown + (share * own)) - plain, -50, 50));
    }
}
