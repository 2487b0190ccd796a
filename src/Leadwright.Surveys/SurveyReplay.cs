using System.Globalization;
using Leadwright.Surveys.Journal;

namespace Leadwright.Surveys;

/// <summary>What each kind of entry does to the state. Whatever stands in a journal, replaying it never fails.</summary>
internal static class SurveyReplay
{
    public static SurveyState After(SurveyState state, JournalEntry entry) => entry.Payload switch
    {
        SurveyCreated made => state with
        {
            Schema = made.Schema,
            Id = made.Id,
            Title = made.Title,
            Site = made.Site,
            Panel = made.Panel,
            Plan = made.Plan,
            Made = entry.At,
        },
        SiteChanged site => state with { Title = site.Title, Site = site.Site, Panel = site.Panel },
        PlanChanged plan => state with { Plan = plan.Plan },
        RecordingImported facts => state with
        {
            Recordings = state.Recordings.Add(new(facts.Name, entry.At, entry.Number, facts) { Columns = facts.IsConfirmed ? facts.Columns : null }),
        },
        ColumnsConfirmed match => WithRecording(state, entry, match.Recording, recording => recording with
        {
            Columns = match.Columns,
            Facts = recording.Facts with { Reading = match.Reading ?? recording.Facts.Reading, From = match.From ?? recording.Facts.From, To = match.To ?? recording.Facts.To },
        }),
        RecordingRemoved removed => WithRecording(state, entry, removed.Recording, recording => recording with { IsRemoved = removed.IsRemoved }),
        GuardKept guard => WithRecording(state, entry, guard.Recording, recording => recording with { Guard = guard.Guard }),
        HookupProved proof => state with
        {
            Proofs = state.Proofs.Add(new(entry.Number, entry.At, entry.Who, proof.Verdict, proof.Readings, proof.Recording)),
        },
        AnswersTold told => state with { Told = told.Answers },
        DepartureSigned signed => state with { Departure = new(entry.Number, entry.At, entry.Who, signed.Items, signed.Note) },
        CorrectionAccepted accepted => state with
        {
            Corrections = state.Corrections.RemoveAll(correction => correction.Id == accepted.Id)
                .Add(new(accepted.Id, accepted.Recording, accepted.Correction, true, entry.Why, entry.Who, entry.At)),
        },
        CorrectionSwitched switched => Switched(state, entry, switched),
        ReportWordsChanged words => state with
        {
            ReportWords = words.Text.Length == 0 ? state.ReportWords.Remove(words.Place) : state.ReportWords.SetItem(words.Place, words.Text),
        },
        PhotoAttached photo => state with { Photos = state.Photos.Add(new(entry.Number, entry.At, photo.File, photo.Caption, photo.Proof)) },
        ArchivedChanged archived => state with { IsArchived = archived.IsArchived },
        SurveyDuplicated copy => state with { Id = copy.Id, CopiedFrom = copy.From, Title = copy.Title },
        SurveyUpgraded upgrade => state with { Schema = upgrade.To },
        _ => NotUnderstood(state, entry, "is of a kind, or has a form, that this version does not know"),
    };

    private static SurveyState WithRecording(SurveyState state, JournalEntry entry, string name, Func<SurveyRecording, SurveyRecording> change)
    {
        if (state.Recording(name) is not { } recording) return NotUnderstood(state, entry, $"speaks of a recording '{name}' that is not there");
        return state with { Recordings = state.Recordings.Replace(recording, change(recording)) };
    }

    private static SurveyState Switched(SurveyState state, JournalEntry entry, CorrectionSwitched switched)
    {
        if (state.Corrections.FirstOrDefault(correction => correction.Id == switched.Id) is not { } correction)
            return NotUnderstood(state, entry, $"speaks of a correction '{switched.Id}' that is not there");
        return state with
        {
            Corrections = state.Corrections.Replace(correction, correction with { IsOn = switched.IsOn, Why = entry.Why, Who = entry.Who, At = entry.At }),
        };
    }

    private static SurveyState NotUnderstood(SurveyState state, JournalEntry entry, string why) => state with
    {
        NotUnderstood = state.NotUnderstood.Add(string.Create(
            CultureInfo.InvariantCulture, $"Entry {entry.Number} of the journal ({entry.What}) {why}. It is kept, and changes nothing here.")),
    };
}
