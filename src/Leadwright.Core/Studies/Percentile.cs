namespace Leadwright.Core.Studies;

/// <summary>Percentiles of sorted values.</summary>
public static class Percentile
{
    /// <summary>The value that a share of the values does not exceed, between neighbours by a straight line.</summary>
    /// <param name="sorted">The values, ascending.</param>
    /// <param name="percent">0 to 100.</param>
    /// <returns>NaN when there is no value.</returns>
    /// <remarks>R. J. Hyndman, Y. Fan, The American Statistician 50 (1996) 361, type 7: the default of numpy, so that others get the same figure.</remarks>
    public static double Of(ReadOnlySpan<double> sorted, double percent)
    {
        if (sorted.IsEmpty) return double.NaN;
        var place = Math.Clamp(percent, 0, 100) / 100 * (sorted.Length - 1);
        var below = (int)Math.Floor(place);
        var above = Math.Min(below + 1, sorted.Length - 1);
        return sorted[below] + ((place - below) * (sorted[above] - sorted[below]));
    }
}
