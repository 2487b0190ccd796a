using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Holds the ratios that were found for single clamps against the sum of the currents as all clamps are said to read: drops what it speaks against; what it speaks for is wrong there, however long it was so.</summary>
/// <remarks>Each clamp's history is found by itself, with the others doing the likeliest; only together do they show that a sum which comes out right needs no ratio.</remarks>
internal sealed class BalancedRatios
{
    private const double LeastOdds = 12;
    private const int LeastRows = 4;
    private readonly CurrentSum _sum;
    private readonly VoltageHistory _voltages;
    private readonly CurrentHistory?[] _currents;
    private readonly double _weight;

    private BalancedRatios(GuardFrame frame, CurrentSum sum, VoltageHistory voltages, CurrentHistory?[] currents) =>
        (_sum, _voltages, _currents, _weight) = (sum, voltages, currents, Math.Min(1, Math.Sqrt(frame.Log.IntervalSeconds / 600)));

    public static void Override(GuardFrame frame, CurrentSum? sum, VoltageHistory voltages, CurrentHistory?[] currents)
    {
        if (sum is not { IsOfNeutral: true }) return;
        var balance = new BalancedRatios(frame, sum, voltages, currents);
        for (var clamp = 0; clamp < currents.Length; clamp++)
        {
            if (currents[clamp] is { } current) balance.Override(clamp, current);
        }
    }

    private void Override(int clamp, CurrentHistory current)
    {
        for (var row = 0; row < current.Rows.Length; row++)
        {
            var (state, last) = (current.Rows[row], row);
            while (last + 1 < current.Rows.Length && current.Rows[last + 1] == state) last++;
            if (current.Scales[state] is not (0 or 1))
            {
                var odds = Odds(clamp, row, last, current.Scales[state]);
                if (odds < -LeastOdds)
                {
                    Array.Clear(current.Rows, row, last - row + 1);
                    PutBeside(clamp, current, row, last, 1 / current.Scales[state]);
                }

                current.IsAbsolute |= odds > LeastOdds;
            }

            row = last;
        }
    }

    /// <summary>Where the clamp was right in a stretch that stands out, what lies beside it may have been wrong.</summary>
    private void PutBeside(int clamp, CurrentHistory current, int from, int to, double scale)
    {
        if (Array.FindIndex(current.Scales, other => Math.Abs(other - scale) < 1e-9) is not (>= 0 and var state)) return;
        int first = from, end = to + 1;
        while (first > 0 && current.Rows[first - 1] == 0) first--;
        while (end < current.Rows.Length && current.Rows[end] == 0) end++;
        foreach (var (start, stop) in new[] { (first, from), (to + 1, end) })
        {
            if (stop - start < LeastRows || Odds(clamp, start, stop - 1, scale) < LeastOdds) continue;
            Array.Fill(current.Rows, (byte)state, start, stop - start);
            current.IsAbsolute = true;
        }
    }

    /// <summary>How much better the currents add up with the clamp at a scale than as it shows, the others being as they are said to be.</summary>
    private double Odds(int clamp, int from, int to, double scale)
    {
        Span<double> scales = stackalloc double[4];
        double odds = 0;
        for (var row = from; row <= to; row++)
        {
            if (_voltages.At(row).Kind != VoltageStateKind.Sound) continue;
            for (var other = 0; other < 4; other++) scales[other] = _currents[other] is { } current ? current.Scales[current.Rows[row]] : 1;
            scales[clamp] = scale;
            var with = _sum.Say(row, scales);
            scales[clamp] = 1;
            odds += _weight * (with - _sum.Say(row, scales));
        }

        return odds;
    }
}
