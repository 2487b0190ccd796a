using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;
using Leadwright.Reports.Hookups;

namespace Leadwright.Client.Model;

/// <summary>A recording that was opened on the screen, with the match of its channels.</summary>
/// <param name="Name">The file's name.</param>
/// <param name="Samples">The samples.</param>
/// <param name="Match">Which of its channels is which; by index.</param>
/// <param name="Remarks">What the reader put up with, in sentences.</param>
public sealed record LoadedRecording(
    string Name, SampledRecording Samples, ImmutableSortedDictionary<Channel, int> Match, ImmutableArray<string> Remarks)
{
    /// <summary>The recording with another channel of the file for one of the recorder's; null for none.</summary>
    /// <param name="channel">The recorder's channel.</param>
    /// <param name="index">The file's channel.</param>
    public LoadedRecording WithMatch(Channel channel, int? index)
    {
        // One channel of the file is one channel of the recorder: the earlier owner loses it.
        var match = Match;
        if (index is { } taken)
        {
            foreach (var (other, at) in Match)
            {
                if (at == taken) match = match.Remove(other);
            }
        }

        return this with { Match = index is { } chosen ? match.SetItem(channel, chosen) : match.Remove(channel) };
    }

    /// <summary>The match in words, for the verdict.</summary>
    public ImmutableArray<MatchedChannel> MatchedChannels() =>
        [.. Match.Select(pair => new MatchedChannel(pair.Key.ToString(), Samples.Channels[pair.Value].Name))];

    /// <summary>Measures the recording as readings.</summary>
    /// <param name="service">The service.</param>
    /// <param name="nominal">The nominal voltages; null when they were not stated.</param>
    /// <param name="frequencyHertz">The frequency as stated; null when it was not.</param>
    /// <param name="refusal">Why there are none, in a sentence; empty when there are.</param>
    /// <returns>The readings; null when there are none.</returns>
    public PanelReadings? Measure(ServiceKind service, NominalVoltage? nominal, double? frequencyHertz, out string refusal)
    {
        if (Match.IsEmpty)
        {
            refusal = "No channel of the file is matched: choose which is which.";
            return null;
        }

        var snapshot = PanelSnapshot.Measure(Samples, Match, new SnapshotOptions { StatedFrequencyHertz = frequencyHertz }, out var why);
        refusal = why switch
        {
            SnapshotRefusal.None => "",
            SnapshotRefusal.NoSamples => "The file holds no samples.",
            SnapshotRefusal.RateTooLow => "The file is sampled too slowly: the check needs eight samples in each cycle.",
            SnapshotRefusal.TooShort => "The file is too short: the check needs at least one whole cycle.",
            _ => "Every stretch of the matched channels has missing samples.",
        };
        return snapshot?.ToReadings(service, nominal);
    }
}
