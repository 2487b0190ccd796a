using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Recorder;

/// <summary>Weighs, in rows of seconds, whether a pile of largest readings is a range's end or a load that stands still.</summary>
/// <remarks>
/// Such a load piles its readings up at one value, as many as the seconds that it runs, so that their number says nothing. Three things do: the voltage, that falls by more than what is shown (<see cref="HiddenCurrent"/>); the
/// sum of the lines, for a clamp on the neutral; and how still the reading keeps, since what else a line carries wanders on under a steady load and not at the end of a range: as one in so many stretches at other large
/// values, ln of which less two, for each stay (under a load of its own that is less than nothing on the mean).
/// </remarks>
internal static class RangeOfSeconds
{
    /// <summary>Rows up to this long go on from one another.</summary>
    public const double Longest = 10;
    private const int Stretch = 20;
    private const int Break = 60;
    private const double LeastOfTop = 0.5;
    private const double MostOfTop = 0.97;

    /// <summary>Log-odds for a range's end, and whether anything could have told of one.</summary>
    /// <param name="currents">What the clamps do, with the voltages' answers.</param>
    /// <param name="sum">What the neutral's clamp should show; null where unknown.</param>
    /// <param name="column">The clamp's current.</param>
    /// <param name="clamp">The clamp.</param>
    /// <param name="top">The largest value.</param>
    /// <param name="least">From which value on it may have been cut.</param>
    public static (double Odds, bool IsTold) Weigh(CurrentHistory?[] currents, NeutralSum? sum, double[] column, int clamp, double top, double least)
    {
        var told = clamp == 3 ? OfNeutral(sum, column, least) : currents[clamp] is { } current ? HiddenCurrent.Odds(current.Answer, column, least) : double.NaN;
        return ((double.IsNaN(told) ? 0 : told) + Stillness(column, top, least), !double.IsNaN(told));
    }

    private static double OfNeutral(NeutralSum? sum, double[] column, double least)
    {
        if (sum is null) return double.NaN;
        double odds = 0;
        foreach (var (from, to) in FlatTopFinder.Stays(column, least, Break))
        {
            var (expected, spread) = sum.Over(from, to);
            if (double.IsNaN(expected)) continue;
            var plain = NeutralLeadChain.Say(expected - least, spread);
            odds += Math.Log(HiddenCurrent.Shares.Average(share => Math.Exp(NeutralLeadChain.Say(expected - (least * (1 + share)), spread) - plain)));
        }

        return odds;
    }

    /// <summary>How much stiller the readings keep there than elsewhere.</summary>
    private static double Stillness(double[] column, double top, double least)
    {
        List<double> elsewhere = [], there = [];
        var occasions = FlatTopFinder.Stays(column, least, Break).Count;
        for (var row = 0; row + Stretch <= column.Length; row += Stretch)
        {
            double moved = 0, low = double.PositiveInfinity, high = 0;
            for (var at = row; at < row + Stretch; at++)
            {
                if (at > row) moved += Math.Abs(column[at] - column[at - 1]) / column[at];
                (low, high) = (Math.Min(low, column[at]), Math.Max(high, column[at]));
            }

            if (double.IsNaN(moved)) continue;
            if (low >= least) there.Add(moved);
            else if (low > LeastOfTop * top && high < MostOfTop * top) elsewhere.Add(moved);
        }

        if (there.Count < 3 || elsewhere.Count < 3) return 0;
        var usual = Robust.Median([.. there]);
        var share = (elsewhere.Count(moved => moved <= usual) + 1.0) / (elsewhere.Count + 1);
        return Math.Max(0, Math.Min(occasions, there.Count) * (-Math.Log(share) - 2));
    }
}
