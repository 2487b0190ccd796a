namespace Leadwright.Surveys.Documents;

/// <summary>The part of <c>survey.json</c> that a list of surveys shows; everything else in it is passed over.</summary>
internal sealed record SurveyHeading
{
    public string? Schema { get; init; }

    public string? Id { get; init; }

    public string? Title { get; init; }

    public DateTimeOffset Made { get; init; }

    public DateTimeOffset Changed { get; init; }

    public bool IsArchived { get; init; }

    public SurveySite? Site { get; init; }

    public SurveyPanel? Panel { get; init; }

    public IReadOnlyList<HeadingRecording>? Recordings { get; init; }

    public DocumentJournal? Journal { get; init; }
}

/// <summary>What a list needs of a recording.</summary>
internal sealed record HeadingRecording
{
    public string? Name { get; init; }

    public bool IsRemoved { get; init; }

    public IReadOnlyList<HeadingFile>? Files { get; init; }
}

/// <summary>What a list needs of a recording's file.</summary>
internal sealed record HeadingFile(string? Sha256);
