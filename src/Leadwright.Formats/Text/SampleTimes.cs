using Leadwright.Core.Signals;

namespace Leadwright.Formats.Text;

/// <summary>Cuts a series of sample times into stretches of one rate.</summary>
internal static class SampleTimes
{
    /// <summary>How far a step may be from the usual one, as a fraction of it, and still count as the same rate.</summary>
    public const double StepTolerance = 0.02;

    /// <summary>Cuts wherever the step changes; the steps may be rounded to whole units of <paramref name="resolution"/>.</summary>
    /// <param name="times">Times in seconds, rising.</param>
    /// <param name="resolution">The unit the times were rounded to, seconds; 0 when they were not.</param>
    public static List<RateSegment> Segments(ReadOnlySpan<double> times, double resolution)
    {
        var segments = new List<RateSegment>();
        var first = 0;
        while (first < times.Length)
        {
            var last = first;
            while (last + 1 < times.Length && Continues(times, first, last, resolution)) last++;
            segments.Add(SegmentOf(times, first, last));
            first = last + 1;
        }

        return segments;
    }

    private static bool Continues(ReadOnlySpan<double> times, int first, int last, double resolution)
    {
        if (last == first)
        {
            // One sample has no rate of its own yet: it belongs to the next unless the step after is far shorter.
            if (last + 2 >= times.Length) return true;
            return times[last + 1] - times[last] <= 1.5 * (times[last + 2] - times[last + 1]) + (2 * resolution);
        }

        var usual = (times[last] - times[first]) / (last - first);
        var step = times[last + 1] - times[last];
        // Rounding moves a step by at most one unit either way; a step of a few units must still show a gap.
        return Math.Abs(step - usual) <= (StepTolerance * usual) + Math.Min(2 * resolution, 0.5 * usual);
    }

    private static RateSegment SegmentOf(ReadOnlySpan<double> times, int first, int last)
    {
        double rate;
        if (last > first) rate = (last - first) / (times[last] - times[first]);
        else if (last + 1 < times.Length) rate = 1 / (times[last + 1] - times[last]);
        else rate = first > 0 ? 1 / (times[first] - times[first - 1]) : 1;
        return new RateSegment(first, last - first + 1, rate, times[first] - times[0]);
    }
}
