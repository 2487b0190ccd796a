using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using Leadwright.App.Verbs.Studying;
using Leadwright.Client.Surveys;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Formats.Limits;
using Leadwright.Formats.Logs;
using Leadwright.Reports.Guarding;
using Leadwright.Reports.Mending;
using Leadwright.Reports.Studies;
using Leadwright.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>What is worked out of the recordings of surveys: by the code of the verbs, once for one input and one program.</summary>
/// <param name="surveys">The surveys.</param>
internal sealed class SurveyResults(ServedSurveys surveys)
{
    /// <summary>What stands before the name of a column of the recording in a mended table.</summary>
    public const string RecordedPrefix = "recorded:";

    private const int MostDesks = 4;
    private readonly Lock _gate = new();
    private readonly List<RecordingDesk> _desks = [];

    /// <summary>A recording of a survey, and the survey as it is now.</summary>
    /// <param name="id">The survey.</param>
    /// <param name="recording">The recording; empty for the last one.</param>
    /// <exception cref="SurveyException">There is none of that name, or none at all.</exception>
    public (RecordingDesk Desk, SurveyState State, string Recording) Find(string id, string? recording)
    {
        using var survey = surveys.Read(id);
        var found = string.IsNullOrEmpty(recording) ? survey.State.WorkRecordings.LastOrDefault(ServedSurveys.IsShown) : survey.State.Recording(recording);
        if (found is null || found.Files.IsEmpty)
        {
            throw new SurveyException(SurveyProblem.NotFound, string.IsNullOrEmpty(recording)
                ? "This survey has no recording yet. Drop the recorder's file on the list of surveys or on the survey's page."
                : $"This survey has no recording '{recording}'. Look at its list of recordings.");
        }

        var desk = new RecordingDesk(survey, found);
        lock (_gate)
        {
            var known = _desks.Find(other => other.Key == desk.Key && other.Path == desk.Path);
            if (known is not null)
            {
                _desks.Remove(known);
                desk = known;
            }

            _desks.Add(desk);
            // The file it held goes with the last work on it.
            if (_desks.Count > MostDesks) _desks.RemoveAt(0);
        }

        return (desk, survey.State, found.Name);
    }

    /// <summary>The guard of a recording as JSON, if it was worked out before.</summary>
    public byte[]? KnownGuard(string id, RecordingDesk desk, SurveyState state, string recording) =>
        TablesOf(id, desk, state, recording).HasSpans ? ResultFiles.Read(surveys.PathOf(id), desk.Key, "guard.json") : null;

    /// <summary>Works the guard of a recording out.</summary>
    public async Task GuardAsync(string id, RecordingDesk desk, SurveyState state, string recording, SurveyWork work, CancellationToken cancellation)
    {
        await ReadAsync(desk, work, cancellation);
        work.Report("Guarding: comparing every channel with the others", 0.3);
        var (report, notes) = await desk.GuardAsync(cancellation);
        var json = GuardJson.Line(desk.FileName, report, (await desk.ReadAsync(cancellation)).Log?.Clock ?? [], notes.OfSite, notes.OfReading);
        await TablesOf(id, desk, state, recording).KeepSpansAsync(report, cancellation);
        ResultFiles.Keep(surveys.PathOf(id), desk.Key, "guard.json", Encoding.UTF8.GetBytes(json));
    }

    /// <summary>The mending of a recording as JSON, if it was worked out before with the layers as they are.</summary>
    public byte[]? KnownMend(string id, RecordingDesk desk, SurveyState state, string recording) =>
        TablesOf(id, desk, state, recording).HasMended(MendName(state, recording))
        && ResultFiles.Read(surveys.PathOf(id), desk.Key, MendName(state, recording)) is { } kept ? WithState(kept, state, recording) : null;

    /// <summary>Works the mending of a recording out.</summary>
    public async Task MendAsync(string id, RecordingDesk desk, SurveyState state, string recording, SurveyWork work, CancellationToken cancellation)
    {
        await ReadAsync(desk, work, cancellation);
        work.Report("Guarding: comparing every channel with the others", 0.2);
        var (guard, notes) = await desk.GuardAsync(cancellation);
        work.Report("Mending, and measuring how far it can be trusted", 0.5);
        var whole = await desk.MendAsync([], cancellation);
        var current = await desk.MendAsync(CorrectionLayers.OffOf(state, recording), cancellation);
        await TablesOf(id, desk, state, recording).KeepMendedAsync(current, MendName(state, recording), cancellation);
        var sheets = Sheet(whole, notes.All).Corrections;
        var answer = new MendAnswer { Sequence = state.LastEntry, Mend = Sheet(current, notes.All), Layers = CorrectionLayers.Of(state, recording, whole, sheets) };
        ResultFiles.Keep(surveys.PathOf(id), desk.Key, MendName(state, recording), JsonSerializer.SerializeToUtf8Bytes(answer, SurveyJson.Default.MendAnswer));

        MendSheet Sheet(MendReport report, ImmutableArray<string> reading) => JsonSerializer.Deserialize(
            MendJson.Line(new MendDocument(desk.FileName, report, reading) { Spans = guard.Spans }), SurveyJson.Default.MendSheet)!;
    }

    /// <summary>The study of a recording as JSON, if it was worked out before.</summary>
    public byte[]? KnownStudy(string id, RecordingDesk desk, SurveyState state, string recording, string limits) =>
        ResultFiles.Read(surveys.PathOf(id), StudyKey(desk, state, recording, limits), "study.json");

    /// <summary>A table or plot of a study that was worked out; null when there is none of that name.</summary>
    public byte[]? StudyFile(string id, RecordingDesk desk, SurveyState state, string recording, string limits, string name) =>
        name.All(letter => char.IsAsciiLetterOrDigit(letter) || letter is '-' or '.') && !name.StartsWith('.')
            ? ResultFiles.Read(surveys.PathOf(id), StudyKey(desk, state, recording, limits), name) : null;

    /// <summary>Works the study of a recording out: of the mended table where it is a log.</summary>
    public async Task StudyAsync(string id, RecordingDesk desk, SurveyState state, string recording, string limits, SurveyWork work, CancellationToken cancellation)
    {
        await ReadAsync(desk, work, cancellation);
        var request = new StudyRequest(desk.Request.Recording) { Limits = [.. LimitsOf(limits).Select(word => LimitTableReader.Read(LimitTableReader.ShippedFile(word)!))] };
        if (StudyChoices.Of(state) is { } load) request = request with { Load = load };
        StudySubject subject;
        var isMended = false;
        if ((await desk.ReadAsync(cancellation)).Log is { } log && log.Log.Count > 0)
        {
            work.Report("Mending, so that the mended values are studied", 0.3);
            subject = StudyInput.OfLog(desk.FileName, await TableAsync(desk, state, recording, isMended: true, cancellation), request);
            subject = subject with { Notes = [.. log.Warnings.Select(warning => warning.Says), .. subject.Notes] };
            isMended = true;
        }
        else
        {
            subject = await Task.Run(() => StudyInput.Read(desk.Path, request, share => work.Report("Measuring the samples", 0.2 + (0.6 * share)), cancellation), cancellation);
        }

        work.Report("Studying load and voltage", 0.8);
        var document = await Task.Run(() => StudyRun.Study(subject, request, folder: null), cancellation);
        ImmutableArray<StudyFile> plots = [.. StudyPlots.Of(document)];
        ImmutableArray<StudyFile> tables = [.. StudyTables.Of(document)];
        var answer = new StudyAnswer
        {
            Study = JsonSerializer.Deserialize(StudyJson.Line(document), SurveyJson.Default.StudySheet)!,
            IsMended = isMended,
            Plots = [.. plots.Select(file => file.Name)],
            Tables = [.. tables.Select(file => file.Name)],
        };
        var (folder, key) = (surveys.PathOf(id), StudyKey(desk, state, recording, limits));
        foreach (var file in plots.Concat(tables)) ResultFiles.Keep(folder, key, file.Name, Encoding.UTF8.GetBytes(file.Content));
        ResultFiles.Keep(folder, key, "study.json", JsonSerializer.SerializeToUtf8Bytes(answer, SurveyJson.Default.StudyAnswer));
    }

    /// <summary>A recording as a table: as the recorder wrote it, or mended with the layers that are on.</summary>
    /// <exception cref="SurveyException">It holds samples.</exception>
    public static async Task<LogFile> TableAsync(RecordingDesk desk, SurveyState state, string recording, bool isMended, CancellationToken cancellation)
    {
        if ((await desk.ReadAsync(cancellation)).Log is not { } log)
            throw new SurveyException(SurveyProblem.Refused, $"'{desk.FileName}' holds samples of waves: there are no logged columns to draw. Measure it into a table and import that.");
        if (!isMended || log.Log.Count == 0) return log;
        var report = await desk.MendAsync(CorrectionLayers.OffOf(state, recording), cancellation);
        return log with { Log = report.Log, Standings = report.Standings, Clock = [], Warnings = [], Questions = [] };
    }

    /// <summary>A mended table with the columns of the recording beside its own, under their names after <c>recorded:</c>.</summary>
    /// <param name="mended">The mended table.</param>
    /// <param name="recorded">The recording.</param>
    /// <param name="names">The columns that are wanted.</param>
    public static IntervalLog WithRecorded(IntervalLog mended, IntervalLog recorded, ImmutableArray<string> names)
    {
        var added = new List<(LogColumn Column, double[] Values)>();
        for (var column = 0; column < recorded.Columns.Length; column++)
        {
            var name = RecordedPrefix + LogNames.Of(recorded.Columns[column]);
            if (!names.Contains(name)) continue;
            // Both have their rows in the order of time; the mended one has more.
            var (values, row) = (new double[mended.Count], 0);
            var starts = recorded.Starts.Span;
            for (var at = 0; at < values.Length; at++)
            {
                while (row < starts.Length && starts[row] < mended.Starts.Span[at]) row++;
                values[at] = row < starts.Length && starts[row] == mended.Starts.Span[at] ? recorded.Values(column)[row] : double.NaN;
            }

            added.Add((new LogColumn(name, LogQuantity.Other) { OtherUnit = ColumnFrames.UnitOf(recorded.Columns[column]) }, values));
        }

        if (added.Count == 0) return mended;
        return new IntervalLog(
            [.. mended.Columns, .. added.Select(pair => pair.Column)], mended.Starts.ToArray(),
            [.. Enumerable.Range(0, mended.Columns.Length).Select(column => mended.Values(column).ToArray()), .. added.Select(pair => pair.Values)], mended.IntervalSeconds);
    }

    /// <summary>The names of tables of limits that a request means; the others are left out.</summary>
    public static ImmutableArray<string> LimitsOf(string limits) =>
        [.. limits.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Where(LimitTableReader.Shipped.Contains).Distinct().Order(StringComparer.Ordinal)];

    private static async Task ReadAsync(RecordingDesk desk, SurveyWork work, CancellationToken cancellation)
    {
        work.Report("Reading the recording", 0.05);
        await desk.ReadAsync(cancellation);
    }

    private KeptTables TablesOf(string id, RecordingDesk desk, SurveyState state, string recording) => new(surveys.PathOf(id), state, recording, desk.Key);

    private static string MendName(SurveyState state, string recording) =>
        RecordingDesk.KeyOf(CorrectionLayers.OffOf(state, recording)) is { Length: > 0 } off ? $"mend-{ResultFiles.KeyOf([off])}.json" : "mend.json";

    private static string StudyKey(RecordingDesk desk, SurveyState state, string recording, string limits) =>
        ResultFiles.KeyOf([desk.Key, "study", RecordingDesk.KeyOf(CorrectionLayers.OffOf(state, recording)), string.Join(',', LimitsOf(limits)), StudyChoices.KeyOf(state)]);

    // Reasons and numbers of the journal move on while the arithmetic stays.
    private static byte[]? WithState(byte[] kept, SurveyState state, string recording)
    {
        try
        {
            var answer = JsonSerializer.Deserialize(kept, SurveyJson.Default.MendAnswer)!;
            ImmutableArray<MendLayer> layers =
            [
                .. answer.Layers.Select(layer => state.Corrections.FirstOrDefault(other => other.Id == layer.Id && string.Equals(other.Recording, recording, StringComparison.OrdinalIgnoreCase)) is { } now
                    ? layer with { IsOn = now.IsOn, Why = now.Why, Who = now.Who, At = now.At } : layer with { IsOn = true, Why = "", Who = "", At = null }),
            ];
            return JsonSerializer.SerializeToUtf8Bytes(answer with { Sequence = state.LastEntry, Layers = layers }, SurveyJson.Default.MendAnswer);
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
