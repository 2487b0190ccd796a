using Leadwright.Core.Integrity.Chains;

namespace Leadwright.Core.Integrity.Relations;

/// <summary>Knows a line that never rests: it always draws something, or always its share of what the other lines draw.</summary>
/// <remarks>What has drawn its share in every hour of days is not switched off by itself for an hour and more while the others go on; a clamp that comes off looks just so. Common practice, no source; the figures are our choice.</remarks>
internal static class Restless
{
    private const double LeastSeconds = 3700;
    private const double KnownSeconds = 3 * 86400;
    private const double OfFloors = 3;
    private const double LeastShare = 0.3;
    private const double Seldom = 0.005;
    private const double Often = 0.95;
    private const double OfShown = 10;
    private const double DigitSteps = 2;

    /// <summary>True where the line has never rested but in these rows, an hour at least.</summary>
    /// <param name="frame">The recording.</param>
    /// <param name="voltages">What the voltages did.</param>
    /// <param name="clamp">The line's clamp.</param>
    /// <param name="from">First row.</param>
    /// <param name="to">Last row.</param>
    /// <param name="floor">What counts as nothing, amperes.</param>
    public static bool Is(GuardFrame frame, VoltageHistory voltages, int clamp, int from, int to, double floor)
    {
        if (clamp > 2 || (to - from + 1) * frame.Log.IntervalSeconds < LeastSeconds) return false;
        var amperes = frame.Amperes[clamp]!;
        var drawn = new List<double>();
        var shares = new List<double>();
        var seconds = 0.0;
        for (var row = 0; row < frame.Count; row++)
        {
            if ((row >= from - 2 && row <= to + 2) || double.IsNaN(amperes[row]) || voltages.At(row).Kind != VoltageStateKind.Sound) continue;
            seconds += frame.Log.IntervalSeconds;
            drawn.Add(amperes[row]);
            var others = Others(frame, clamp, row);
            if (others > OfFloors * floor) shares.Add(amperes[row] / others);
        }

        if (seconds < KnownSeconds) return false;
        // What a clamp on nothing shows is little beside the least that was ever drawn, however little that is beside the most.
        var shown = Math.Max(Robust.Quantile(amperes.AsSpan(from, to - from + 1), Often), DigitSteps * Robust.Step(amperes));
        if (Robust.Quantile([.. drawn], Seldom) > Math.Min(OfFloors * floor, OfShown * shown)) return true;
        // The others must go on inside, or they rest with it.
        return shares.Count > drawn.Count / 2 && Robust.Quantile([.. shares], Seldom) > LeastShare && Flow(frame, clamp, from, to) > OfFloors * floor;
    }

    /// <summary>The least of the other lines' currents; NaN where there is none.</summary>
    private static double Others(GuardFrame frame, int clamp, int row)
    {
        var least = double.NaN;
        for (var line = 0; line < frame.Lines; line++)
        {
            if (line != clamp && frame.Amperes[line] is { } column && !(column[row] > least)) least = column[row];
        }

        return least;
    }

    private static double Flow(GuardFrame frame, int clamp, int from, int to)
    {
        var others = new double[to - from + 1];
        for (var row = from; row <= to; row++) others[row - from] = Others(frame, clamp, row);
        return Robust.Median(others);
    }
}
