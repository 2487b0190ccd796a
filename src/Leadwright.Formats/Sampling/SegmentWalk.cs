using System.Collections.Immutable;
using Leadwright.Core.Signals;

namespace Leadwright.Formats.Sampling;

/// <summary>Goes through the stretches of a recording, stops at the gaps between them, and knows where it is.</summary>
/// <param name="segments">The stretches, in order.</param>
internal sealed class SegmentWalk(ImmutableArray<WaveSegment> segments)
{
    private int _segment;
    private long _next;
    private bool _isAtGap;

    /// <summary>True when every sample was handed over.</summary>
    public bool IsAtEnd => _segment >= segments.Length;

    /// <summary>Number of the next sample in the recording.</summary>
    public long Row => segments[_segment].FirstRow + _next;

    /// <summary>Samples that are left of the stretch at hand.</summary>
    public long Left => segments[_segment].Length - _next;

    /// <summary>Steps over a gap that lies before the next sample.</summary>
    /// <returns>Time of that sample after the recording's start, seconds; null where there is no gap.</returns>
    public double? StepOver()
    {
        if (!_isAtGap) return null;
        _isAtGap = false;
        return segments[_segment].StartSeconds;
    }

    /// <summary>Goes on.</summary>
    /// <param name="count">Samples that were handed over; at most <see cref="Left"/>.</param>
    public void Take(int count)
    {
        _next += count;
        if (_next < segments[_segment].Length) return;
        var ended = segments[_segment];
        (_segment, _next) = (_segment + 1, 0);
        _isAtGap = !IsAtEnd && !ended.JoinsOn(segments[_segment]);
    }

    /// <summary>Share of the recording that was handed over, 0 to 1.</summary>
    /// <param name="frames">Samples in the whole recording.</param>
    public double ShareOf(long frames) => !IsAtEnd && frames > 0 ? (double)Row / frames : 1;

    /// <summary>Carries the place out, or back in.</summary>
    public void Carry(StateCarrier carrier)
    {
        carrier.Carry(ref _segment);
        carrier.Carry(ref _next);
        carrier.Carry(ref _isAtGap);
    }
}
