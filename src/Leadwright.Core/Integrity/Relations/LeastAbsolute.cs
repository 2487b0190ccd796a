namespace Leadwright.Core.Integrity.Relations;

/// <summary>A fit by least absolute rests, which a few wild rows do not pull: least squares again and again, each row weighed by one over how far off it was.</summary>
/// <remarks>Iteratively reweighted least squares (E. J. Schlossmacher, J. Am. Stat. Assoc. 68 (1973) 857, from memory). Rests below three tenths of their median weigh no more than that.</remarks>
internal static class LeastAbsolute
{
    private const int Turns = 4;

    /// <summary>The mean absolute rest; the mean absolute value where nothing can be fitted.</summary>
    /// <param name="causes">The regressors, row by row.</param>
    /// <param name="count">How many there are in a row.</param>
    /// <param name="values">What is to be explained, a value a row.</param>
    public static double Fit(ReadOnlySpan<double> causes, int count, ReadOnlySpan<double> values)
    {
        var weights = new double[values.Length];
        var rests = new double[values.Length];
        Array.Fill(weights, 1.0);
        var mean = double.NaN;
        for (var turn = 0; turn < Turns; turn++)
        {
            var sums = new NormalEquations(count);
            for (var row = 0; row < values.Length; row++) sums.Add(causes.Slice(row * count, count), values[row], weights[row]);
            if (sums.Solve() is not { } slopes) break;
            double sum = 0;
            for (var row = 0; row < values.Length; row++)
            {
                var rest = values[row];
                for (var index = 0; index < count; index++) rest -= slopes[index] * causes[(row * count) + index];
                rests[row] = Math.Abs(rest);
                sum += double.IsNaN(rest) ? 0 : rests[row];
            }

            mean = sum / values.Length;
            var least = Math.Max(1e-12, 0.3 * Robust.Median(rests));
            for (var row = 0; row < values.Length; row++) weights[row] = 1 / Math.Max(least, double.IsNaN(rests[row]) ? double.PositiveInfinity : rests[row]);
        }

        if (!double.IsNaN(mean)) return mean;
        foreach (var value in values) mean = (double.IsNaN(mean) ? 0 : mean) + (Math.Abs(value) / values.Length);
        return mean;
    }
}
