using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Guarding;

/// <summary>Writes the answer of a guard as one line of JSON, schema <c>leadwright.guard/1</c>.</summary>
public static class GuardJson
{
    /// <summary>The name of the schema.</summary>
    public const string Schema = "leadwright.guard/1";

    // A log with thousands of gaps must not drown the answer.
    private const int MostClockFindings = 1000;

    /// <summary>The answer as one JSON object without a line break.</summary>
    /// <param name="file">The file's name as given.</param>
    /// <param name="report">The answer.</param>
    /// <param name="clock">What was noticed of the recorder's clock when the file was read.</param>
    /// <param name="notes">What a person must know beside what could not be judged.</param>
    /// <param name="reading">What a person must know of how the file was read.</param>
    public static string Line(
        string file, GuardReport report, ImmutableArray<ClockFinding> clock = default, ImmutableArray<string> notes = default, ImmutableArray<string> reading = default)
    {
        ArgumentNullException.ThrowIfNull(report);
        return JsonLine.Of(writer => Write(file, report, clock, notes.IsDefault ? [] : notes, reading.IsDefault ? [] : reading, writer));
    }

    /// <summary>A time by the recorder's clock, to the second, or finer where it is.</summary>
    public static string Time(DateTime time) => RecordTime.Iso(time, "yyyy-MM-dd'T'HH:mm:ss.FFFFFF");

    /// <summary>Writes one span as an object.</summary>
    /// <param name="span">The span.</param>
    /// <param name="writer">Receives it.</param>
    public static void Write(GuardSpan span, Utf8JsonWriter writer) => Write(span, null, writer);

    private static void Write(GuardSpan span, GuardReport? report, Utf8JsonWriter writer)
    {
        ArgumentNullException.ThrowIfNull(span);
        ArgumentNullException.ThrowIfNull(writer);
        writer.WriteStartObject();
        writer.WriteString("kind", GuardWords.Of(span.Kind));
        writer.WriteStartArray("channels");
        foreach (var lead in span.Leads) writer.WriteStringValue(lead.ToString());
        foreach (var clamp in span.Clamps) writer.WriteStringValue(clamp.ToString());
        writer.WriteEndArray();
        writer.WriteString("from", Time(span.From));
        writer.WriteString("to", Time(span.To));
        writer.WriteNumber("confidence", Math.Round(span.Confidence, 3));
        if (span.IsDoubtful) writer.WriteBoolean("doubtful", true);
        writer.WriteString("says", report is null ? SpanWording.Of(span) : SpanWording.Of(span, report.Timeline));
        // An alarm lasts, as far as it goes.
        if ((report is null ? SpanAdvice.OnSite(span) : SpanAdvice.Of(span, report)) is { Length: > 0 } todo) writer.WriteString("todo", todo);
        writer.WriteEndObject();
    }

    private static void Write(string file, GuardReport report, ImmutableArray<ClockFinding> clock, ImmutableArray<string> notes, ImmutableArray<string> reading, Utf8JsonWriter writer)
    {
        writer.WriteStartObject();
        writer.WriteString("schema", Schema);
        writer.WriteString("file", file);
        writer.WriteString("from", Time(report.From));
        writer.WriteString("to", Time(report.To));
        writer.WriteStartArray("spans");
        foreach (var span in report.Spans) Write(span, report, writer);
        writer.WriteEndArray();
        writer.WriteStartObject("usable");
        foreach (var (channel, share) in report.Usable) writer.WriteNumber(channel.ToString(), Math.Round(share, 4));
        writer.WriteEndObject();
        writer.WriteStartArray("hookups");
        foreach (var piece in report.Timeline.Pieces)
        {
            writer.WriteStartObject();
            writer.WriteString("from", Time(piece.From));
            writer.WriteString("to", Time(piece.To));
            writer.WriteNumber("confidence", Math.Round(piece.Confidence, 3));
            writer.WritePropertyName("hookup");
            CheckJson.Write(piece.Hookup, writer);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        WriteClock(clock.IsDefault ? [] : clock, writer);
        writer.WriteStartArray("notes");
        foreach (var note in report.Notes) writer.WriteStringValue(GuardWords.Of(note));
        foreach (var note in notes) writer.WriteStringValue(note);
        writer.WriteEndArray();
        if (!reading.IsEmpty) writer.Texts("reading", reading);
        writer.WriteEndObject();
    }

    private static void WriteClock(ImmutableArray<ClockFinding> clock, Utf8JsonWriter writer)
    {
        if (clock.IsEmpty) return;
        writer.WriteStartArray("clock");
        foreach (var finding in clock.Take(MostClockFindings))
        {
            writer.WriteStartObject();
            writer.WriteString("kind", ClockWording.WordOf(finding.Kind));
            writer.WriteString("before", Time(finding.Before));
            writer.WriteString("at", Time(finding.At));
            writer.WriteNumber("rows", finding.RowCount);
            writer.WriteNumber("seconds", Math.Round(finding.Seconds, 3));
            writer.WriteString("says", ClockWording.Of(finding));
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        if (clock.Length > MostClockFindings) writer.WriteNumber("clockMore", clock.Length - MostClockFindings);
    }

    private static string Time(long ticks) => Time(new DateTime(Math.Clamp(ticks, 0, DateTime.MaxValue.Ticks)));
}
