using Leadwright.Core.Hookups;

namespace Leadwright.Formats.Matching;

/// <summary>A channel of the hook-up and the channel of the recording that holds it.</summary>
/// <param name="Channel">The channel of the hook-up.</param>
/// <param name="SourceIndex">Index of the recording's channel, from 0.</param>
/// <param name="SourceName">Its name in the recording.</param>
/// <param name="IsTurned">True when the recording holds it the other way round, as in V21 for V12: its samples change sign.</param>
/// <param name="Basis">What the match rests on.</param>
/// <param name="Why">The same in words, such as <c>name 'Ua' and phase A</c>.</param>
public sealed record ChannelMatch(
    Channel Channel, int SourceIndex, string SourceName, bool IsTurned, MatchBasis Basis, string Why);
