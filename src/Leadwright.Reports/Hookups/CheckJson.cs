using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>Writes the answer of a check as one line of JSON, schema <c>leadwright.check/1</c>.</summary>
public static class CheckJson
{
    /// <summary>The name of the schema.</summary>
    public const string Schema = "leadwright.check/1";

    /// <summary>The answer as one JSON object without a line break.</summary>
    /// <param name="document">The answer.</param>
    public static string Line(CheckDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        return JsonLine.Of(writer => Write(document, writer));
    }

    /// <summary>Writes the answer as one JSON object.</summary>
    /// <param name="document">The answer.</param>
    /// <param name="writer">Receives it; not flushed.</param>
    public static void Write(CheckDocument document, Utf8JsonWriter writer)
    {
        ArgumentNullException.ThrowIfNull(document);
        ArgumentNullException.ThrowIfNull(writer);
        var verdict = document.Verdict;
        writer.WriteStartObject();
        writer.WriteString("schema", Schema);
        writer.WriteString("file", document.File);
        writer.WriteString("service", Service.Of(verdict.StatedService ?? verdict.Service).Name);
        if (verdict.StatedService is not null) writer.WriteString("fits_service", Service.Of(verdict.Service).Name);
        writer.WriteString("verdict", CheckWords.Of(verdict.Verdict));
        writer.WriteNumber("confidence", ConfidenceWording.Rounded(verdict.Best.Probability));
        writer.WriteString("rotation", CheckWords.Of(verdict.Best.Rotation));
        if (verdict.Best.HighLeg is { } highLeg) writer.WriteString("high_leg", highLeg.ToString());
        if (verdict.Best.Corner is { } corner) writer.WriteString("earthed_corner", corner.ToString());
        writer.WritePropertyName("hookup");
        Write(verdict.Best.Hookup, writer);
        WriteFaults(document, writer);
        WriteAlternatives(document, writer);
        WriteSettle(document, writer);
        WriteEvidence(document, writer);
        writer.Texts("indistinguishable", document.SameReading);
        WriteReadsAlike(verdict.Best.Alike, writer);
        if (!verdict.Services.IsEmpty) WriteServices(verdict, writer);
        if (!document.Channels.IsEmpty) WriteChannels(document, writer);
        writer.Texts("notes", document.Notes);
        writer.WriteEndObject();
    }

    /// <summary>Writes a hook-up as an object with one entry for each lead and clamp.</summary>
    /// <param name="hookup">The hook-up.</param>
    /// <param name="writer">Receives it.</param>
    public static void Write(Hookup hookup, Utf8JsonWriter writer)
    {
        ArgumentNullException.ThrowIfNull(hookup);
        ArgumentNullException.ThrowIfNull(writer);
        writer.WriteStartObject();
        foreach (var (lead, place) in hookup.Leads)
        {
            writer.WriteStartObject(lead.ToString());
            writer.WriteString("on", place?.ToString());
            writer.WriteEndObject();
        }

        foreach (var (clamp, place) in hookup.Clamps)
        {
            writer.WriteStartObject(clamp.ToString());
            writer.WriteString("on", place.On?.ToString());
            writer.WriteBoolean("reversed", place.Reversed);
            writer.WriteNumber("scale", Math.Round(place.Scale, 6));
            writer.WriteEndObject();
        }

        writer.WriteEndObject();
    }

    private static void WriteFaults(CheckDocument document, Utf8JsonWriter writer)
    {
        writer.WriteStartArray("faults");
        foreach (var entry in document.Faults)
        {
            writer.WriteStartObject();
            writer.WriteString("kind", CheckWords.Of(entry.Fault.Kind));
            writer.WriteStartArray("channels");
            foreach (var lead in entry.Fault.Leads) writer.WriteStringValue(lead.ToString());
            foreach (var clamp in entry.Fault.Clamps) writer.WriteStringValue(clamp.ToString());
            writer.WriteEndArray();
            writer.WriteString("remedy", entry.Remedy);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void WriteAlternatives(CheckDocument document, Utf8JsonWriter writer)
    {
        writer.WriteStartArray("alternatives");
        foreach (var rival in document.Rivals)
        {
            writer.WriteStartObject();
            writer.WriteNumber("confidence", ConfidenceWording.Rounded(rival.Answer.Probability));
            writer.WritePropertyName("hookup");
            Write(rival.Answer.Hookup, writer);
            WriteReadsAlike(rival.Answer.SameReading, writer);
            writer.WriteString("settle", $"{rival.Settle} {SettleWording.Frame}");
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void WriteReadsAlike(ImmutableArray<SameReading> alike, Utf8JsonWriter writer)
    {
        writer.WriteStartArray("reads_alike");
        foreach (var same in alike)
        {
            writer.WriteStartObject();
            writer.WritePropertyName("hookup");
            Write(same.Hookup, writer);
            writer.WriteString("rotation", CheckWords.Of(same.Rotation));
            if (same.HighLeg is { } highLeg) writer.WriteString("high_leg", highLeg.ToString());
            writer.WriteNumber("share", ConfidenceWording.Rounded(same.Share));
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void WriteSettle(CheckDocument document, Utf8JsonWriter writer)
    {
        if (document.Settle is { } settle)
        {
            writer.WriteStartObject("settle");
            writer.WriteString("action", settle.Settlement.Action.Id);
            writer.WriteString("question", $"{settle.Question} {SettleWording.Frame}");
            writer.Texts("answers", settle.Settlement.Outcomes.Select(outcome => outcome.Answer));
            writer.WriteNumber("expected_gain_bits", Math.Round(settle.Settlement.ExpectedGainBits, 3));
            writer.WriteEndObject();
        }
        else
        {
            writer.WriteNull("settle");
        }

        if (document.Told.IsEmpty) return;
        writer.WriteStartArray("told");
        foreach (var told in document.Told)
        {
            writer.WriteStartObject();
            writer.WriteString("told", told.Weighed.Told.ToString());
            writer.WriteString("says", told.Says);
            writer.WriteString("standing", CheckWords.Of(told.Weighed.Standing));
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void WriteEvidence(CheckDocument document, Utf8JsonWriter writer)
    {
        writer.WriteStartArray("evidence");
        foreach (var entry in document.Evidence)
        {
            writer.WriteStartObject();
            writer.WriteString("kind", CheckWords.Of(entry.Evidence.Kind));
            writer.WriteString("says", entry.Says);

            // JSON has no infinity; nobody tells odds of e^1000 from more.
            var logOdds = double.IsNaN(entry.Evidence.LogOdds) ? 0 : Math.Clamp(entry.Evidence.LogOdds, -1000, 1000);
            writer.WriteNumber("log_odds", Math.Round(logOdds, 2));
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void WriteServices(HookupVerdict verdict, Utf8JsonWriter writer)
    {
        writer.WriteStartArray("services");
        foreach (var share in verdict.Services)
        {
            writer.WriteStartObject();
            writer.WriteString("service", Service.Of(share.Service).Name);
            writer.WriteString("nominal", ServiceWording.Nominal(share.Service, share.Nominal));
            writer.WriteNumber("confidence", ConfidenceWording.Rounded(share.Probability));
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void WriteChannels(CheckDocument document, Utf8JsonWriter writer)
    {
        writer.WriteStartObject("channels");
        foreach (var channel in document.Channels) writer.WriteString(channel.Channel, channel.Name);
        writer.WriteEndObject();
    }
}
