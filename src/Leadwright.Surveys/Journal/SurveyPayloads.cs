using System.Collections.Immutable;

namespace Leadwright.Surveys.Journal;

/// <summary><c>created</c>: the survey begins. Always entry 1, and nowhere else.</summary>
/// <param name="Schema">The layout of the folder, <c>leadwright.survey/1</c>.</param>
/// <param name="Id">The survey's name among all surveys: small letters, digits and hyphens.</param>
/// <param name="Title">Its title.</param>
/// <param name="Site">The site.</param>
/// <param name="Panel">The panel.</param>
/// <param name="Plan">The plan.</param>
public sealed record SurveyCreated(string Schema, string Id, string Title, SurveySite Site, SurveyPanel Panel, SurveyPlan Plan) : JournalPayload;

/// <summary><c>site-changed</c>: title, site and panel from here on.</summary>
/// <param name="Title">The title.</param>
/// <param name="Site">The site.</param>
/// <param name="Panel">The panel.</param>
public sealed record SiteChanged(string Title, SurveySite Site, SurveyPanel Panel) : JournalPayload;

/// <summary><c>plan-changed</c>: the plan from here on.</summary>
/// <param name="Plan">The plan.</param>
public sealed record PlanChanged(SurveyPlan Plan) : JournalPayload;

/// <summary><c>report-words-changed</c>: words of the report that a person wrote.</summary>
/// <param name="Place">Which part of the report.</param>
/// <param name="Text">The words; empty to go back to the program's own.</param>
public sealed record ReportWordsChanged(string Place, string Text) : JournalPayload;

/// <summary><c>photo-attached</c>: a photo or other paper was added.</summary>
/// <param name="File">The file.</param>
/// <param name="Caption">What it shows.</param>
/// <param name="Proof">The entry of the proof it belongs to; null for none.</param>
public sealed record PhotoAttached(StoredFile File, string Caption, long? Proof = null) : JournalPayload;

/// <summary><c>archived</c>: the survey is put away, or taken out again.</summary>
/// <param name="IsArchived">True when it is put away.</param>
public sealed record ArchivedChanged(bool IsArchived) : JournalPayload;

/// <summary><c>duplicated</c>: this folder is a copy that goes its own way from here on.</summary>
/// <param name="Id">Its own name.</param>
/// <param name="From">The name of the survey it was copied from.</param>
/// <param name="Title">Its title.</param>
public sealed record SurveyDuplicated(string Id, string From, string Title) : JournalPayload;

/// <summary><c>upgraded</c>: the folder was brought to a newer layout.</summary>
/// <param name="From">The layout it had.</param>
/// <param name="To">The layout it has.</param>
public sealed record SurveyUpgraded(string From, string To) : JournalPayload;

/// <summary><c>departure-signed</c>: the check before leaving the site.</summary>
/// <param name="Items">What was gone through.</param>
/// <param name="Note">What else was said.</param>
public sealed record DepartureSigned(ImmutableArray<DepartureItem> Items, string Note) : JournalPayload
{
    /// <summary>What was gone through.</summary>
    public ImmutableArray<DepartureItem> Items { get => field.IsDefault ? [] : field; init; } = Items;
}

/// <summary>One line of the check before leaving.</summary>
/// <param name="Text">What was to be looked at.</param>
/// <param name="IsDone">True when it was in order.</param>
public sealed record DepartureItem(string Text, bool IsDone)
{
    /// <summary>Its word in the list of items, as <c>clock</c>; null where it came from no list.</summary>
    public string? Key { get; init; }

    /// <summary>The answer: <c>yes</c>, <c>no</c> or <c>not-possible</c>; null where only <see cref="IsDone"/> was kept.</summary>
    public string? Answer { get; init; }

    /// <summary>What was said to it, as typed; null for nothing.</summary>
    public string? Remark { get; init; }
}
