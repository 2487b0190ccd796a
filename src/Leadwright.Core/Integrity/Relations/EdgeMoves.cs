namespace Leadwright.Core.Integrity.Relations;

/// <summary>Which of two readings moved where a stretch begins and ends: the one that was moved by hand leaps, the other goes on.</summary>
internal static class EdgeMoves
{
    /// <summary>By how much (logarithm) the first leapt more than the other at both edges, whose mixed rows are left out; an edge of the recording says nothing.</summary>
    public static double More(double[] one, double[] other, int from, int to)
    {
        double more = 0;
        foreach (var (before, after) in new[] { (from - 2, Math.Min(to, from + 1)), (Math.Max(from, to - 1), to + 2) })
        {
            if (before >= 0 && after < one.Length) more += Leap(one, before, after) - Leap(other, before, after);
        }

        return more;
    }

    private static double Leap(double[] column, int before, int after) => column[before] > 0 && column[after] > 0 ? Math.Abs(Math.Log(column[after] / column[before])) : 0;
}
