using Leadwright.Core.Mending.Maps;

namespace Leadwright.Core.Mending.Models;

/// <summary>Estimates how much there was beyond the range of a clamp.</summary>
internal static class BeyondRange
{
    private const double Threshold = 0.5;
    private const double MostOfRange = 0.3;

    // Loads end: their tail is shorter than an exponential one. Fitted to virtual weeks of one seed; docs/methods/mending-accuracy.md says how it does on others.
    private const double TailShare = 0.35;


    /// <summary>The mean power beyond what was shown, watts.</summary>
    /// <param name="lines">The series.</param>
    /// <param name="element">The element.</param>
    /// <param name="slots">The slots at the end of the range.</param>
    /// <remarks>The large values are taken for a tail that dies away exponentially, cut off at the range: its mean excess is the sum of what is seen above a
    /// threshold over the number of values that were not cut off (the maximum-likelihood estimate for censored exponential values; textbook, from memory).</remarks>
    public static double MeanExcess(LineSeries lines, int element, int[] slots)
    {
        var shown = new double[slots.Length];
        for (var index = 0; index < slots.Length; index++) shown[index] = Math.Abs(lines.Watts[element][slots[index]]);
        Array.Sort(shown);
        var range = shown[^1];
        // Above this an interval may have been cut off in part: all that is known of it is that it lies above.
        var cut = ChannelFlags.PartlyFrom * range;
        var threshold = Threshold * range;
        var sum = 0.0;
        var uncut = 0;
        for (var slot = 0; slot < lines.Watts[element].Length; slot++)
        {
            var watts = Math.Abs(lines.Watts[element][slot]);
            if (!(watts > threshold)) continue;
            sum += Math.Min(watts, cut) - threshold;
            if (watts < cut && lines.States[element][slot] <= PowerState.Mended) uncut++;
        }

        return TailShare * Math.Min(sum / Math.Max(1, uncut), MostOfRange * range);
    }
}
