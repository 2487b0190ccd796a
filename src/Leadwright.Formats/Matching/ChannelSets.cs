using System.Collections.Immutable;
using Leadwright.Core.Hookups;

namespace Leadwright.Formats.Matching;

/// <summary>Channels of a recording that belong together, at most one for each channel of the hook-up.</summary>
/// <param name="Roles">The channels, in the order of the hook-up.</param>
internal sealed record ChannelSet(ImmutableArray<ChannelRole> Roles);

/// <summary>Sorts channels into sets: by what is left of their names, or where that says nothing by their order.</summary>
internal static class ChannelSets
{
    /// <summary>The sets, best first: those that hold a group the person named, complete ones, then the order of the recording.</summary>
    /// <param name="roles">Channels of one kind, in the order of the recording.</param>
    /// <param name="needed">The channels that make a set complete.</param>
    /// <param name="preferred">Groups that the person named channels of.</param>
    public static List<ChannelSet> Of(List<ChannelRole> roles, ImmutableArray<Channel> needed, HashSet<string> preferred)
    {
        var byName = roles.GroupBy(role => role.Group, StringComparer.Ordinal).SelectMany(group => InOrder([.. group])).ToList();
        // Names such as 'CH1 Ua', 'CH2 Ub' have nothing in common: then their order says what belongs together.
        var sets = byName.Any(set => IsComplete(set, needed)) ? byName : InOrder(roles);
        return [.. sets
            .OrderByDescending(set => set.Roles.Any(role => preferred.Contains(role.Group)))
            .ThenByDescending(set => IsComplete(set, needed))
            .ThenByDescending(set => set.Roles.Count(role => needed.Contains(role.Channel!.Value)))
            .ThenBy(set => set.Roles.Min(role => role.SourceIndex))];
    }

    private static bool IsComplete(ChannelSet set, ImmutableArray<Channel> needed) =>
        needed.All(channel => set.Roles.Any(role => role.Channel == channel));

    // A set ends where one of its channels comes up again.
    private static List<ChannelSet> InOrder(List<ChannelRole> roles)
    {
        var sets = new List<ChannelSet>();
        var open = new SortedDictionary<Channel, ChannelRole>();
        foreach (var role in roles)
        {
            if (open.ContainsKey(role.Channel!.Value))
            {
                sets.Add(new ChannelSet([.. open.Values]));
                open.Clear();
            }

            open.Add(role.Channel.Value, role);
        }

        if (open.Count > 0) sets.Add(new ChannelSet([.. open.Values]));
        return sets;
    }
}
