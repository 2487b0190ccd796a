using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Leadwright.Core.Logs;
using Leadwright.Reports.Guarding;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Shelves;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>Surveys in words, and as lines of JSON.</summary>
internal static class SurveyText
{
    private const int MostRemarks = 20;
    private const string Day = "yyyy-MM-dd HH:mm";

    public static void WriteSurvey(TextWriter output, SurveyFolder survey, bool hasJournal)
    {
        var state = survey.State;
        output.WriteLine(state.Title + (state.IsArchived ? "  (put away)" : ""));
        Line(output, "id", state.Id);
        Line(output, "site", string.Join(", ", new[] { state.Site.Name, state.Site.Place }.Where(text => text.Length > 0)));
        Line(output, "notes", state.Site.Notes);
        Line(output, "panel", PanelOf(state.Panel));
        Line(output, "to learn", string.Join("; ", state.Plan.Learn));
        Line(output, "limits", string.Join(", ", state.Plan.Limits));
        Line(output, "plan", state.Plan.Text);
        Line(output, "told", string.Join(", ", state.Told));
        foreach (var recording in state.Recordings) WriteRecording(output, recording);
        foreach (var proof in state.Proofs) output.WriteLine(FormattableString.Invariant($"  check of the hook-up kept {Time(proof.At)} by {proof.Who}{VerdictOf(proof)}"));
        if (state.Departure is { } departure) output.WriteLine($"  departure signed {Time(departure.At)} by {departure.Who}");
        foreach (var correction in state.Corrections) output.WriteLine($"  correction {correction.Id} of {correction.Recording}: {(correction.IsOn ? "on" : "off")}{(correction.Why.Length > 0 ? $" ({correction.Why})" : "")}");
        foreach (var photo in state.Photos) output.WriteLine($"  {photo.File.Path}{(photo.Caption.Length > 0 ? $": {photo.Caption}" : "")}");
        foreach (var note in state.NotUnderstood) output.WriteLine($"  {note}");
        if (!hasJournal) return;
        output.WriteLine();
        foreach (var entry in survey.Entries)
            output.WriteLine(FormattableString.Invariant($"{entry.Number,5}  {Time(entry.At)}  {entry.Who}: {entry.What}{(entry.Why.Length > 0 ? $" ({entry.Why})" : "")}"));
    }

    public static void WriteAdded(TextWriter output, string folder, SurveyRecording recording)
    {
        output.Write("Added.");
        WriteRecording(output, recording);
        if (recording.Facts.Kind == "log" && recording.Facts.Columns is not null && recording.Facts.Remarks.Any(remark => remark.Kind is "question" or "column-unsure" or "column-unread"))
            output.WriteLine($"    To see how each column is read, and to answer: leadwright columns {folder} --recording {Worded(recording.Name)} --keep");
    }

    // A check that was kept proves nothing by itself: it may have found faults.
    private static string VerdictOf(KeptProof proof) =>
        proof.Verdict.ValueKind == JsonValueKind.Object && proof.Verdict.TryGetProperty("verdict", out var verdict) && verdict.ValueKind == JsonValueKind.String ? $": {verdict.GetString()}" : "";

    private static string Worded(string name) => name.Contains(' ', StringComparison.Ordinal) ? $"\"{name}\"" : name;

    public static ExitCode WriteCopy(TextWriter output, TextWriter error, SurveyCopy copy)
    {
        output.WriteLine($"Copied to {copy.Path}.");
        foreach (var left in copy.LeftOut.Take(MostRemarks)) output.WriteLine($"  not copied, as it is no part of the survey: {left}");
        foreach (var file in copy.Unsound) error.WriteLine($"  {file.File.Path} {StandingOf(file.Standing)}.");
        return copy.Unsound.IsEmpty ? ExitCode.NothingWrong : ExitCode.FaultsFound;
    }

    public static void WriteVerification(TextWriter output, SurveyFolder survey, SurveyVerification found)
    {
        output.WriteLine(found.IsSound
            ? FormattableString.Invariant($"SOUND  {survey.Path}: {survey.Entries.Length} entries of the journal and {found.Files.Length} files are as they were written.")
            : $"CHANGED  {survey.Path}");
        foreach (var fault in found.JournalFaults) output.WriteLine($"  {fault}");
        foreach (var file in found.Files.Where(file => file.Standing != StoredFileStanding.Sound)) output.WriteLine($"  {file.File.Path} {StandingOf(file.Standing)}.");
        foreach (var stray in found.Strays.Take(MostRemarks)) output.WriteLine($"  {stray} is no part of the survey; somebody laid it there.");
    }

    public static string LineOf(SurveySummary survey) => survey.Problem is { } problem
        ? $"{survey.Folder}: {problem}"
        : FormattableString.Invariant($"{Time(survey.Changed)}  {survey.Folder}  {survey.Title}{(survey.Site.Name.Length > 0 ? $", {survey.Site.Name}" : "")}  ({survey.RecordingCount} {(survey.RecordingCount == 1 ? "recording" : "recordings")}){(survey.IsArchived ? "  put away" : "")}");

    /// <summary>The survey's document on one line.</summary>
    public static string JsonLine(SurveyFolder survey)
    {
        using var document = JsonDocument.Parse(survey.Document());
        return Json(document.RootElement.WriteTo);
    }

    public static string JsonLine(SurveySummary survey) => Json(writer =>
    {
        writer.WriteStartObject();
        writer.WriteString("schema", "leadwright.survey-list/1");
        writer.WriteString("folder", survey.Folder);
        writer.WriteString("id", survey.Id);
        writer.WriteString("title", survey.Title);
        writer.WriteString("site", survey.Site.Name);
        writer.WriteString("changed", survey.Changed.UtcDateTime);
        writer.WriteBoolean("archived", survey.IsArchived);
        writer.WriteNumber("recordings", survey.RecordingCount);
        if (survey.Problem is { } problem) writer.WriteString("problem", problem);
        writer.WriteEndObject();
    }).TrimEnd('\n');

    public static string JsonLine(string path, SurveyVerification found) => Json(writer =>
    {
        writer.WriteStartObject();
        writer.WriteString("schema", "leadwright.survey-check/1");
        writer.WriteString("folder", path);
        writer.WriteBoolean("sound", found.IsSound);
        Array(writer, "journal", found.JournalFaults);
        writer.WriteStartArray("files");
        foreach (var file in found.Files)
        {
            writer.WriteStartObject();
            writer.WriteString("path", file.File.Path);
            writer.WriteString("standing", file.Standing.ToString().ToLowerInvariant());
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        Array(writer, "strays", found.Strays);
        writer.WriteEndObject();
    });

    private static void WriteRecording(TextWriter output, SurveyRecording recording)
    {
        var facts = recording.Facts;
        // A record of seconds is told apart by its milliseconds.
        var day = facts.To - facts.From < TimeSpan.FromMinutes(10) ? "yyyy-MM-dd HH:mm:ss.fff" : Day;
        var span = facts is { From: { Year: 1 } } ? ", with no date" : facts is { From: { } from, To: { } to } ? FormattableString.Invariant($", {from.ToString(day, CultureInfo.InvariantCulture)} to {to.ToString(day, CultureInfo.InvariantCulture)}") : "";
        var count = facts.Count > 0 ? FormattableString.Invariant($", {facts.Count} {(facts.Kind == "log" ? $"rows of {facts.IntervalSeconds:0.###} s" : "samples")}") : "";
        output.WriteLine($"  recording {recording.Name}: {facts.Kind}, {facts.Format}{count}{span}{(recording.IsRemoved ? "  (taken out)" : "")}");
        foreach (var file in recording.Files) output.WriteLine(FormattableString.Invariant($"    {file.Path}  {file.Bytes} bytes  sha256 {file.Sha256}"));
        foreach (var said in facts.Reading?.Says() ?? []) output.WriteLine($"    {said}");
        foreach (var remark in facts.Remarks.Take(MostRemarks)) output.WriteLine($"    {remark.Kind}: {remark.Says}");
        if (facts.Remarks.Length > MostRemarks) output.WriteLine(FormattableString.Invariant($"    and {facts.Remarks.Length - MostRemarks} more, all in survey.json"));
        foreach (var clock in facts.Clock.Take(5)) output.WriteLine($"    clock: {ClockOf(clock)}");
        if (facts.Clock.Length > 5) output.WriteLine(FormattableString.Invariant($"    clock: {facts.Clock.Length - 5} more findings, all in survey.json"));
        foreach (var span2 in facts.Integrity.Take(10))
            output.WriteLine(FormattableString.Invariant($"    {span2.Kind} {string.Join(' ', span2.Channels)} from {span2.From.ToString(day, CultureInfo.InvariantCulture)} to {span2.To.ToString(day, CultureInfo.InvariantCulture)} ({span2.Confidence:P0})"));
        if (!facts.Integrity.IsEmpty) output.WriteLine("    guard tells more of these.");
    }

    private static string ClockOf(ClockRemark clock) => ClockWording.KindOf(clock.Kind) is { } kind
        ? ClockWording.Of(new ClockFinding(kind, 0, clock.RowCount, clock.Before.Ticks, clock.At.Ticks, clock.Seconds)) : clock.Kind;

    private static string PanelOf(SurveyPanel panel) => string.Join(", ", new[]
    {
        panel.Service, panel.Nominal is { } volts ? $"{volts} V" : null, panel.FrequencyHertz is { } hertz ? FormattableString.Invariant($"{hertz:0.##} Hz") : null,
        panel.Load is { } load ? $"load {load}" : null, panel.MayExport ? "may export" : null, panel.Rotation is { } rotation ? $"rotation {rotation}" : null,
    }.OfType<string>());

    private static string StandingOf(StoredFileStanding standing) => standing == StoredFileStanding.Missing ? "is gone, or can't be read" : "is not the file that was taken in";

    private static string Time(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd HH:mm'Z'", CultureInfo.InvariantCulture);

    private static void Line(TextWriter output, string name, string text)
    {
        if (text.Length > 0) output.WriteLine($"  {name}: {text}");
    }

    private static void Array(Utf8JsonWriter writer, string name, IEnumerable<string> texts)
    {
        writer.WriteStartArray(name);
        foreach (var text in texts) writer.WriteStringValue(text);
        writer.WriteEndArray();
    }

    private static string Json(Action<Utf8JsonWriter> write)
    {
        using var buffer = new MemoryStream();
        using (var writer = new Utf8JsonWriter(buffer, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping })) write(writer);
        return Encoding.UTF8.GetString(buffer.ToArray()) + "\n";
    }
}
