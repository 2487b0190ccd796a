using System.Collections.Immutable;
using System.Text.Json;

namespace Leadwright.Surveys.Journal;

/// <summary><c>hookup-proved</c>: a proof of the hook-up was kept.</summary>
/// <param name="Verdict">The verdict, a document <c>leadwright.check/1</c>.</param>
/// <param name="Readings">The readings it rests on, a document <c>leadwright.readings/1</c>; null when it rests on a recording.</param>
/// <param name="Recording">Name of the recording it rests on; null for readings.</param>
public sealed record HookupProved(JsonElement Verdict, JsonElement? Readings = null, string? Recording = null) : JournalPayload;

/// <summary><c>told</c>: what was found at the panel when asked; goes over what was told before.</summary>
/// <param name="Answers">Each as ACTION=ANSWER, as <c>rotation=abc</c>.</param>
public sealed record AnswersTold(ImmutableArray<string> Answers) : JournalPayload
{
    /// <summary>Each as ACTION=ANSWER.</summary>
    public ImmutableArray<string> Answers { get => field.IsDefault ? [] : field; init; } = Answers;
}

/// <summary><c>correction-accepted</c>: a layer of mending counts from here on.</summary>
/// <param name="Id">Its name in the survey.</param>
/// <param name="Recording">Name of the recording it mends.</param>
/// <param name="Correction">What is mended, as the mending wrote it.</param>
public sealed record CorrectionAccepted(string Id, string Recording, JsonElement Correction) : JournalPayload;

/// <summary><c>correction-switched</c>: a layer of mending is switched off, or on again.</summary>
/// <param name="Id">Its name.</param>
/// <param name="IsOn">True when it counts.</param>
public sealed record CorrectionSwitched(string Id, bool IsOn) : JournalPayload;
