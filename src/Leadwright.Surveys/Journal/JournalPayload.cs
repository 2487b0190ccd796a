using System.Text.Json;

namespace Leadwright.Surveys.Journal;

/// <summary>What an entry of the journal says.</summary>
public abstract record JournalPayload;

/// <summary>An entry of a kind that this version does not know. It is kept as it is and changes nothing.</summary>
/// <param name="What">Its kind.</param>
/// <param name="Data">What it says.</param>
public sealed record UnknownPayload(string What, JsonElement Data) : JournalPayload;
