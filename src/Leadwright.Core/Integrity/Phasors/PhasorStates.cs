using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Phasors;

/// <summary>The places of leads and clamps that are weighed in one order of the lines, with what one unit of each impedance makes of the voltages in each; the first is the right one.</summary>
internal sealed class PhasorStates
{
    private const double LeastPrior = -8.5;
    private const double OfEitherWay = 0.4;
    private const double OfRatio = -7;
    private const double Enter = 6;
    private const double Leave = 3;
    private static readonly double[] s_ratios = [10, 5, 2, 0.5, 0.2, 0.1];

    /// <param name="frame">The recording, in the order of its lines that is asked about.</param>
    /// <param name="isAllowed">True for those that are weighed.</param>
    public PhasorStates(GuardFrame frame, Func<Arrangement, bool> isAllowed)
    {
        Arrangement[] moved = [.. Movements.OfLeads(frame, Right).Concat(Movements.OfClamps(frame, Right)).SelectMany(EitherWay)
            .Where(arrangement => arrangement.LogPrior >= LeastPrior && isAllowed(arrangement) && PhasorLaw.Basis(arrangement, frame.Ideal) is not null)];
        double[][][,] bases = [.. moved.Select(arrangement => PhasorLaw.Basis(arrangement, frame.Ideal)!)];
        // Ratios are told elsewhere; here they are what else it may be.
        var ratios = s_ratios.SelectMany(ratio => Enumerable.Range(0, 3).Select(clamp => (Ratio: ratio, Clamp: clamp))).ToArray();
        Arrangements = [.. moved, .. ratios.Select(_ => Right with { LogPrior = OfRatio })];
        Bases = [.. bases, .. ratios.Select(entry => bases[0].Select(part => Scaled(part, entry.Clamp, 1 / entry.Ratio)).ToArray())];
        Off = Array.FindIndex(Arrangements, arrangement => arrangement.Leads[3] < 0);
    }

    /// <summary>Every lead and clamp where it belongs.</summary>
    public static Arrangement Right => new([0, 1, 2, 3], [0, 1, 2, 3], new bool[4], 0);

    /// <summary>The places.</summary>
    public Arrangement[] Arrangements { get; }

    /// <summary>What one unit of R1, X1, Rn and Xn makes of the voltages in each.</summary>
    public double[][][,] Bases { get; }

    /// <summary>Number of the one with the neutral lead in the air; below zero where it is not weighed.</summary>
    public int Off { get; }

    /// <summary>The likeliest course of states, with its log-likelihood.</summary>
    /// <param name="gains">What each state wins, by block and state, nats.</param>
    public (int[] States, double Score) Path(double[][] gains)
    {
        var count = Arrangements.Length;
        double[] costs = [.. Arrangements.Select((arrangement, state) => state == 0 ? Leave : Enter - arrangement.LogPrior)];
        var scores = new double[count];
        for (var state = 0; state < count; state++) scores[state] = gains[0][state] - (state == 0 ? 0 : costs[state] - Leave);
        var before = new int[gains.Length][];
        for (var block = 1; block < gains.Length; block++)
        {
            var top = 0;
            for (var state = 1; state < count; state++) top = scores[state] > scores[top] ? state : top;
            before[block] = new int[count];
            var next = new double[count];
            for (var state = 0; state < count; state++)
            {
                var isStay = scores[state] >= scores[top] - costs[state];
                before[block][state] = isStay ? state : top;
                next[state] = (isStay ? scores[state] : scores[top] - costs[state]) + gains[block][state];
            }

            scores = next;
        }

        var best = 0;
        for (var state = 1; state < count; state++) best = scores[state] > scores[best] ? state : best;
        var (path, score) = (new int[gains.Length], scores[best]);
        for (var block = gains.Length - 1; block >= 0; block--)
        {
            path[block] = best;
            if (block > 0) best = before[block][best];
        }

        return (path, score);
    }

    /// <summary>True where two differ in nothing but which way round a clamp hangs on the neutral, or in a ratio.</summary>
    public bool IsSamePlace(int one, int other) => IsSamePlace(Arrangements[one], Arrangements[other]);

    private static bool IsSamePlace(Arrangement one, Arrangement other) => one.Leads.AsSpan().SequenceEqual(other.Leads) && one.Clamps.AsSpan().SequenceEqual(other.Clamps) && (one.Clamps.AsSpan(0, 3).Contains(3) || one.IsLike(other));

    /// <summary>On the neutral no direction is the usual one.</summary>
    private static IEnumerable<Arrangement> EitherWay(Arrangement arrangement)
    {
        yield return arrangement;
        if (Array.IndexOf(arrangement.Clamps, 3, 0, 3) is var clamp && (clamp < 0 || arrangement.Reversed[clamp])) yield break;
        yield return arrangement with { Reversed = [.. arrangement.Reversed.Select((reversed, index) => reversed || index == clamp)], LogPrior = arrangement.LogPrior - OfEitherWay };
    }

    private static double[,] Scaled(double[,] law, int clamp, double by)
    {
        var scaled = (double[,])law.Clone();
        for (var channel = 0; channel < 3; channel++)
        {
            for (var part = 2 * clamp; part < (2 * clamp) + 2; part++) scaled[channel, part] *= by;
        }

        return scaled;
    }
}
