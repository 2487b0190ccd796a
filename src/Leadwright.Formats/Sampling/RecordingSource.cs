using System.Collections.Immutable;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Formats.Sampling;

/// <summary>A recording that is in memory already, block by block.</summary>
public sealed class RecordingSource : SampleSource
{
    private readonly SampledRecording _recording;
    private readonly SegmentWalk _walk;
    private LaneChoice _lanes = LaneChoice.Empty;

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
        (var segments, RateHertz) = WaveSegment.Waveforms(
            name, [.. recording.Segments.Select(segment => new WaveSegment(segment.FirstIndex, segment.Length, segment.RateHertz, segment.StartSeconds))], Warn);
        _walk = new SegmentWalk(segments);
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
        if (_walk.IsAtEnd) return 0;
        if (_walk.StepOver() is { } seconds)
        {
            NextSegmentSeconds = seconds;
            return 0;
        }

        var (first, count) = ((int)_walk.Row, (int)Math.Min(frames.Length / Lane.Count, _walk.Left));
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            var source = _lanes.Sources[lane];
            var samples = source < 0 ? default : _recording.Channels[source].Samples.Span.Slice(first, count);
            for (var index = 0; index < count; index++)
                frames[(index * Lane.Count) + lane] = source < 0 ? 0 : _lanes.Signs[lane] * (float)samples[index];
        }

        _walk.Take(count);
        return count;
    }

    /// <inheritdoc/>
    public override double Share => _walk.ShareOf(FrameCount ?? 0);

    /// <inheritdoc/>
    public override void Carry(StateCarrier carrier)
    {
        ArgumentNullException.ThrowIfNull(carrier);
        CarryWarnings(carrier);
        _walk.Carry(carrier);
    }
}
