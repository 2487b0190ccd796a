namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>How likely the sizes of the line currents are against each other.</summary>
/// <remarks>Logarithms of the currents are normal around a common mean of any value, at the level's spread; now and then one
/// phase carries far less than the others, or next to nothing.</remarks>
internal static class CurrentSizes
{
    // What boards carry: around 40 A, give or take a factor of eight (common practice, no source).
    private static readonly double s_usualLog = Math.Log(40);
    private const double UsualSpread = 2.1;
    private const double UnloadedRate = 0.004;

    private const double MatchingRate = 0.15;
    private const double MatchingSpread = 0.015;

    /// <summary>Share of boards with one phase far below the others.</summary>
    private const double LightRate = 0.15;

    /// <summary>Smallest share of the largest current that is told from nothing.</summary>
    public const double Floor = 0.002;

    /// <summary>Density of a set of currents, per unit of each logarithm.</summary>
    /// <param name="logs">Natural logarithms of the currents in amperes.</param>
    /// <param name="spread">Spread between the lines.</param>
    /// <param name="mayMatch">True on a split service, whose legs carry the same current where all load is from leg to leg.</param>
    public static double Density(ReadOnlySpan<double> logs, double spread, bool mayMatch)
    {
        if (logs.Length < 2) return Joint(logs, spread, -1);
        var smallest = 0;
        var largest = double.NegativeInfinity;
        for (var index = 0; index < logs.Length; index++)
        {
            if (logs[index] < logs[smallest]) smallest = index;
            largest = Math.Max(largest, logs[index]);
        }

        var apart = logs[smallest] - largest;
        var light = (UnloadedRate * Gauss.Density(apart - Math.Log(0.01), 1.5))
            + (LightRate * Gauss.Density(apart - Math.Log(0.15), 0.8));
        var matching = mayMatch ? MatchingRate : 0;
        return ((1 - UnloadedRate - LightRate - matching) * Joint(logs, spread, -1))
            + (matching * Joint(logs, MatchingSpread, -1)) + (light * Joint(logs, spread, smallest));
    }

    /// <summary>Density of what an open clamp reads, per unit of the reading's logarithm.</summary>
    /// <param name="share">The reading as a share of the largest current.</param>
    /// <param name="amperes">The reading.</param>
    /// <remarks>Pick-up and noise go with the clamp's range, which is not known: it may be far above the load. Where no other clamp reads
    /// more, nothing tells what the load is: some tenths of an ampere then, as clamps of 100 to 1,000 A show (common practice, no source).</remarks>
    public static double OpenClamp(double share, double amperes) => share >= 1
        ? Gauss.Density(Math.Log(Math.Max(amperes, 0.02) / 0.25), 1.3)
        : (0.7 * Gauss.Density(Math.Log(Math.Max(share, Floor) / 0.004), 1.3))
            + (0.3 * Gauss.Density(Math.Log(Math.Max(amperes, 0.02) / 0.2), 1.2));

    private static double Joint(ReadOnlySpan<double> logs, double spread, int leftOut)
    {
        double sum = 0;
        var count = 0;
        for (var index = 0; index < logs.Length; index++)
        {
            if (index == leftOut) continue;
            sum += logs[index];
            count++;
        }

        if (count == 0) return 1;
        var mean = sum / count;
        double squares = 0;
        for (var index = 0; index < logs.Length; index++)
        {
            if (index != leftOut) squares += (logs[index] - mean) * (logs[index] - mean);
        }

        return Gauss.Density(mean - s_usualLog, UsualSpread) * Math.Exp(-0.5 * squares / (spread * spread))
            * Normaliser(spread, count - 1) / Math.Sqrt(count);
    }

    private static double Normaliser(double spread, int freedoms)
    {
        double product = 1;
        for (var freedom = 0; freedom < freedoms; freedom++) product /= spread * Math.Sqrt(2 * Math.PI);
        return product;
    }
}
