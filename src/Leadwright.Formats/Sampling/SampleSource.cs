using System.Collections.Immutable;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Formats.Sampling;

/// <summary>A sampled recording that is read block by block, so that its length is no matter.</summary>
/// <remarks>First look at what it states, then <see cref="Choose"/> lanes, then <see cref="Read"/> until it is at its end.</remarks>
public abstract class SampleSource : IDisposable
{
    private readonly List<ReadWarning> _warnings = [];

    /// <summary>Makes one.</summary>
    /// <param name="name">Display name.</param>
    protected SampleSource(string name) => Name = name;

    /// <summary>Display name.</summary>
    public string Name { get; }

    /// <summary>The channels, without samples.</summary>
    public abstract ImmutableArray<SampledChannel> Channels { get; }

    /// <summary>Samples per second, the same from beginning to end.</summary>
    public abstract double RateHertz { get; }

    /// <summary>Line frequency as stated; null when it is not.</summary>
    public abstract double? LineFrequencyHertz { get; }

    /// <summary>Time of the first sample as stated, in its own zone; null when it is not.</summary>
    public abstract DateTime? Start { get; }

    /// <summary>Frames in the whole recording; null when not known beforehand.</summary>
    public abstract long? FrameCount { get; }

    /// <summary>Share of the recording that was handed over, 0 to 1.</summary>
    public abstract double Share { get; }

    /// <summary>What was met and put up with; grows while reading.</summary>
    public IReadOnlyList<ReadWarning> Warnings => _warnings;

    /// <summary>When <see cref="Read"/> gave nothing: time of the next frame after the recording's start, seconds, where a gap lies before
    /// it; null at the end.</summary>
    public double? NextSegmentSeconds { get; protected set; }

    /// <summary>Says which channel goes to which lane; to be called once, before the first <see cref="Read"/>.</summary>
    /// <param name="lanes">The choice.</param>
    public abstract void Choose(LaneChoice lanes);

    /// <summary>Reads the next frames, up to a gap or the end.</summary>
    /// <param name="frames">Receives frames of <see cref="Lane.Count"/> values in base units; NaN where a sample is missing, 0 in
    /// lanes without a channel.</param>
    /// <returns>Frames read; 0 at a gap or at the end, see <see cref="NextSegmentSeconds"/>.</returns>
    /// <exception cref="FormatReadException">The data can't be used.</exception>
    public abstract int Read(Span<float> frames);

    /// <summary>Carries the place of reading out, or back in: a source of the same file, opened alike with the same lanes, goes on there.</summary>
    /// <param name="carrier">Carries.</param>
    public abstract void Carry(StateCarrier carrier);

    /// <inheritdoc/>
    public void Dispose()
    {
        Dispose(true);
        GC.SuppressFinalize(this);
    }

    /// <summary>Lets go of the source.</summary>
    /// <param name="disposing">True when called by <see cref="Dispose()"/>.</param>
    protected virtual void Dispose(bool disposing)
    {
    }

    /// <summary>Carries the warnings so far.</summary>
    /// <param name="carrier">Carries.</param>
    protected void CarryWarnings(StateCarrier carrier)
    {
        ArgumentNullException.ThrowIfNull(carrier);
        var count = _warnings.Count;
        carrier.Carry(ref count);
        for (var index = 0; index < count; index++)
        {
            var warning = carrier.IsReading ? new ReadWarning("") : _warnings[index];
            var (says, line, offset) = (warning.Says, warning.Line ?? -1, warning.ByteOffset ?? -1);
            carrier.Carry(ref says);
            carrier.Carry(ref line);
            carrier.Carry(ref offset);
            if (!carrier.IsReading) continue;
            if (index == 0) _warnings.Clear();
            _warnings.Add(new ReadWarning(says, line < 0 ? null : line, offset < 0 ? null : offset));
        }
    }

    /// <summary>Adds a warning.</summary>
    /// <param name="warning">The warning.</param>
    protected void Warn(ReadWarning warning) => _warnings.Add(warning);
}
