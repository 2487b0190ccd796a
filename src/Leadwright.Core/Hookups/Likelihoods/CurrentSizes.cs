namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>How likely the sizes of the line currents are against each other.</summary>
/// <remarks>Logarithms of the currents are normal around a common mean of any value, at the level's spread; now and then a
/// phase carries next to nothing.</remarks>
internal static class CurrentSizes
{
    /// <summary>Density of the common mean, flat over what boards carry.</summary>
    private const double MeanDensity = 0.2;
    private const double UnloadedRate = 0.004;

    /// <summary>Smallest share of the largest current that is told from nothing.</summary>
    public const double Floor = 0.002;

    /// <summary>Density of a set of currents, per unit of each logarithm.</summary>
    public static double Density(ReadOnlySpan<double> logs, double spread)
    {
        if (logs.Length < 2) return Joint(logs, spread, -1);
        var smallest = 0;
        var largest = double.NegativeInfinity;
        for (var index = 0; index < logs.Length; index++)
        {
            if (logs[index] < logs[smallest]) smallest = index;
            largest = Math.Max(largest, logs[index]);
        }

        var unloaded = UnloadedRate * Gauss.Density(logs[smallest] - largest - Math.Log(0.01), 1.5);
        return Joint(logs, spread, -1) + (unloaded * Joint(logs, spread, smallest));
    }

    /// <summary>Density of what an open clamp reads, as a share of the largest current, per unit of its logarithm.</summary>
    /// <remarks>Pick-up and noise go with the clamp's range, which may be far above the load.</remarks>
    public static double OpenClamp(double share) => Gauss.Density(Math.Log(Math.Max(share, Floor) / 0.004), 1.3);

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

        return MeanDensity * Math.Exp(-0.5 * squares / (spread * spread))
            / (Math.Pow(2 * Math.PI * spread * spread, (count - 1) / 2.0) * Math.Sqrt(count));
    }
}
