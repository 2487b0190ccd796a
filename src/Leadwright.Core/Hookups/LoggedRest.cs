using Leadwright.Core.Hookups.Steps;

namespace Leadwright.Core.Hookups;

/// <summary>What the voltages of a log do that no arrangement of the clamps can explain.</summary>
/// <remarks>
/// The drop by any arrangement is linear in what the clamps read, so that the best linear fit without any arrangement leaves what is noise for all of them.
/// Intervals in which the currents stand still do not tell it: loads answer to the supply, and where
/// nothing else moves them the stillest currents are those of the stillest supply.
/// </remarks>
internal static class LoggedRest
{
    /// <summary>A fit over fewer changes than this for each number that it may choose tells little of what it leaves.</summary>
    private const int FewestPerFeature = 4;

    /// <summary>Standard deviation over the median of the size, of a normal distribution.</summary>
    private const double PerMedian = 1.4826;

    /// <summary>Finds it.</summary>
    /// <param name="moves">The voltages' changes, each a share of its voltage.</param>
    /// <param name="currents">The changes of what the clamps read, in the same order.</param>
    /// <returns>Standard deviation of each voltage for itself and of what all share; nothing where there are too few changes. By the median, for a line
    /// that no clamp reads moves the voltages too, now and then.</returns>
    public static (double Own, double Common) Of(double[][] moves, double[][] currents)
    {
        var (count, channels) = (moves.Length, moves.Length == 0 ? 0 : moves[0].Length);
        var features = count == 0 ? 0 : currents[0].Length;
        if (channels == 0 || count < FewestPerFeature * features) return (0, 0);
        var matrix = new double[features * features];
        var sides = new double[channels][];
        for (var channel = 0; channel < channels; channel++) sides[channel] = new double[features];
        for (var change = 0; change < count; change++)
        {
            for (var one = 0; one < features; one++)
            {
                for (var other = 0; other < features; other++) matrix[(one * features) + other] += currents[change][one] * currents[change][other];
                for (var channel = 0; channel < channels; channel++) sides[channel][one] += currents[change][one] * moves[change][channel];
            }
        }

        for (var one = 0; one < features; one++) matrix[one * (features + 1)] += 1e-12 + (1e-9 * matrix[one * (features + 1)]);
        var inverse = new double[features * features];
        if (double.IsNaN(SymmetricMatrix.Factor(matrix, features))) return (0, 0);
        SymmetricMatrix.Invert(matrix, features, inverse);
        var (own, common) = (new List<double>(), new List<double>());
        var rest = new double[channels];
        for (var change = 0; change < count; change++)
        {
            for (var channel = 0; channel < channels; channel++)
            {
                rest[channel] = moves[change][channel];
                for (var one = 0; one < features; one++)
                {
                    for (var other = 0; other < features; other++) rest[channel] -= currents[change][one] * inverse[(one * features) + other] * sides[channel][other];
                }
            }

            var mean = rest.Average();
            common.Add(Math.Abs(mean));
            if (channels > 1) own.AddRange(rest.Select(value => Math.Abs(value - mean) * Math.Sqrt(channels / (channels - 1.0))));
        }

        // The fit takes its share of the noise along.
        var lost = PerMedian * Math.Sqrt((double)count / (count - features));
        return (own.Count == 0 ? 0 : lost * Median(own), lost * Median(common));
    }

    private static double Median(List<double> values)
    {
        values.Sort();
        return values[values.Count / 2];
    }
}
