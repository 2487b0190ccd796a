namespace Leadwright.Core.Studies;

/// <summary>Percentiles of values.</summary>
public static class Percentile
{
    private const int Few = 24;

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

    /// <summary>The same of values in any order, bit for bit, without sorting them all: a year of values is many.</summary>
    /// <param name="values">The values, none of them NaN; they are moved about.</param>
    /// <param name="percent">0 to 100.</param>
    /// <returns>NaN when there is no value.</returns>
    /// <remarks>C. A. R. Hoare, "Algorithm 65: find", Communications of the ACM 4 (1961) 321. When halves do not shrink the rest is sorted, so that no order of values makes it slow.</remarks>
    public static double OfUnsorted(Span<double> values, double percent)
    {
        if (values.IsEmpty) return double.NaN;
        var place = Math.Clamp(percent, 0, 100) / 100 * (values.Length - 1);
        var below = (int)Math.Floor(place);
        Select(values, below);
        var low = values[below];
        if (below + 1 >= values.Length) return low;
        var above = values[below + 1];
        for (var at = below + 2; at < values.Length; at++)
        {
            if (values[at] < above) above = values[at];
        }

        return low + ((place - below) * (above - low));
    }

    // Puts the value of a rank in its place, smaller ones before it and larger ones behind.
    private static void Select(Span<double> values, int rank)
    {
        var (first, last) = (0, values.Length - 1);
        for (var round = 0; last - first > Few; round++)
        {
            if (round > 80) break;
            var middle = first + ((last - first) / 2);
            var pivot = Middle(values[first], values[middle], values[last]);
            var (left, right) = (first, last);
            while (left <= right)
            {
                while (values[left] < pivot) left++;
                while (values[right] > pivot) right--;
                if (left > right) break;
                (values[left], values[right]) = (values[right], values[left]);
                left++;
                right--;
            }

            if (rank <= right) last = right;
            else if (rank >= left) first = left;
            else return;
        }

        values[first..(last + 1)].Sort();
    }

    private static double Middle(double a, double b, double c) => Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));
}
