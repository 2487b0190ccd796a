using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>Knows a clamp's ratio for itself, by how the voltages answer to its current and to the other lines': one that is wrong from first to last, and which side of a leap of the ratio is the wrong one.</summary>
/// <remarks>See <see cref="SupplyMatrix"/>. What leaps tells that there were two ratios, and not which of them is right; what never leaps tells nothing by itself.</remarks>
internal static class StandingRatio
{
    private static readonly double[] s_ratios = [10, 5, 2, 0.5, 0.2, 0.1];

    /// <summary>A clamp's ratio is set wrong for a whole recording once in two hundred; six ratios and three clamps were tried. Common practice, no source.</summary>
    private const double LeastOdds = 7.5;
    private const double NearRatio = 0.16;
    private const double MostWorse = 1;
    private const double LeastToTurn = 4;
    private const double NearInverse = 0.35;
    private const double LeastShare = 0.6;
    private const int LeastRows = 50;
    private const double LeastLoad = 0.1;

    /// <summary>Lines of a load of three stand within so much of each other, logarithm, and keep so still (our choice).</summary>
    private const double Apart = 0.5;
    private const double Alike = 0.3;
    private const double Still = 0.08;

    /// <summary>Puts what is known into the histories of the clamps.</summary>
    public static void Put(GuardFrame frame, VoltageHistory voltages, AngleHistory?[] angles, CurrentHistory?[] currents)
    {
        bool IsPlain(int row, int clamp) =>
            Array.TrueForAll(angles, angle => angle is null || angle.Rows[row] <= 0)
            && Enumerable.Range(0, frame.Lines).All(other => other == clamp || currents[other] is null || currents[other]!.Rows[row] == 0);
        for (var clamp = 0; clamp < frame.Lines; clamp++)
        {
            if (currents[clamp] is { IsAbsolute: false } current && !IsOfAll(frame, currents, clamp)) Turn(frame, voltages, current, clamp, row => IsPlain(row, clamp));
        }

        Throughout(frame, voltages, currents, row => IsPlain(row, -1));
        if (frame.Lines == 3 && !frame.Options.Check.MayExport) OfThreePhaseLoad(frame, currents);
    }

    /// <summary>One clamp that shows ten times the others, or a tenth, in all rows alike, while these two go together: loads of three lines, for none of one line goes with them so.</summary>
    private static void OfThreePhaseLoad(GuardFrame frame, CurrentHistory?[] currents)
    {
        if (frame.Amperes.Take(3).Any(column => column is null) || currents.Take(3).Any(current => current is null || current.Rows.Any(state => current.Scales[state] is not (0 or 1)))) return;
        for (var clamp = 0; clamp < 3; clamp++)
        {
            double[] own = frame.Amperes[clamp]!, one = frame.Amperes[(clamp + 1) % 3]!, other = frame.Amperes[(clamp + 2) % 3]!;
            double least = LeastLoad * Robust.Quantile(one, 0.95);
            int[] rows = [.. Enumerable.Range(0, frame.Count).Where(row => one[row] > least && other[row] > least && own[row] > 0)];
            if (rows.Length < LeastRows) continue;
            double[] apart = [.. rows.Select(row => Math.Log(one[row] / other[row]))], over = [.. rows.Select(row => Math.Log(own[row] / Math.Sqrt(one[row] * other[row])))];
            var middle = Robust.Median(over);
            if (Math.Abs(Robust.Median(apart)) > Apart || Robust.Deviation(apart) > Still || Robust.Deviation(over) > Still || Math.Abs(Math.Abs(middle) - Math.Log(10)) > Alike) continue;
            var put = (byte)Array.IndexOf(currents[clamp]!.Scales, middle > 0 ? 10 : 0.1);
            for (var row = 0; row < currents[clamp]!.Rows.Length; row++) currents[clamp]!.Rows[row] = currents[clamp]!.Rows[row] == 0 ? put : currents[clamp]!.Rows[row];
            currents[clamp]!.IsAbsolute = true;
            return;
        }
    }

    /// <summary>True where another clamp is said to be at the same ratio in most of the rows in which this one is: what both do the others' answers do not tell.</summary>
    private static bool IsOfAll(GuardFrame frame, CurrentHistory?[] currents, int clamp)
    {
        var own = currents[clamp]!.Rows;
        var all = own.Count(state => state != 0);
        return Enumerable.Range(0, frame.Lines).Any(other => other != clamp && currents[other] is { } beside && 2 * Enumerable.Range(0, own.Length).Count(row => own[row] != 0 && beside.Rows[row] == own[row]) > all);
    }

    /// <summary>Where the rest, and not the stretch that was found, is at another ratio than the lines beside it.</summary>
    private static void Turn(GuardFrame frame, VoltageHistory voltages, CurrentHistory current, int clamp, Func<int, bool> isPlain)
    {
        byte[] states = [.. current.Rows.Where(state => current.Scales[state] != 0).Distinct().Where(state => state != 0)];
        if (states is not [var state] || Array.IndexOf(current.Scales, 1 / current.Scales[state]) is not (> 0 and var inverse)) return;
        var scale = current.Scales[state];
        if (SupplyMatrix.Learn(frame, voltages, row => isPlain(row) && current.Rows[row] == 0) is not { } outside || outside.GainOf(clamp) is not { } of) return;
        var odds = outside.Odds(clamp, 1 / scale, 1);
        // Neither what was found nor its inverse: something else is at work.
        if (Math.Abs(Math.Log(of.Gain * (odds > 0 ? scale : 1))) > NearInverse) return;
        if (SupplyMatrix.Learn(frame, voltages, row => isPlain(row) && current.Rows[row] == state) is { } inside && inside.GainOf(clamp) is not null) odds += inside.Odds(clamp, 1, scale);
        current.IsAbsolute = Math.Abs(odds) > LeastToTurn;
        if (odds < LeastToTurn) return;
        for (var row = 0; row < current.Rows.Length; row++)
        {
            if (current.Rows[row] == state) current.Rows[row] = 0;
            else if (current.Rows[row] == 0) current.Rows[row] = (byte)inverse;
        }
    }

    private static void Throughout(GuardFrame frame, VoltageHistory voltages, CurrentHistory?[] currents, Func<int, bool> isPlain)
    {
        if (frame.Lines != 3) return;
        int[] rows = [.. Enumerable.Range(0, frame.Count).Where(isPlain)];
        if (rows.Length < LeastShare * frame.Count || SupplyMatrix.Learn(frame, voltages, isPlain) is not { } matrix) return;
        if (matrix.Blamed(LeastOdds) is not { Clamp: var wrong, Gain: var gain } || currents[wrong] is not { } current || current.Rows.Any(state => current.Scales[state] is not (0 or 1))) return;
        var ratio = s_ratios.MinBy(ratio => Math.Abs(Math.Log(gain / ratio)));
        // Any gain may be a jaw's: a ratio must fit about as well as the best of all.
        if (Math.Abs(Math.Log(gain / ratio)) > NearRatio || matrix.Odds(wrong, gain, ratio) > MostWorse || SupplyMatrix.HoldsFrom(frame, voltages, isPlain, wrong, ratio) > 0) return;
        var put = (byte)Array.IndexOf(current.Scales, ratio);
        for (var row = 0; row < current.Rows.Length; row++) current.Rows[row] = current.Rows[row] == 0 ? put : current.Rows[row];
        current.IsAbsolute = true;
    }
}
