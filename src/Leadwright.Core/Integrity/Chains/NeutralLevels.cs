using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>How strongly the phases of a wye service answer to their currents while the neutral lead is on and while it is off, and whether it
/// was off throughout.</summary>
/// <remarks>
/// With the line's impedance Z1 and the zero-sequence one Z0, an ampere in phase k moves V(k) less the mean of the others by (Z1 + Z0)/2 while
/// the neutral lead is on, and by Z1/2 while the inputs' star point stands at the mean of the lines; the mean of the three voltages it moves by
/// Z1/3 in both. So the answer falls by 1 + Z0/Z1, at least to half where Z0 is no less than Z1, when the lead falls off; and 1.5 times the
/// mean's answer is what a phase's own comes to with the lead off, and three times it or more with the lead on. Derivation: docs/methods/guard.md.
/// </remarks>
internal static class NeutralLevels
{
    private static readonly double[] s_on = [0.7, 0.85, 1, 1.2, 1.5, 1.9, 2.4, 3, 3.8];
    private static readonly double[] s_shares = [0.1, 0.14, 0.2, 0.28, 0.38];
    private const double BlockSeconds = 3600;

    /// <summary>The answers against what was learned from the whole recording.</summary>
    internal readonly record struct Levels(double On, double Off, bool IsOffThroughout);

    public static Levels Find(GuardFrame frame, VoltageHistory voltages, VoltageAnswer[] answers, CurrentHistory?[] currents)
    {
        var usual = new Levels(1, 0.25, false);
        var perBlock = (int)Math.Max(3, Math.Ceiling(BlockSeconds / frame.Log.IntervalSeconds));
        var count = frame.Count / perBlock;
        // Too few hours for some of them to be told from the rest: whether it was off in all of them steps tell sooner.
        if (count < 6) return IsOffThroughout(frame, voltages, answers) ? usual with { IsOffThroughout = true } : usual;
        double[] squares = new double[count], products = new double[count];
        for (var row = 1; row < count * perBlock; row++)
        {
            // A clamp at another ratio speaks too loudly or too softly for all.
            if (Array.Exists(currents, current => current is not null && (current.Rows[row] != 0 || current.Rows[row - 1] != 0))) continue;
            for (var index = 0; index < frame.Lines; index++)
            {
                var answer = answers[index];
                var all = answer.Own(row) - answer.Own(row - 1) + answer.Others(row);
                var moved = answer.Change(row);
                if (double.IsNaN(all) || double.IsNaN(moved)) continue;
                var variance = (answer.Spread * answer.Spread) + (0.04 * all * all);
                // Where the change itself falls nothing is said.
                if (moved * moved > (36 * answer.Spread * answer.Spread) + (16 * all * all)) continue;
                squares[row / perBlock] += (2 / 3.0) * all * all / variance;
                products[row / perBlock] += (2 / 3.0) * all * moved / variance;
            }
        }

        double square = squares.Sum(), product = products.Sum();
        if (!(square > 0)) return usual;
        var single = product * product / (2 * square);
        var (best, most, offs) = (usual, single + 25, 0);
        foreach (var on in s_on)
        {
            foreach (var share in s_shares)
            {
                var (score, off) = Segment(squares, products, on, on * share);
                if (score <= most || off == count) continue;
                (best, most, offs) = (new Levels(on, on * share, false), score, off);
            }
        }

        if (offs > 0) return best;
        if (!IsOffThroughout(frame, voltages, answers)) return usual;
        // Off for nearly all of it, what was learned is the weak answer: some hours of a stronger one are those with the lead on.
        var (rare, top) = (usual with { IsOffThroughout = true }, single + 6);
        foreach (var share in s_shares)
        {
            var (score, off) = Segment(squares, products, 1 / share, 1);
            if (score <= top || off == count) continue;
            (rare, top) = (new Levels(1 / share, 1, false), score);
        }

        return rare;
    }

    /// <summary>Log-likelihood of the best history of the two levels, a change costing twelve nats, and how many blocks are off in it.</summary>
    private static (double Score, int Off) Segment(double[] squares, double[] products, double on, double off)
    {
        const double Cost = 12;
        double high = 0, low = -Cost;
        int highOffs = 0, lowOffs = 0;
        for (var block = 0; block < squares.Length; block++)
        {
            double sayHigh = (on * products[block]) - (0.5 * on * on * squares[block]), sayLow = (off * products[block]) - (0.5 * off * off * squares[block]);
            var (nextHigh, nextHighOffs) = high >= low - Cost ? (high, highOffs) : (low - Cost, lowOffs);
            var (nextLow, nextLowOffs) = low >= high - Cost ? (low, lowOffs) : (high - Cost, highOffs);
            (high, highOffs, low, lowOffs) = (nextHigh + sayHigh, nextHighOffs, nextLow + sayLow, nextLowOffs + 1);
        }

        return high >= low ? (high, highOffs) : (low, lowOffs);
    }

    /// <summary>Holds the phases' own answers against that of the mean of the voltages.</summary>
    private static bool IsOffThroughout(GuardFrame frame, VoltageHistory voltages, VoltageAnswer[] answers)
    {
        if (frame.Lines != 3 || frame.Watts.Any(column => column is null) || !answers.Take(3).All(answer => answer.IsSharp)) return false;
        double square = 0, product = 0;
        var rests = new List<(double All, double Moved)>();
        for (var row = 1; row < frame.Count; row++)
        {
            if (voltages.Rows[row] != 0 || voltages.Rows[row - 1] != 0 || double.IsNaN(answers[0].Change(row))) continue;
            double all = 0, moved = 0;
            for (var index = 0; index < 3; index++)
            {
                // What a phase's own current does to its difference, for all three: the mean's answer is a third of Z1, and theirs are known.
                all += answers[index].Own(row) - answers[index].Own(row - 1);
                moved += (frame.Volts[index]![row] - frame.Volts[index]![row - 1]) / 3;
            }

            if (!double.IsNaN(all) && !double.IsNaN(moved)) rests.Add((all, moved));
        }

        if (rests.Count < 200) return false;
        var spread = 1.0;
        for (var pass = 0; pass < 3; pass++)
        {
            double squares = 0, products = 0;
            foreach (var (all, moved) in rests)
            {
                if (pass > 0 && Math.Abs(moved - (product / square * all)) > 3.5 * spread) continue;
                squares += all * all;
                products += all * moved;
            }

            if (!(squares > 0)) return false;
            (square, product) = (squares, products);
            spread = Robust.Deviation([.. rests.Select(entry => entry.Moved - (products / squares * entry.All))]);
        }

        // The mean's answer over the phase's own: 2/3 with the lead off, (2/3) / (1 + Z0/Z1) with it on.
        double ratio = product / square, error = Math.Sqrt((spread * spread / square) + 0.0036);
        var off = Log(ratio - 0.667, error);
        var on = double.NegativeInfinity;
        for (var z = 0.8; z < 7; z *= 1.15) on = Math.Max(on, Log(ratio - (0.667 / (1 + z)), error));
        return off - on > 4;
    }

    private static double Log(double away, double error) => -0.5 * away * away / (error * error);
}
