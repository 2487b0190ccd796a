using System.Collections.Immutable;
using Leadwright.Surveys.Journal;

namespace Leadwright.Surveys;

/// <summary>A survey as its journal has it: the journal replayed.</summary>
public sealed record SurveyState
{
    /// <summary>The layout of the folder.</summary>
    public string Schema { get; init; } = "";

    /// <summary>The survey's name among all surveys: small letters, digits and hyphens.</summary>
    public string Id { get; init; } = "";

    /// <summary>Its title.</summary>
    public string Title { get; init; } = "";

    /// <summary>When it was made.</summary>
    public DateTimeOffset Made { get; init; }

    /// <summary>When it was written to last, by that computer's clock.</summary>
    public DateTimeOffset Changed { get; init; }

    /// <summary>The site.</summary>
    public SurveySite Site { get; init; } = new();

    /// <summary>The panel.</summary>
    public SurveyPanel Panel { get; init; } = new();

    /// <summary>The plan.</summary>
    public SurveyPlan Plan { get; init; } = new();

    /// <summary>All recordings, those that were taken out too, in the order in which they came.</summary>
    public ImmutableArray<SurveyRecording> Recordings { get; init; } = [];

    /// <summary>Proofs of the hook-up, oldest first.</summary>
    public ImmutableArray<KeptProof> Proofs { get; init; } = [];

    /// <summary>What was found at the panel when asked, each as ACTION=ANSWER.</summary>
    public ImmutableArray<string> Told { get; init; } = [];

    /// <summary>The check before leaving as it was signed last; null when it never was.</summary>
    public KeptDeparture? Departure { get; init; }

    /// <summary>Layers of mending, in the order in which they were accepted.</summary>
    public ImmutableArray<KeptCorrection> Corrections { get; init; } = [];

    /// <summary>Words of the report that a person wrote, by their place.</summary>
    public ImmutableSortedDictionary<string, string> ReportWords { get; init; } = ImmutableSortedDictionary.Create<string, string>(StringComparer.Ordinal);

    /// <summary>Photos and other papers, oldest first.</summary>
    public ImmutableArray<KeptPhoto> Photos { get; init; } = [];

    /// <summary>True when it was put away.</summary>
    public bool IsArchived { get; init; }

    /// <summary>The survey this one was copied from; null for none.</summary>
    public string? CopiedFrom { get; init; }

    /// <summary>Number of the last entry of the journal; 0 before the first.</summary>
    public long LastEntry { get; init; }

    /// <summary>Entries of kinds that this version does not know, or whose form it can't read. They are kept and change nothing here.</summary>
    public ImmutableArray<string> NotUnderstood { get; init; } = [];

    /// <summary>Recordings that take part in the work.</summary>
    public IEnumerable<SurveyRecording> WorkRecordings => Recordings.Where(recording => !recording.IsRemoved);

    /// <summary>The recording with a name, in any case; null when there is none.</summary>
    /// <param name="name">The name.</param>
    public SurveyRecording? Recording(string? name) =>
        Recordings.FirstOrDefault(recording => string.Equals(recording.Name, name, StringComparison.OrdinalIgnoreCase));

    /// <summary>All files that the survey keeps.</summary>
    public IEnumerable<StoredFile> Files => Recordings.SelectMany(recording => recording.Files).Concat(Photos.Select(photo => photo.File));

    /// <summary>The state that a journal leads to.</summary>
    /// <param name="entries">The entries, oldest first.</param>
    public static SurveyState Of(IEnumerable<JournalEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(entries);
        return entries.Aggregate(new SurveyState(), (state, entry) => state.After(entry));
    }

    /// <summary>The state after one more entry.</summary>
    /// <param name="entry">The entry.</param>
    public SurveyState After(JournalEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return SurveyReplay.After(this, entry) with { LastEntry = entry.Number, Changed = entry.At };
    }
}
