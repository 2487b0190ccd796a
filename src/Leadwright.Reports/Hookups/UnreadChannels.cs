using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>The leads and clamps of which nothing was read. How often slips happen is no ground to say where they are, nor to send a person to settle it: reading them is.</summary>
internal sealed class UnreadChannels
{
    private readonly HashSet<string> _names;

    private UnreadChannels(IEnumerable<string> names) => _names = [.. names];

    /// <summary>Those of a verdict.</summary>
    public static UnreadChannels Of(HookupVerdict verdict) =>
        new(verdict.Notes.Where(note => note.Kind == NoteKind.NotAllRead).SelectMany(note => note.Channels).Select(channel => $"{channel}"));

    /// <summary>True when nothing was read of a lead.</summary>
    public bool Has(Lead lead) => _names.Contains($"{lead}");

    /// <summary>True when nothing was read of a clamp.</summary>
    public bool Has(Clamp clamp) => _names.Contains($"{clamp}");

    /// <summary>True when two hook-ups differ, and only in what was not read.</summary>
    public bool AloneTell(Hookup one, Hookup other) => _names.Count > 0 && !one.Equals(other)
        && one.Leads.All(lead => Has(lead.Key) || (other.Leads.TryGetValue(lead.Key, out var place) && place == lead.Value))
        && one.Clamps.All(clamp => Has(clamp.Key) || (other.Clamps.TryGetValue(clamp.Key, out var place) && place == clamp.Value));
}
