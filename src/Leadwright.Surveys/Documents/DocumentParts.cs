using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Surveys.Journal;

namespace Leadwright.Surveys.Documents;

/// <summary>A recording in <c>survey.json</c>.</summary>
internal sealed record DocumentRecording(string Name, string Kind, string Format, DateTimeOffset Imported)
{
    public bool IsRemoved { get; init; }

    public ImmutableArray<StoredFile> Files { get => field.IsDefault ? [] : field; init; } = [];

    public long Count { get; init; }

    public DateTime? From { get; init; }

    public DateTime? To { get; init; }

    public double? IntervalSeconds { get; init; }

    public JsonElement? Columns { get; init; }

    public bool IsConfirmed { get; init; }

    public ImmutableArray<ImportRemark> Remarks { get => field.IsDefault ? [] : field; init; } = [];

    public ImmutableArray<ClockRemark> Clock { get => field.IsDefault ? [] : field; init; } = [];

    public ImmutableArray<IntegrityRemark> Integrity { get => field.IsDefault ? [] : field; init; } = [];

    public bool IsGuarded { get; init; }

    public static DocumentRecording Of(SurveyRecording recording) => new(recording.Name, recording.Facts.Kind, recording.Facts.Format, recording.Imported)
    {
        IsRemoved = recording.IsRemoved,
        Files = recording.Files,
        Count = recording.Facts.Count,
        From = recording.Facts.From,
        To = recording.Facts.To,
        IntervalSeconds = recording.Facts.IntervalSeconds,
        Columns = recording.Columns ?? recording.Facts.Columns,
        IsConfirmed = recording.Columns is not null,
        Remarks = recording.Facts.Remarks,
        Clock = recording.Facts.Clock,
        Integrity = recording.Facts.Integrity,
        IsGuarded = recording.Guard is not null,
    };
}

/// <summary>A proof in <c>survey.json</c>; the whole of it is in the journal.</summary>
internal sealed record DocumentProof(long Entry, DateTimeOffset At, string Who, string? Recording = null);

/// <summary>How far the journal had come when the document was written.</summary>
internal sealed record DocumentJournal(long Entries, string LastSha256);
