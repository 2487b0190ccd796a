using System.Globalization;
using Leadwright.App.Verbs;
using Leadwright.App.Verbs.Reporting;
using Leadwright.App.Verbs.Studying;
using Leadwright.Client.Surveys;
using Leadwright.Core.Circuits;
using Leadwright.Documents.Reports;
using Leadwright.Documents.Words;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>The report of a survey: the code of the verb <c>report</c> on a recording of the survey, with the words that the survey keeps.</summary>
/// <param name="surveys">The surveys.</param>
/// <param name="results">Finds recordings.</param>
internal sealed class SurveyReports(ServedSurveys surveys, SurveyResults results)
{
    private const int MostSubjects = 2;
    private readonly Lock _gate = new();
    private readonly List<(string Key, ReportSubject Subject)> _subjects = [];

    /// <summary>What was chosen and written for the report.</summary>
    public static ReportSheet SheetOf(SurveyFolder survey)
    {
        var state = survey.State;
        var last = survey.Entries.Where(entry => entry.Payload is ReportWordsChanged).GroupBy(entry => ((ReportWordsChanged)entry.Payload).Place, StringComparer.Ordinal)
            .ToDictionary(group => group.Key, group => group.Last(), StringComparer.Ordinal);
        var wanted = ReportPlaces.PartsOf(state.ReportWords.GetValueOrDefault(ReportPlaces.Parts, ""));
        return new ReportSheet
        {
            Sequence = state.LastEntry,
            Paper = state.ReportWords.GetValueOrDefault(ReportPlaces.Paper, "a4"),
            Parts = [.. ReportBuilder.PartNames.Select(name => new ReportPartCard(name, ReportWords.English.Of($"part.{name}"), wanted.IsEmpty || wanted.Contains(name), FieldOf(ReportPlaces.NoteOf(name))))],
            Study = [.. StudyChoices.Places.Select(FieldOf)],
            Fields = [.. ReportPlaces.All.Where(place => place.Key is not (ReportPlaces.Parts or ReportPlaces.Paper)).Select(FieldOf)],
        };

        ReportField FieldOf(ReportPlace place) => new(place.Key, place.Title)
        {
            Hint = place.Key == "colours" ? "" : place.Hint,
            LineCount = place.LineCount,
            Text = state.ReportWords.GetValueOrDefault(place.Key, ""),
            Usual = place.Key switch { "colours" => "Letters A, B, C", "study.demand-kind" => "Fixed by the clock", "study.demand" => "15,30,60", _ => ReportSurvey.Usual(place.Key, state) },
            Choices = place.Key switch { "colours" => [.. ConductorColours.All.Select(scheme => scheme.Id)], "study.demand-kind" => ["block", "sliding"], _ => [] },
            Who = last.TryGetValue(place.Key, out var entry) && state.ReportWords.ContainsKey(place.Key) ? entry.Who : "",
            At = last.TryGetValue(place.Key, out var at) && state.ReportWords.ContainsKey(place.Key) ? at.At : null,
        };
    }

    /// <summary>Keeps words.</summary>
    /// <param name="survey">The survey, open to write.</param>
    /// <param name="words">The words.</param>
    /// <returns>What is wrong with them; empty when they were kept.</returns>
    public static (int Status, string Problem) Keep(SurveyFolder survey, WordsChange words)
    {
        if (ReportPlaces.Of(words.Place) is not { } place) return (StatusCodes.Status400BadRequest, $"The report has no place '{words.Place}'. Load the page again.");
        var text = ReportPlaces.Clean(words.Text);
        if (ReportPlaces.Problem(place, text) is { Length: > 0 } problem) return (StatusCodes.Status400BadRequest, problem);
        if (survey.Entries.LastOrDefault(entry => entry.Number > words.Sequence && entry.Payload is ReportWordsChanged change && change.Place == words.Place) is { } other
            && ((ReportWordsChanged)other.Payload).Text != text)
        {
            return (StatusCodes.Status409Conflict, string.Create(
                CultureInfo.InvariantCulture, $"{other.Who} wrote here meanwhile ({other.At:HH:mm} UTC): \u201c{((ReportWordsChanged)other.Payload).Text}\u201d. What you typed is not kept yet: load the page again, or change it and leave the field to write over it."));
        }

        if (survey.State.ReportWords.GetValueOrDefault(place.Key, "") != text) survey.Append(new ReportWordsChanged(place.Key, text));
        return (0, "");
    }

    /// <summary>True when what the report is made from was worked out already.</summary>
    public bool IsThere(string id, string? recording)
    {
        var (desk, state, name) = results.Find(id, recording);
        return Known(KeyOf(desk, RequestOf(desk, state, name), state)) is not null;
    }

    /// <summary>What the work on a report is called while it runs.</summary>
    public string WorkKeyOf(string id, string? recording)
    {
        var (desk, state, name) = results.Find(id, recording);
        return $"report {id} {KeyOf(desk, RequestOf(desk, state, name), state)}";
    }

    /// <summary>Works out what the report is made from.</summary>
    public async Task<ReportSubject> MakeAsync(string id, string? recording, SurveyWork work, CancellationToken cancellation)
    {
        var (desk, state, name) = results.Find(id, recording);
        var request = RequestOf(desk, state, name);
        work.Report("Guarding, checking, mending and studying for the report");
        var subject = await Task.Run(() => ReportRun.Subject(desk.Path, request, TextWriter.Null, cancellation), cancellation);
        lock (_gate)
        {
            _subjects.Add((KeyOf(desk, request, state), subject));
            if (_subjects.Count > MostSubjects) _subjects.RemoveAt(0);
        }

        return subject;
    }

    /// <summary>The report as a file.</summary>
    /// <param name="id">The survey.</param>
    /// <param name="recording">The recording; empty for the last.</param>
    /// <param name="ending">The format: <c>pdf</c>, <c>html</c> or <c>xlsx</c>.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <exception cref="InputRefusedException">A file of the recording is not the one that was imported.</exception>
    public async Task<byte[]> DocumentAsync(string id, string? recording, string ending, CancellationToken cancellation)
    {
        var (desk, state, name) = results.Find(id, recording);
        var request = RequestOf(desk, state, name);
        using var work = new SurveyWork("Making the report");
        var made = Known(KeyOf(desk, request, state)) ?? await MakeAsync(id, recording, work, cancellation);
        var subject = ReportSurvey.WithProofs(made, desk.Path, state);
        var document = ReportSurveyParts.AddTo(ReportBuilder.Build(subject, request.Settings), state, name);
        return await ReportVerb.BytesAsync(document, $"report.{ending}", request, cancellation);
    }

    /// <summary>The file's name: the survey's, so that two reports in one folder of downloads are told apart.</summary>
    public string NameOf(string id, string ending) => $"{Path.GetFileName(surveys.PathOf(id))}-report.{ending}";

    private static ReportRequest RequestOf(RecordingDesk desk, SurveyState state, string recording) => ReportSurvey.Complete(
        new ReportRequest(new StudyRequest(desk.Request.Recording), desk.Request.Known, new ReportSettings { Program = ProgramName.WithVersion() })
        {
            Withdrawn = CorrectionLayers.OffOf(state, recording),
        },
        state) is var request && StudyChoices.Of(state) is { } load ? request with { Study = request.Study with { Load = load } } : request;

    // Everything that changes what is worked out; words and paper change only how it is written.
    private static string KeyOf(RecordingDesk desk, ReportRequest request, SurveyState state) => ResultFiles.KeyOf(
    [
        desk.Key, StudyChoices.KeyOf(state), RecordingDesk.KeyOf(request.Withdrawn), string.Join(',', request.Study.Limits.Select(table => table.Name)), request.AccuracyPercent.ToString(CultureInfo.InvariantCulture),
        request.Naming?.Scheme ?? "",
    ]);

    private ReportSubject? Known(string key)
    {
        lock (_gate) return _subjects.Find(made => made.Key == key).Subject;
    }
}
