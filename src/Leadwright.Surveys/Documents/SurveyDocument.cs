using System.Collections.Immutable;

namespace Leadwright.Surveys.Documents;

/// <summary>What stands in <c>survey.json</c>: the state, for people and for other programs. It is written from the journal, never read back into it.</summary>
internal sealed record SurveyDocument(string Schema, string Id, string Title, DateTimeOffset Made, DateTimeOffset Changed)
{
    public bool IsArchived { get; init; }

    public string? CopiedFrom { get; init; }

    public SurveySite Site { get; init; } = new();

    public SurveyPanel Panel { get; init; } = new();

    public SurveyPlan Plan { get; init; } = new();

    public ImmutableArray<DocumentRecording> Recordings { get => field.IsDefault ? [] : field; init; } = [];

    public ImmutableArray<DocumentProof> Proofs { get => field.IsDefault ? [] : field; init; } = [];

    public ImmutableArray<string> Told { get => field.IsDefault ? [] : field; init; } = [];

    public KeptDeparture? Departure { get; init; }

    public ImmutableArray<KeptCorrection> Corrections { get => field.IsDefault ? [] : field; init; } = [];

    public ImmutableSortedDictionary<string, string>? ReportWords { get; init; }

    public ImmutableArray<KeptPhoto> Photos { get => field.IsDefault ? [] : field; init; } = [];

    public ImmutableArray<string> NotUnderstood { get => field.IsDefault ? [] : field; init; } = [];

    /// <summary>How far the journal had come: what is less than this in a journal was lost.</summary>
    public DocumentJournal Journal { get; init; } = new(0, "");

    /// <summary>The document of a state.</summary>
    /// <param name="state">The state.</param>
    /// <param name="lastSum">SHA-256 of the journal's last line.</param>
    public static SurveyDocument Of(SurveyState state, string lastSum) => new(state.Schema, state.Id, state.Title, state.Made, state.Changed)
    {
        IsArchived = state.IsArchived,
        CopiedFrom = state.CopiedFrom,
        Site = state.Site,
        Panel = state.Panel,
        Plan = state.Plan,
        Recordings = [.. state.Recordings.Select(DocumentRecording.Of)],
        Proofs = [.. state.Proofs.Select(proof => new DocumentProof(proof.Entry, proof.At, proof.Who, proof.Recording))],
        Told = state.Told,
        Departure = state.Departure,
        Corrections = state.Corrections,
        ReportWords = state.ReportWords,
        Photos = state.Photos,
        NotUnderstood = state.NotUnderstood,
        Journal = new(state.LastEntry, lastSum),
    };
}
