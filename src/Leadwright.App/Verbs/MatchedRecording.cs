using Leadwright.Core.Signals;
using Leadwright.Formats.Matching;

namespace Leadwright.App.Verbs;

/// <summary>A recording whose channels were matched.</summary>
internal static class MatchedRecording
{
    /// <summary>A channel that the file holds the other way round, such as V21 for V12, changes sign before it is measured.</summary>
    public static SampledRecording Turned(SampledRecording recording, ChannelMatching matching)
    {
        var channels = recording.Channels;
        foreach (var match in matching.Matches.Where(match => match.IsTurned))
        {
            var samples = channels[match.SourceIndex].Samples.ToArray();
            for (var index = 0; index < samples.Length; index++) samples[index] = -samples[index];
            channels = channels.SetItem(match.SourceIndex, channels[match.SourceIndex] with { Samples = samples });
        }

        return recording with { Channels = channels };
    }
}
