using System.Collections.Immutable;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Formats.Sampling;

/// <summary>A recording that is in memory already, block by block.</summary>
public sealed class RecordingSource : SampleSource
{
    private readonly SampledRecording _recording;
    private readonly ImmutableArray<WaveSegment> _segments;
    private LaneChoice _lanes = LaneChoice.Empty;
    private int _segment;
    private int _next;
    private bool _isAtGap;

    /// <summary>Wraps a recording.</summary>
    /// <param name="name">Display name.</param>
    /// <param name="recording">The recording.</param>
    /// <param name="warnings">What was met while it was read.</param>
    /// <exception cref="FormatReadException">It has stretches of different rates that are waveforms, or none.</exception>
    public RecordingSource(string name, SampledRecording recording, ImmutableArray<ReadWarning> warnings)
        : base(name)
    {
        ArgumentNullException.ThrowIfNull(recording);
        _recording = recording;
        foreach (var warning in warnings) Warn(warning);
        (_segments, RateHertz) = WaveSegment.Waveforms(
            name, [.. recording.Segments.Select(segment => new WaveSegment(segment.FirstIndex, segment.Length, segment.RateHertz, segment.StartSeconds))], Warn);
        Channels = [.. recording.Channels.Select(channel => channel with { Samples = default })];
    }

    /// <inheritdoc/>
    public override ImmutableArray<SampledChannel> Channels { get; }

    /// <inheritdoc/>
    public override double RateHertz { get; }

    /// <inheritdoc/>
    public override double? LineFrequencyHertz => _recording.LineFrequencyHertz;

    /// <inheritdoc/>
    public override DateTime? Start => _recording.Start;

    /// <inheritdoc/>
    public override long? FrameCount => _recording.Channels.IsEmpty ? 0 : _recording.Channels[0].Samples.Length;

    /// <inheritdoc/>
    public override void Choose(LaneChoice lanes) => _lanes = lanes;

    /// <inheritdoc/>
    public override int Read(Span<float> frames)
    {
        NextSegmentSeconds = null;
        if (_segment >= _segments.Length) return 0;
        var segment = _segments[_segment];
        if (_isAtGap)
        {
            _isAtGap = false;
            NextSegmentSeconds = segment.StartSeconds;
            return 0;
        }

        var count = (int)Math.Min(frames.Length / Lane.Count, segment.Length - _next);
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            var source = _lanes.Sources[lane];
            var samples = source < 0 ? default : _recording.Channels[source].Samples.Span.Slice((int)segment.FirstRow + _next, count);
            for (var index = 0; index < count; index++)
                frames[(index * Lane.Count) + lane] = source < 0 ? 0 : _lanes.Signs[lane] * (float)samples[index];
        }

        _next += count;
        if (_next == segment.Length)
        {
            (_segment, _next) = (_segment + 1, 0);
            _isAtGap = _segment < _segments.Length && !segment.JoinsOn(_segments[_segment]);
        }

        return count;
    }

    /// <inheritdoc/>
    public override double Share =>
        _segment < _segments.Length && FrameCount is > 0 and var all ? (double)(_segments[_segment].FirstRow + _next) / all : 1;

    /// <inheritdoc/>
    public override void Carry(StateCarrier carrier)
    {
        ArgumentNullException.ThrowIfNull(carrier);
        CarryWarnings(carrier);
        carrier.Carry(ref _segment);
        carrier.Carry(ref _next);
        carrier.Carry(ref _isAtGap);
    }
}
