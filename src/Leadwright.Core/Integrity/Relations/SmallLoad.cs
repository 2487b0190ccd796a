namespace Leadwright.Core.Integrity.Relations;

/// <summary>Tells a small load that is left on from a clamp on nothing: next to what the line draws by day both are little.</summary>
internal static class SmallLoad
{
    private const double LeastFactor = 0.5;
    private const double MostSpread = 0.1;
    private const int LeastSteps = 3;
    private const double PickUp = 0.3;

    /// <summary>True where the clamp reads more than nothing, by the digits that are written, and its power keeps one power factor: what a clamp on nothing shows has none. False where no watts were written.</summary>
    /// <param name="frame">The log.</param>
    /// <param name="clamp">The clamp.</param>
    /// <param name="from">First row.</param>
    /// <param name="to">Last row.</param>
    /// <param name="floor">What a clamp on nothing is taken to read at the most, amperes: a few thousandths of what lies in another conductor have its power factor too.</param>
    public static bool Is(GuardFrame frame, int clamp, int from, int to, double floor)
    {
        if (clamp >= 3 || frame.Amperes[clamp] is not { } amperes || frame.Watts[clamp] is not { } watts) return false;
        if (frame.Volts[frame.IsTwoElement && clamp == 2 ? 1 : clamp] is not { } volts) return false;
        // The rows at the ends may be mixed.
        if (to - from >= 3) (from, to) = (from + 1, to - 1);
        if (!(Robust.Median(amperes.AsSpan(from, to - from + 1)) > Math.Max(LeastSteps * Robust.Step(amperes), PickUp * floor))) return false;
        var factors = new double[to - from + 1];
        for (var row = from; row <= to; row++) factors[row - from] = watts[row] / (volts[row] * frame.UnitVolts * amperes[row]);
        return Math.Abs(Robust.Median(factors)) > LeastFactor && (factors.Length < 3 || Robust.Deviation(factors) < MostSpread);
    }
}
