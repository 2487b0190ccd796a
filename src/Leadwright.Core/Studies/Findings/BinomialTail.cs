namespace Leadwright.Core.Studies.Findings;

/// <summary>How likely so many hits are by chance.</summary>
/// <remarks>The one-sided binomial test: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.6.18 (the binomial distribution). Trials must not depend on each other.</remarks>
public static class BinomialTail
{
    /// <summary>The probability of at least so many hits.</summary>
    /// <param name="hits">Hits, 0 to <paramref name="trials"/>.</param>
    /// <param name="trials">Trials.</param>
    /// <param name="chance">Probability of a hit, 0 to 1.</param>
    public static double AtLeast(int hits, int trials, double chance)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(hits);
        ArgumentOutOfRangeException.ThrowIfLessThan(trials, hits);
        if (hits == 0) return 1;
        if (!(chance > 0)) return 0;
        if (chance >= 1) return 1;
        // Terms from the largest down, each from the one before: nothing overflows.
        var term = trials * Math.Log(1 - chance);
        var ratio = Math.Log(chance) - Math.Log(1 - chance);
        var (sum, count) = (0.0, 0);
        for (; count <= trials; count++)
        {
            if (count >= hits) sum += Math.Exp(term);
            if (count < trials) term += Math.Log((double)(trials - count) / (count + 1)) + ratio;
        }

        return Math.Min(sum, 1);
    }
}
