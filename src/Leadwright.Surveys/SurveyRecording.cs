using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Surveys.Journal;

namespace Leadwright.Surveys;

/// <summary>A recording of a survey.</summary>
/// <param name="Name">Its name in the survey: short, and of its own.</param>
/// <param name="Imported">When it was imported.</param>
/// <param name="Entry">The journal's entry that brought it.</param>
/// <param name="Facts">What was found in it when it was imported.</param>
public sealed record SurveyRecording(string Name, DateTimeOffset Imported, long Entry, RecordingImported Facts)
{
    /// <summary>Its files; the first is the one to open.</summary>
    public ImmutableArray<StoredFile> Files => Facts.Files;

    /// <summary>How its columns are to be read, a document <c>leadwright.columns/1</c>, as a person confirmed it; null when nobody did.</summary>
    public JsonElement? Columns { get; init; }

    /// <summary>True while a person should say what its columns hold: something was asked or is not sure, and nobody confirmed it.</summary>
    public bool AsksColumns => Facts is { Kind: "log", Columns: not null, IsConfirmed: false } && Columns is null && Facts.Remarks.Any(remark => remark.Kind is "question" or "column-unsure");

    /// <summary>True when it was taken out of the work. Its files stay.</summary>
    public bool IsRemoved { get; init; }

    /// <summary>What the last guard of it found, a document <c>leadwright.guard/1</c>; null when none was kept.</summary>
    public JsonElement? Guard { get; init; }
}
