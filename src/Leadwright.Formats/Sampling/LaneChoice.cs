using System.Collections.Immutable;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Formats.Sampling;

/// <summary>Which channel of a recording goes to which lane.</summary>
/// <param name="Sources">For each lane the index of a channel; −1 for none.</param>
/// <param name="Signs">For each lane 1, or −1 where the recording holds the channel the other way round.</param>
public sealed record LaneChoice(ImmutableArray<int> Sources, ImmutableArray<int> Signs)
{
    /// <summary>Nothing in any lane.</summary>
    public static LaneChoice Empty { get; } =
        new([.. Enumerable.Repeat(-1, Lane.Count)], [.. Enumerable.Repeat(1, Lane.Count)]);

    /// <summary>With a channel in a lane.</summary>
    /// <param name="lane">The lane.</param>
    /// <param name="source">Index of the channel.</param>
    /// <param name="isTurned">True when it is held the other way round.</param>
    public LaneChoice With(int lane, int source, bool isTurned) =>
        new(Sources.SetItem(lane, source), Signs.SetItem(lane, isTurned ? -1 : 1));
}
