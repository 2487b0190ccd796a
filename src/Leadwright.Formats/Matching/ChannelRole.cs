using Leadwright.Core.Hookups;

namespace Leadwright.Formats.Matching;

/// <summary>What a channel of a recording is by its own name, phase and unit.</summary>
/// <param name="SourceIndex">Its index in the recording.</param>
/// <param name="Channel">The channel of the hook-up that it could be; null when it is none.</param>
/// <param name="IsTurned">True when it is that channel the other way round.</param>
/// <param name="Group">What is left of the name: channels of one bay have it in common.</param>
/// <param name="Basis">What this rests on.</param>
/// <param name="Why">The same in words; why it is none, when it is none.</param>
internal sealed record ChannelRole(
    int SourceIndex, Channel? Channel, bool IsTurned, string Group, MatchBasis Basis, string Why)
{
    /// <summary>True for a current.</summary>
    public bool IsCurrent => Channel >= Core.Hookups.Channel.I1;

    /// <summary>True for a voltage between two leads.</summary>
    public bool IsLineToLine => Channel is Core.Hookups.Channel.V12 or Core.Hookups.Channel.V23 or Core.Hookups.Channel.V31;
}
