using System.Text.Json;

namespace Leadwright.Surveys;

/// <summary>A proof of the hook-up that was kept.</summary>
/// <param name="Entry">The journal's entry that brought it; its name.</param>
/// <param name="At">When.</param>
/// <param name="Who">By whom.</param>
/// <param name="Verdict">The verdict, a document <c>leadwright.check/1</c>.</param>
/// <param name="Readings">The readings it rests on, a document <c>leadwright.readings/1</c>; null when it rests on a recording.</param>
/// <param name="Recording">Name of the recording it rests on; null for readings.</param>
public sealed record KeptProof(long Entry, DateTimeOffset At, string Who, JsonElement Verdict, JsonElement? Readings, string? Recording);
