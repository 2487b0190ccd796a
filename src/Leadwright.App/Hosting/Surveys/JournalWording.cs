using System.Globalization;
using Leadwright.Client.Surveys;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Entries of a journal in words.</summary>
internal static class JournalWording
{
    /// <summary>An entry as a row.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="state">The survey, for the names of what it speaks of.</param>
    public static JournalRow Of(JournalEntry entry, SurveyState state)
    {
        var says = entry.Payload switch
        {
            SurveyCreated made => $"The survey '{made.Title}' was made.",
            SiteChanged => "Site or panel was changed.",
            PlanChanged => "The plan was changed.",
            RecordingImported facts => string.Create(CultureInfo.InvariantCulture, $"Recording '{facts.Name}' was imported from {(facts.Files.IsEmpty ? "a file" : facts.Files[0].Name)}, {facts.Count} rows. The file is kept as it came, with a check number (SHA-256) that tells if a single byte of it is changed."),
            ColumnsConfirmed match => $"The columns of '{match.Recording}' were confirmed.",
            RecordingRemoved removed => removed.IsRemoved ? $"Recording '{removed.Recording}' was taken out of the work; its files stay." : $"Recording '{removed.Recording}' was put back.",
            GuardKept guard => $"What the guard of '{guard.Recording}' found was kept.",
            HookupProved => "A proof of the hook-up was kept.",
            AnswersTold => "What was found at the panel was told.",
            DepartureSigned signed => signed.Items.Count(item => !item.IsDone) is > 0 and var open
                ? string.Create(CultureInfo.InvariantCulture, $"The check before leaving was signed, {open} of {signed.Items.Length} items not in order or not possible.") : "The check before leaving was signed, all in order.",
            CorrectionAccepted accepted => $"Correction accepted: {SaysOf(accepted.Correction)}",
            CorrectionSwitched switched => $"Correction switched {(switched.IsOn ? "on" : "off")}: {state.Corrections.Where(layer => layer.Id == switched.Id).Select(layer => SaysOf(layer.Correction)).FirstOrDefault(switched.Id)}",
            ReportWordsChanged words => $"Words of the report were {(words.Text.Length == 0 ? "taken back" : "written")}: {Verbs.Reporting.ReportPlaces.Of(words.Place)?.Title ?? words.Place}.",
            PhotoAttached photo => $"'{photo.File.Name}' was attached.",
            ArchivedChanged archived => archived.IsArchived ? "The survey was put away." : "The survey was taken out again.",
            SurveyDuplicated copy => $"This is a copy of '{copy.From}' and goes its own way from here on.",
            SurveyUpgraded => "The folder was brought to a newer layout.",
            _ => $"An entry of the kind '{entry.What}', which this version does not know.",
        };
        return new JournalRow(entry.Number, entry.At, entry.Who, entry.Why.Length > 0 ? $"{says} Reason: {entry.Why}" : says);
    }

    private static string SaysOf(System.Text.Json.JsonElement correction) =>
        correction.ValueKind == System.Text.Json.JsonValueKind.Object && correction.TryGetProperty("says", out var says) ? says.GetString() ?? "" : "";
}
