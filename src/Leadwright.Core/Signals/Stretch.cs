using System.Collections.Immutable;

namespace Leadwright.Core.Signals;

/// <summary>Part of a recording without a gap in time; its rate may change on the way.</summary>
/// <remarks>Some recorders let the rate follow the network and so write a new rate every cycle or two: such segments join
/// into one stretch, and each sample keeps its own time.</remarks>
public sealed class Stretch
{
    private Stretch(ImmutableArray<RateSegment> segments)
    {
        Segments = segments;
        FirstIndex = segments[0].FirstIndex;
        var last = segments[^1];
        Length = last.FirstIndex + last.Length - FirstIndex;
        StartSeconds = segments[0].StartSeconds;
        DurationSeconds = last.StartSeconds + (last.Length / last.RateHertz) - StartSeconds;
    }

    /// <summary>Its pieces of one rate, in order; never empty.</summary>
    public ImmutableArray<RateSegment> Segments { get; }

    /// <summary>Index of its first sample in the recording.</summary>
    public int FirstIndex { get; }

    /// <summary>Its length in samples.</summary>
    public int Length { get; }

    /// <summary>Time of its first sample after the recording's start.</summary>
    public double StartSeconds { get; }

    /// <summary>Its length in seconds, the last sample's own period included.</summary>
    public double DurationSeconds { get; }

    /// <summary>Its lowest rate, samples per second.</summary>
    public double LowestRateHertz => Segments.Min(segment => segment.RateHertz);

    /// <summary>The stretch that one segment makes.</summary>
    public static Stretch Of(RateSegment segment) => new([segment]);

    /// <summary>Joins the segments that hold waveform.</summary>
    /// <param name="segments">The segments of a recording, in order.</param>
    /// <param name="lowestRateHertz">Segments with a lower rate are left out: with less than some eight samples a cycle a
    /// stretch holds single values, not waveform.</param>
    /// <returns>The stretches, in order. Two segments join when the second begins where the first ends, within half a
    /// sample. Empty segments, and those whose rate is not a finite number above zero, are left out.</returns>
    public static ImmutableArray<Stretch> Join(IReadOnlyList<RateSegment> segments, double lowestRateHertz)
    {
        ArgumentNullException.ThrowIfNull(segments);
        var stretches = ImmutableArray.CreateBuilder<Stretch>();
        var open = ImmutableArray.CreateBuilder<RateSegment>();
        foreach (var segment in segments)
        {
            var isUsable = segment.Length > 0 && double.IsFinite(segment.RateHertz) && segment.RateHertz > 0
                && segment.RateHertz >= lowestRateHertz;
            if (open.Count > 0 && !(isUsable && Follows(open[^1], segment)))
            {
                stretches.Add(new Stretch(open.ToImmutable()));
                open.Clear();
            }

            if (isUsable) open.Add(segment);
        }

        if (open.Count > 0) stretches.Add(new Stretch(open.ToImmutable()));
        return stretches.ToImmutable();
    }

    /// <summary>The part between two samples.</summary>
    /// <param name="firstIndex">Index in the recording of its first sample; within the stretch.</param>
    /// <param name="length">Its length; at least 1, and no further than the end of the stretch.</param>
    /// <exception cref="ArgumentOutOfRangeException">The part is not inside the stretch.</exception>
    public Stretch Part(int firstIndex, int length)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(firstIndex, FirstIndex);
        ArgumentOutOfRangeException.ThrowIfLessThan(length, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(length, FirstIndex + Length - firstIndex);
        var parts = ImmutableArray.CreateBuilder<RateSegment>();
        foreach (var segment in Segments)
        {
            var from = Math.Max(firstIndex, segment.FirstIndex);
            var to = Math.Min(firstIndex + length, segment.FirstIndex + segment.Length);
            if (from >= to) continue;
            var startSeconds = segment.StartSeconds + ((from - segment.FirstIndex) / segment.RateHertz);
            parts.Add(new RateSegment(from, to - from, segment.RateHertz, startSeconds));
        }

        return new Stretch(parts.ToImmutable());
    }

    /// <summary>Index in the recording of the first sample at or after a time, the end of the stretch when there is none.</summary>
    /// <param name="seconds">Seconds after the recording's start.</param>
    public int IndexAt(double seconds)
    {
        // A thousandth of a sample: times computed from indices must find their own sample again.
        const double Slack = 1e-3;
        foreach (var segment in Segments)
        {
            var offset = (int)Math.Ceiling(((seconds - segment.StartSeconds) * segment.RateHertz) - Slack);
            if (offset < segment.Length) return segment.FirstIndex + Math.Max(offset, 0);
        }

        return FirstIndex + Length;
    }

    /// <summary>Time of a sample after the recording's start.</summary>
    /// <param name="index">Index of the sample in the recording; within the stretch, or one past its end.</param>
    public double SecondsAt(int index)
    {
        foreach (var segment in Segments)
        {
            if (index < segment.FirstIndex + segment.Length) return segment.StartSeconds + ((index - segment.FirstIndex) / segment.RateHertz);
        }

        return StartSeconds + DurationSeconds;
    }

    private static bool Follows(RateSegment earlier, RateSegment later) =>
        later.FirstIndex == earlier.FirstIndex + earlier.Length
        && Math.Abs(later.StartSeconds - earlier.StartSeconds - (earlier.Length / earlier.RateHertz))
            <= 0.5 / Math.Min(earlier.RateHertz, later.RateHertz);
}
