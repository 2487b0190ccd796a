using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Matching;

/// <summary>Decides which channel of a recording is which channel of the hook-up.</summary>
public static class ChannelMatcher
{
    private const int MostListed = 60;

    /// <summary>Matches the channels of a recording.</summary>
    /// <param name="recording">The recording.</param>
    /// <param name="service">The service it was hung on; says which channels are needed.</param>
    /// <param name="told">What a person says, as in <c>V1=UA,V2=2,I1=Ia-213,IN=-</c>: by name or number from 1, <c>-</c> to
    /// leave a channel out. What is not said is worked out. Null or empty for nothing.</param>
    /// <param name="source">Display name of the recording.</param>
    /// <exception cref="FormatReadException">Nothing can be matched, or <paramref name="told"/> does not fit.</exception>
    /// <remarks>Where the recording holds several sets of channels (bays), the first complete one is taken and the others are
    /// noted. Residuals (3U0, 3I0) are never taken.</remarks>
    public static ChannelMatching Match(SampledRecording recording, ServiceKind service, string? told, string source)
    {
        ArgumentNullException.ThrowIfNull(recording);
        var channels = recording.Channels;
        var assigned = ChannelAssignment.Read(told ?? "", channels);
        var taken = assigned.Values.OfType<ChannelMatch>().Select(match => match.SourceIndex).ToHashSet();
        var roles = channels.Select(ChannelRoleReader.Read).ToList();
        var free = roles.Where(role => role.Channel is { } channel && !taken.Contains(role.SourceIndex) && !assigned.ContainsKey(channel)).ToList();
        var preferred = roles.Where(role => taken.Contains(role.SourceIndex) && role.Channel is not null).Select(role => role.Group).ToHashSet(StringComparer.Ordinal);

        var notes = new List<string>();
        var hasOtherSets = false;
        var matches = assigned.Values.OfType<ChannelMatch>().ToList();
        foreach (var wanted in WantedSets(service))
        {
            var needed = wanted.Needed.RemoveAll(assigned.ContainsKey);
            var sets = ChannelSets.Of([.. free.Where(wanted.Holds)], needed, preferred);
            if (sets.Count == 0) continue;
            matches.AddRange(sets[0].Roles.Select(role => new ChannelMatch(
                role.Channel!.Value, role.SourceIndex, channels[role.SourceIndex].Name, role.IsTurned, role.Basis, role.Why)));
            hasOtherSets |= sets.Count > 1;
            notes.AddRange(NotesOf(wanted.What, sets, channels));
        }

        if (matches.Count == 0) throw NothingMatched(channels, service, source);
        var used = matches.Select(match => match.SourceIndex).ToHashSet();
        var spare = matches.Select(match => match.Channel).ToHashSet();
        NoteMissing(service, assigned, spare, notes);
        return new ChannelMatching(
            [.. matches.OrderBy(match => match.Channel)],
            [.. roles.Where(role => !used.Contains(role.SourceIndex)).Select(role => new UnmatchedChannel(
                role.SourceIndex, channels[role.SourceIndex].Name,
                role.Channel is { } channel ? $"{channel} is taken or not needed" : role.Why))],
            [.. notes])
        {
            HasOtherSets = hasOtherSets,
        };
    }

    /// <summary>The service to match a recording's channels by when nobody stated one: the first by which each channel that can be
    /// told is needed.</summary>
    /// <param name="recording">The recording.</param>
    /// <param name="told">What a person says of its channels; see <see cref="Match"/>.</param>
    /// <exception cref="FormatReadException"><paramref name="told"/> does not fit.</exception>
    /// <remarks>It says how many lines there are, not which service it is: that is left to the check.</remarks>
    public static ServiceKind ServiceFor(SampledRecording recording, string? told)
    {
        ArgumentNullException.ThrowIfNull(recording);
        var assigned = ChannelAssignment.Read(told ?? "", recording.Channels);
        var there = recording.Channels.Select(ChannelRoleReader.Read).Select(role => role.Channel).OfType<Channel>()
            .Concat(assigned.Where(entry => entry.Value is not null).Select(entry => entry.Key))
            .Except(assigned.Where(entry => entry.Value is null).Select(entry => entry.Key)).ToHashSet();
        var isToNeutral = there.Any(channel => channel <= Channel.V3);
        if (there.Overlaps([Channel.V3, Channel.V23, Channel.V31, Channel.I3]))
        {
            if (isToNeutral || there.Contains(Channel.IN)) return ServiceKind.Wye;
            return there.Contains(Channel.I2) || !there.Contains(Channel.I3) ? ServiceKind.Delta : ServiceKind.DeltaTwoClamp;
        }

        return there.Overlaps([Channel.V2, Channel.V12, Channel.I2]) ? ServiceKind.Split : ServiceKind.Single;
    }

    /// <summary>The channels as a list for people: number, name and unit, at most sixty.</summary>
    internal static string ListOf(ImmutableArray<SampledChannel> channels)
    {
        var list = channels.Take(MostListed).Select((channel, index) => string.Create(CultureInfo.InvariantCulture,
            $"{index + 1} {Quoted.Of(channel.Name)}{(channel.Unit.Trim().Length > 0 ? $" ({channel.Unit.Trim()})" : "")}"));
        return string.Join(", ", list) + (channels.Length > MostListed ? $" and {channels.Length - MostListed} more" : "");
    }

    private static ImmutableArray<WantedSet> WantedSets(ServiceKind service)
    {
        ImmutableArray<Channel> lines = service switch
        {
            ServiceKind.Split or ServiceKind.Network => [Channel.V1, Channel.V2],
            ServiceKind.Single => [Channel.V1],
            _ => [Channel.V1, Channel.V2, Channel.V3],
        };
        ImmutableArray<Channel> clamps =
            [.. Service.Of(service).Clamps.Select(clamp => Channel.I1 + (int)clamp)];
        ImmutableArray<WantedSet> sets = [new("voltages", lines, []), new("currents", clamps, [Channel.IN])];
        return service == ServiceKind.Single
            ? sets
            : sets.Insert(1, new("voltages between lines", service is ServiceKind.Split or ServiceKind.Network ? [Channel.V12] : [Channel.V12, Channel.V23, Channel.V31], []));
    }

    private static IEnumerable<string> NotesOf(
        string what, List<ChannelSet> sets, ImmutableArray<SampledChannel> channels)
    {
        if (sets.Count > 1)
        {
            var others = string.Join("; ", sets.Skip(1).Select(set => Names(set, channels)));
            yield return $"The recording holds {sets.Count} sets of {what}: {Names(sets[0], channels)} is taken. Others: {others}.";
        }

        if (sets[0].Roles.Any(role => role.Basis == MatchBasis.PhaseAndUnit))
            yield return $"The {what} are matched by phase and unit alone, since their names say nothing: check them.";
    }

    private static string Names(ChannelSet set, ImmutableArray<SampledChannel> channels) =>
        string.Join(" ", set.Roles.Select(role => string.Create(CultureInfo.InvariantCulture, $"{role.SourceIndex + 1} {Quoted.Of(channels[role.SourceIndex].Name)}")));

    private static void NoteMissing(
        ServiceKind service, Dictionary<Channel, ChannelMatch?> assigned, HashSet<Channel> matched, List<string> notes)
    {
        var sets = WantedSets(service);
        var voltages = sets.Where(set => set.Needed[0] < Channel.I1).ToList();
        // Either kind of voltage will do; two of the three between lines give the third.
        var isEnough = voltages.Any(set => set.Needed.Count(matched.Contains) >= (set.Needed[0] == Channel.V12 && set.Needed.Length == 3 ? 2 : set.Needed.Length));
        if (!isEnough)
        {
            var missing = voltages[0].Needed.Where(channel => !matched.Contains(channel) && !assigned.ContainsKey(channel)).ToList();
            if (missing.Count > 0) notes.Add($"No channel was found for {string.Join(", ", missing)}.");
        }

        var clamps = sets[^1].Needed.Where(channel => !matched.Contains(channel) && !assigned.ContainsKey(channel)).ToList();
        if (clamps.Count > 0) notes.Add($"No channel was found for {string.Join(", ", clamps)}.");
    }

    private static FormatReadException NothingMatched(ImmutableArray<SampledChannel> channels, ServiceKind service, string source)
    {
        var wanted = WantedSets(service).Where(set => set.What != "voltages between lines").SelectMany(set => set.Needed);
        var example = string.Join(",", wanted.Select((channel, index) => string.Create(CultureInfo.InvariantCulture,
            $"{channel}={Math.Min(index + 1, Math.Max(channels.Length, 1))}")));
        return new FormatReadException(
            source, $"channels named as voltages and currents of a '{Service.Of(service).Name}' service",
            channels.IsEmpty ? "no analog channel" : $"none among {ListOf(channels)}",
            channels.IsEmpty
                ? "The record holds status channels only: export it again with its analog channels."
                : $"Say which is which, by name or number, as in --channels \"{example}\".");
    }

    /// <summary>A set of channels that belong together.</summary>
    /// <param name="What">What it is called.</param>
    /// <param name="Needed">The channels that make it complete.</param>
    /// <param name="Welcome">Channels that belong to it where they are there.</param>
    private sealed record WantedSet(string What, ImmutableArray<Channel> Needed, ImmutableArray<Channel> Welcome)
    {
        public bool Holds(ChannelRole role) =>
            role.Channel is { } channel && (Needed.Contains(channel) || Welcome.Contains(channel));
    }
}
