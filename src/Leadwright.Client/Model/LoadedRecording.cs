using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;
using Leadwright.Formats;
using Leadwright.Formats.Matching;
using Leadwright.Reports.Hookups;

namespace Leadwright.Client.Model;

/// <summary>A recording that was opened on the screen, with the match of its channels.</summary>
/// <param name="Name">The file's name.</param>
/// <param name="Samples">The samples.</param>
/// <param name="Warnings">What the reader put up with, in sentences.</param>
public sealed record LoadedRecording(string Name, SampledRecording Samples, ImmutableArray<string> Warnings)
{
    /// <summary>Which of its channels is which of the recorder's. Empty until <see cref="MatchedFor"/>.</summary>
    public ImmutableSortedDictionary<Channel, ChannelMatch> Match { get; init; } =
        ImmutableSortedDictionary<Channel, ChannelMatch>.Empty;

    /// <summary>What to know of the match, in sentences.</summary>
    public ImmutableArray<string> MatchNotes { get; init; } = [];

    /// <summary>The recording with its channels matched anew for a service.</summary>
    /// <param name="service">The service.</param>
    public LoadedRecording MatchedFor(ServiceKind service)
    {
        try
        {
            var matching = ChannelMatcher.Match(Samples, service, null, Name);
            return this with
            {
                Match = matching.Matches.ToImmutableSortedDictionary(match => match.Channel, match => match),
                MatchNotes = matching.HasOtherSets
                    ? matching.Notes.Add("Choose other channels in the list of channels, at Readings.") : matching.Notes,
            };
        }
        catch (FormatReadException)
        {
            // The list on the screen shows every channel of the file to choose from.
            return this with
            {
                Match = ImmutableSortedDictionary<Channel, ChannelMatch>.Empty,
                MatchNotes = ["The names of the channels don't say what they are: choose which is which."],
            };
        }
    }

    /// <summary>The recording with another channel of the file for one of the recorder's; null for none.</summary>
    /// <param name="channel">The recorder's channel.</param>
    /// <param name="index">The file's channel.</param>
    public LoadedRecording WithMatch(Channel channel, int? index)
    {
        // One channel of the file is one channel of the recorder: the earlier owner loses it.
        var match = Match.RemoveRange(Match.Where(pair => pair.Value.SourceIndex == index).Select(pair => pair.Key)).Remove(channel);
        if (index is { } chosen)
            match = match.Add(channel, new(channel, chosen, Samples.Channels[chosen].Name, false, MatchBasis.Told, "as chosen"));
        return this with { Match = match };
    }

    /// <summary>The match in words, for the verdict.</summary>
    public ImmutableArray<MatchedChannel> MatchedChannels() =>
    [
        .. Match.Values.Select(match => new MatchedChannel(
            match.Channel.ToString(), match.SourceName, match.IsTurned ? $"{match.Why}, the other way round" : match.Why)),
    ];

    /// <summary>Measures the recording as readings.</summary>
    /// <param name="service">The service.</param>
    /// <param name="nominal">The nominal voltages; null when they were not stated.</param>
    /// <param name="frequencyHertz">The frequency as stated; null when it was not.</param>
    public MeasuredRecording Measure(ServiceKind service, NominalVoltage? nominal, double? frequencyHertz)
    {
        if (Match.IsEmpty) return new(null, [], "No channel of the file is matched: choose which is which.");
        var snapshot = PanelSnapshot.Measure(
            Turned(), Match.ToDictionary(pair => pair.Key, pair => pair.Value.SourceIndex),
            new SnapshotOptions { StatedFrequencyHertz = frequencyHertz }, out var refusal);
        return snapshot is null
            ? new(null, [], SnapshotWording.Of(refusal))
            : new(snapshot.ToReadings(service, nominal), [.. Warnings, .. MatchNotes, .. SnapshotWording.Notes(snapshot)], "");
    }

    // A channel that the file holds the other way round, such as V21 for V12, changes sign before it is measured.
    private SampledRecording Turned()
    {
        var channels = Samples.Channels;
        foreach (var match in Match.Values.Where(match => match.IsTurned))
        {
            var samples = channels[match.SourceIndex].Samples.ToArray();
            for (var index = 0; index < samples.Length; index++) samples[index] = -samples[index];
            channels = channels.SetItem(match.SourceIndex, channels[match.SourceIndex] with { Samples = samples });
        }

        return Samples with { Channels = channels };
    }
}
