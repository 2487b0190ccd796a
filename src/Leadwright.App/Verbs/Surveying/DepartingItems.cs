using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Reports.Planning;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>The check before leaving the site, as a survey keeps it.</summary>
internal static class DepartingItems
{
    /// <summary>In order.</summary>
    public const string Yes = "yes";

    /// <summary>Not in order.</summary>
    public const string No = "no";

    /// <summary>It could not be looked at.</summary>
    public const string NotPossible = "not-possible";

    private const int MostRemark = 400;
    private const int MostNote = 2000;
    private const int MostName = 80;

    /// <summary>The words for an answer.</summary>
    public static ImmutableArray<string> Answers { get; } = [Yes, No, NotPossible];

    /// <summary>The items for a panel: one switched load for each phase that its service has.</summary>
    /// <param name="panel">The panel.</param>
    public static ImmutableArray<DepartingItem> Of(SurveyPanel panel) => DepartingWording.Of(panel.KnownService()?.Kind);

    /// <summary>What is wrong with answers that are to be signed; empty when they may be.</summary>
    /// <param name="items">The items.</param>
    /// <param name="answers">The answers with their remarks, by item.</param>
    /// <param name="who">Who signs.</param>
    /// <param name="note">What else is said.</param>
    public static string Problem(ImmutableArray<DepartingItem> items, IReadOnlyDictionary<string, (string Answer, string Remark)> answers, string who, string note)
    {
        if (answers.Keys.Except(items.Select(item => item.Key), StringComparer.Ordinal).FirstOrDefault() is { } unknown)
            return $"There is no item '{unknown}' for this panel. Items: {string.Join(", ", items.Select(item => item.Key))}.";
        foreach (var item in items)
        {
            if (!answers.TryGetValue(item.Key, out var given)) return $"'{item.Key}' has no answer yet ({item.Text}). Answer {string.Join(", ", Answers)}.";
            if (!Answers.Contains(given.Answer)) return $"'{given.Answer}' is no answer to '{item.Key}'. Answer {string.Join(", ", Answers)}.";
            if (given.Answer != Yes && given.Remark.Length == 0) return $"'{item.Key}' is not in order: say why in its remark, so that the desk knows ({item.Text}).";
            if (given.Remark.Length > MostRemark) return string.Create(CultureInfo.InvariantCulture, $"The remark to '{item.Key}' has {given.Remark.Length} letters; {MostRemark} are taken.");
        }

        if (who.Length is 0 or > MostName) return "Sign with your name: it stands in the journal and in the report.";
        return note.Length > MostNote ? string.Create(CultureInfo.InvariantCulture, $"The note has {note.Length} letters; {MostNote} are taken.") : "";
    }

    /// <summary>Answers as the journal keeps them.</summary>
    /// <param name="items">The items.</param>
    /// <param name="answers">The answers, found to be in order.</param>
    /// <param name="note">What else is said.</param>
    public static DepartureSigned Signed(ImmutableArray<DepartingItem> items, IReadOnlyDictionary<string, (string Answer, string Remark)> answers, string note) => new(
        [
            .. items.Select(item => new DepartureItem(item.Text, answers[item.Key].Answer == Yes)
            {
                Key = item.Key, Answer = answers[item.Key].Answer, Remark = answers[item.Key].Remark is { Length: > 0 } remark ? remark : null,
            }),
        ],
        note);

    /// <summary>An answer in words.</summary>
    public static string AnswerText(DepartureItem item) => item.Answer switch { NotPossible => "not possible", { } answer => answer, _ => item.IsDone ? Yes : No };
}
