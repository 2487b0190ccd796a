using System.Collections.Immutable;

namespace Leadwright.Surveys.Shelves;

/// <summary>A survey in a list.</summary>
/// <param name="Folder">Name of its folder on the shelf.</param>
/// <param name="Path">Its folder.</param>
/// <param name="Id">Its name among all surveys; empty when it can't be read.</param>
/// <param name="Title">Its title; the folder's name when it can't be read.</param>
public sealed record SurveySummary(string Folder, string Path, string Id, string Title)
{
    /// <summary>The site.</summary>
    public SurveySite Site { get; init; } = new();

    /// <summary>The panel.</summary>
    public SurveyPanel Panel { get; init; } = new();

    /// <summary>When it was made.</summary>
    public DateTimeOffset Made { get; init; }

    /// <summary>When it was written to last.</summary>
    public DateTimeOffset Changed { get; init; }

    /// <summary>True when it was put away.</summary>
    public bool IsArchived { get; init; }

    /// <summary>How many recordings take part in the work.</summary>
    public int RecordingCount { get; init; }

    /// <summary>SHA-256 of each file of the recordings that take part in the work, 64 small hexadecimal digits.</summary>
    public ImmutableArray<string> FileDigests { get => field.IsDefault ? [] : field; init; } = [];

    /// <summary>Why it can't be read, in whole sentences; null when it can.</summary>
    public string? Problem { get; init; }
}
