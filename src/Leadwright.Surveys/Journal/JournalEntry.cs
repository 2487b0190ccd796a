namespace Leadwright.Surveys.Journal;

/// <summary>One entry of the journal.</summary>
/// <param name="Number">Its number, from 1 without a gap. Numbers order the journal, times don't: a clock may be set back.</param>
/// <param name="At">When, UTC, by the clock of the computer it was written on.</param>
/// <param name="Who">By whom.</param>
/// <param name="Payload">What it says.</param>
/// <param name="Why">Why, as typed; empty when nobody said.</param>
public sealed record JournalEntry(long Number, DateTimeOffset At, string Who, JournalPayload Payload, string Why)
{
    /// <summary>Its kind, as <c>recording-imported</c>.</summary>
    public string What => JournalKinds.WordOf(Payload);
}
