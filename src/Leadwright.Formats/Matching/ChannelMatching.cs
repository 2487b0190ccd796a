using System.Collections.Immutable;

namespace Leadwright.Formats.Matching;

/// <summary>Which channel of a recording is which channel of the hook-up.</summary>
/// <param name="Matches">The matches, in the order V1 V2 V3 V12 V23 V31 I1 I2 I3 IN.</param>
/// <param name="Unmatched">The channels of the recording that were left over.</param>
/// <param name="Notes">What the person should know: further sets of channels, channels that are missing. Whole sentences.</param>
public sealed record ChannelMatching(
    ImmutableArray<ChannelMatch> Matches, ImmutableArray<UnmatchedChannel> Unmatched, ImmutableArray<string> Notes)
{
    /// <summary>True when the recording holds further sets of channels that could have been taken.</summary>
    public bool HasOtherSets { get; init; }
}

/// <summary>A channel of the recording that has no place in the hook-up.</summary>
/// <param name="SourceIndex">Its index, from 0.</param>
/// <param name="SourceName">Its name in the recording.</param>
/// <param name="Why">Why it was left over, in words.</param>
public sealed record UnmatchedChannel(int SourceIndex, string SourceName, string Why);
