using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Formats.Sampling;

/// <summary>A recording that is in memory already, block by block.</summary>
public sealed class RecordingSource : SampleSource
{
    // Rates that differ by less are the same within the rounding of time stamps.
    private const double RateTolerance = 1e-3;

    // Eight samples a cycle at the lowest frequency that is measured, about.
    private const double LeastRateHertz = 360;

    private readonly SampledRecording _recording;
    private readonly ImmutableArray<RateSegment> _segments;
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
        // Fault recorders write quiet time as one sample a cycle: that is no waveform, and a gap here.
        _segments = [.. recording.Segments.Where(segment => segment.RateHertz >= LeastRateHertz)];
        if (_segments.Length < recording.Segments.Length)
        {
            var seconds = recording.Segments.Where(segment => segment.RateHertz < LeastRateHertz).Sum(segment => segment.Length / segment.RateHertz);
            Warn(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                $"{seconds:0.###} s are recorded at less than {LeastRateHertz} samples a second; they are no waveform and are left out.")));
        }

        if (_segments.IsEmpty)
        {
            throw new FormatReadException(
                name, string.Create(CultureInfo.InvariantCulture, $"a waveform of at least {LeastRateHertz} samples a second"),
                recording.Segments.IsEmpty ? "no samples" : string.Create(CultureInfo.InvariantCulture, $"{recording.Segments[0].RateHertz:0.###} a second"),
                "This looks like a log of intervals, not a recording of samples.");
        }

        RateHertz = _segments.MaxBy(segment => segment.Length).RateHertz;
        Channels = [.. recording.Channels.Select(channel => channel with { Samples = default })];
        foreach (var segment in _segments)
        {
            if (segment.Length < 2 || Math.Abs((segment.RateHertz / RateHertz) - 1) < RateTolerance) continue;
            throw new FormatReadException(
                name, "one sampling rate throughout",
                string.Create(CultureInfo.InvariantCulture, $"{segment.RateHertz:0.###} Hz and {RateHertz:0.###} Hz"),
                "Cut the recording into parts of one rate each.");
        }
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

        var count = Math.Min(frames.Length / Lane.Count, segment.Length - _next);
        for (var lane = 0; lane < Lane.Count; lane++)
        {
            var source = _lanes.Sources[lane];
            var samples = source < 0 ? default : _recording.Channels[source].Samples.Span.Slice(segment.FirstIndex + _next, count);
            for (var index = 0; index < count; index++)
                frames[(index * Lane.Count) + lane] = source < 0 ? 0 : _lanes.Signs[lane] * (float)samples[index];
        }

        _next += count;
        if (_next == segment.Length)
        {
            (_segment, _next) = (_segment + 1, 0);
            _isAtGap = _segment < _segments.Length && !JoinsOn(segment, _segments[_segment]);
        }

        return count;
    }

    private static bool JoinsOn(RateSegment segment, RateSegment next) =>
        Math.Abs(next.StartSeconds - segment.StartSeconds - (segment.Length / segment.RateHertz)) < 0.5 / segment.RateHertz;
}
