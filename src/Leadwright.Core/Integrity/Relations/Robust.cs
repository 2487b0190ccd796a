namespace Leadwright.Core.Integrity.Relations;

/// <summary>Middles and spreads that a few wild values do not move. Missing values (NaN) are left out.</summary>
internal static class Robust
{
    /// <summary>The median; NaN of nothing.</summary>
    public static double Median(ReadOnlySpan<double> values) => Quantile(values, 0.5);

    /// <summary>The value below which a share of them lies; NaN of nothing.</summary>
    public static double Quantile(ReadOnlySpan<double> values, double share)
    {
        // A year of minutes is thinned: a quantile of tens of thousands is good enough.
        var step = Math.Max(1, values.Length / 40000);
        var kept = new double[(values.Length + step - 1) / step];
        var count = 0;
        for (var index = 0; index < values.Length; index += step)
        {
            if (!double.IsNaN(values[index])) kept[count++] = values[index];
        }

        if (count == 0) return double.NaN;
        Array.Sort(kept, 0, count);
        return kept[(int)Math.Clamp(share * (count - 1), 0, count - 1)];
    }

    /// <summary>1.4826 times the median distance from the median: the standard deviation of a normal distribution (P. J. Huber, Robust
    /// Statistics, 1981, section 5.1, from memory).</summary>
    public static double Deviation(ReadOnlySpan<double> values)
    {
        var median = Median(values);
        if (double.IsNaN(median)) return double.NaN;
        var distances = new double[values.Length];
        for (var index = 0; index < values.Length; index++) distances[index] = Math.Abs(values[index] - median);
        return 1.4826 * Median(distances);
    }

    /// <summary>A number to the power of five halves: what Student's density of four degrees of freedom asks for in every row.</summary>
    public static double FiveHalves(double value) => value * value * Math.Sqrt(value);

    /// <summary>Changes from row to row; NaN across a missing value. The first is NaN.</summary>
    public static double[] Changes(ReadOnlySpan<double> values)
    {
        var changes = new double[values.Length];
        if (changes.Length > 0) changes[0] = double.NaN;
        for (var index = 1; index < values.Length; index++) changes[index] = values[index] - values[index - 1];
        return changes;
    }

    /// <summary>The step in which values are written: the smallest that stands between two neighbouring values.</summary>
    public static double Step(double[] column)
    {
        var sorted = column.Where(value => !double.IsNaN(value)).ToArray();
        if (sorted.Length > 20000) sorted = sorted[..20000];
        Array.Sort(sorted);
        var step = double.PositiveInfinity;
        for (var index = 1; index < sorted.Length; index++)
        {
            var off = sorted[index] - sorted[index - 1];
            if (off > 1e-9) step = Math.Min(step, off);
        }

        return double.IsInfinity(step) ? 0 : step;
    }
}
