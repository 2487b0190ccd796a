namespace Leadwright.Core.Integrity.Recorder;

/// <summary>What a clamp shows of a sine whose crests are cut off at the end of its range.</summary>
/// <remarks>
/// A sine of rms value A is cut at c = √2·L, where L is the largest rms value that passes whole. With θ = asin(c/(√2·A)) the square of what is shown is (2/π)·[2A²·(θ/2 − sin 2θ/4) + c²·(π/2 − θ)]: the
/// mean square over a quarter of the wave. It comes near c, √2 times L, and never there: the wave has become a square one. So the reading goes on rising, ever more slowly, after the range has ended.
/// </remarks>
internal static class CutWave
{
    /// <summary>No reading goes higher, in parts of the largest that passes whole: √2.</summary>
    public const double Most = 1.4142135623730951;

    /// <summary>Beyond so many times the range the reading hardly tells how much there was.</summary>
    private const double MostTold = 8;
    private const int Steps = 207;
    private const double Each = 0.002;
    private static readonly double[] s_true = [.. Enumerable.Range(0, Steps + 1).Select(step => Solve(1 + (step * Each)))];

    /// <summary>What is shown of a current, both in parts of the largest that passes whole.</summary>
    public static double Shown(double current)
    {
        if (!(current > 1)) return current;
        var angle = Math.Asin(1 / current);
        return Math.Sqrt(2 / Math.PI * ((2 * current * current * ((angle / 2) - (Math.Sin(2 * angle) / 4))) + (2 * ((Math.PI / 2) - angle))));
    }

    /// <summary>The current of which so much is shown, both in parts of the largest that passes whole; at most eight.</summary>
    public static double Current(double shown)
    {
        if (!(shown > 1)) return shown;
        var at = (shown - 1) / Each;
        var step = (int)at;
        return step >= Steps ? s_true[Steps] : s_true[step] + ((at - step) * (s_true[step + 1] - s_true[step]));
    }

    private static double Solve(double shown)
    {
        double low = 1, high = MostTold;
        if (shown >= Shown(high)) return high;
        for (var turn = 0; turn < 50; turn++)
        {
            var middle = (low + high) / 2;
            if (Shown(middle) < shown) low = middle;
            else high = middle;
        }

        return (low + high) / 2;
    }
}
