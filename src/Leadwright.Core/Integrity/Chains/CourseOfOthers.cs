using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Chains;

/// <summary>What the other two lines' currents say of one line's: where loads of three lines are most of what runs, each tells of the others.</summary>
/// <remarks>
/// Each of the other lines predicts the logarithm of the current through the medians of classes of its own size, which no few rows that read otherwise can move; the prediction is the mean
/// of both. So a ratio on the line itself moves its rest by all of the ratio's logarithm, and one on another line by half of it, the other way: the two are not taken for each other.
/// With one other line alone they could not be told apart, so both are asked for.
/// </remarks>
internal static class CourseOfOthers
{
    private const int Classes = 16;
    private const int LeastRows = 80;
    private const int MostLearned = 60000;

    /// <summary>The prediction in each row, NaN where another line reads nothing; null where there are too few rows.</summary>
    /// <param name="own">Natural logarithm of the line's current; NaN for none.</param>
    /// <param name="one">That of another line.</param>
    /// <param name="other">That of the third.</param>
    /// <param name="leftOutFrom">First row that must not teach.</param>
    /// <param name="leftOutTo">Last such row; before the first for none.</param>
    public static double[]? Predict(double[] own, double[] one, double[] other, int leftOutFrom, int leftOutTo)
    {
        if (Curve(own, one, leftOutFrom, leftOutTo) is not { } byOne || Curve(own, other, leftOutFrom, leftOutTo) is not { } byOther) return null;
        var course = new double[own.Length];
        for (var row = 0; row < course.Length; row++) course[row] = 0.5 * (At(byOne, one[row]) + At(byOther, other[row]));
        return course;
    }

    /// <summary>Medians of both by classes of as many rows each of the one that tells.</summary>
    private static (double[] Of, double[] Says)? Curve(double[] own, double[] tells, int leftOutFrom, int leftOutTo)
    {
        var rows = new List<(double Tells, double Own)>();
        var step = Math.Max(1, own.Length / MostLearned);
        for (var row = 0; row < own.Length; row += step)
        {
            if (!double.IsNaN(own[row]) && !double.IsNaN(tells[row]) && !(row >= leftOutFrom && row <= leftOutTo)) rows.Add((tells[row], own[row]));
        }

        if (rows.Count < LeastRows) return null;
        rows.Sort();
        var (of, says) = (new double[Classes], new double[Classes]);
        for (var at = 0; at < Classes; at++)
        {
            var those = rows[(at * rows.Count / Classes)..((at + 1) * rows.Count / Classes)];
            of[at] = Robust.Median([.. those.Select(row => row.Tells)]);
            says[at] = Robust.Median([.. those.Select(row => row.Own)]);
        }

        return (of, says);
    }

    /// <summary>Joined by straight lines; beyond the ends both go on in one proportion.</summary>
    private static double At((double[] Of, double[] Says) curve, double tells)
    {
        if (double.IsNaN(tells)) return double.NaN;
        if (tells <= curve.Of[0]) return curve.Says[0] + tells - curve.Of[0];
        if (tells >= curve.Of[^1]) return curve.Says[^1] + tells - curve.Of[^1];
        var at = Array.BinarySearch(curve.Of, tells);
        if (at < 0) at = ~at;
        var (from, to) = (curve.Of[at - 1], curve.Of[at]);
        return to > from ? curve.Says[at - 1] + ((curve.Says[at] - curve.Says[at - 1]) * (tells - from) / (to - from)) : curve.Says[at];
    }
}
