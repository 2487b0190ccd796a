using System.Collections.Immutable;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats;
using Leadwright.Formats.Sampling;

namespace Leadwright.Surveys.Tables;

/// <summary>All channels of a recording side by side: a source hands over eight at a time, so that several of the same recording go in step.</summary>
internal sealed class SampleLanes : IDisposable
{
    private const int BlockFrames = 8192;

    private readonly List<SampleSource> _sources = [];
    private readonly float[] _frames = new float[BlockFrames * Lane.Count];

    public SampleLanes(Func<SampleSource> open)
    {
        try
        {
            do
            {
                var source = open();
                _sources.Add(source);
                var lanes = LaneChoice.Empty;
                var first = (_sources.Count - 1) * Lane.Count;
                for (var lane = 0; lane < Lane.Count && first + lane < source.Channels.Length; lane++) lanes = lanes.With(lane, first + lane, isTurned: false);
                source.Choose(lanes);
            }
            while (_sources.Count * Lane.Count < Channels.Length);
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    public ImmutableArray<SampledChannel> Channels => _sources[0].Channels;

    public double RateHertz => _sources[0].RateHertz;

    public DateTime? Start => _sources[0].Start;

    public double Share => _sources[0].Share;

    /// <summary>Time of the next frame after the recording's start, seconds, where a gap lies before it; null at the end.</summary>
    public double? NextSegmentSeconds => _sources[0].NextSegmentSeconds;

    /// <summary>Reads the next frames.</summary>
    /// <param name="columns">Receives for each channel its values.</param>
    /// <param name="at">Where in them.</param>
    /// <param name="most">How many at most.</param>
    /// <returns>Frames read; 0 at a gap or at the end.</returns>
    public int Read(double[][] columns, int at, int most)
    {
        var wanted = Math.Min(most, BlockFrames);
        var count = -1;
        for (var index = 0; index < _sources.Count; index++)
        {
            var read = _sources[index].Read(_frames.AsSpan(0, (count < 0 ? wanted : Math.Max(count, 1)) * Lane.Count));
            if (count >= 0 && read != count)
                throw new FormatReadException(_sources[0].Name, "a recording that stays as it is", "one that changed while it was read", "Wait until nothing writes to it any more.");
            count = read;
            for (var lane = 0; lane < Lane.Count && (index * Lane.Count) + lane < columns.Length; lane++)
            {
                var column = columns[(index * Lane.Count) + lane];
                for (var frame = 0; frame < read; frame++) column[at + frame] = _frames[(frame * Lane.Count) + lane];
            }
        }

        return count;
    }

    public void Dispose()
    {
        foreach (var source in _sources) source.Dispose();
    }
}
