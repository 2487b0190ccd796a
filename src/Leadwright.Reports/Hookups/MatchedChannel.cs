namespace Leadwright.Reports.Hookups;

/// <summary>Which channel of a file was taken for which channel of the recorder.</summary>
/// <param name="Channel">The recorder's channel, such as <c>V1</c>.</param>
/// <param name="Name">The channel's name in the file.</param>
/// <param name="Why">What the match rests on, in a few words; empty when nothing is to be said.</param>
public sealed record MatchedChannel(string Channel, string Name, string Why = "");
