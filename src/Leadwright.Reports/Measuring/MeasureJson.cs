using System.Globalization;
using System.Text.Json;
using Leadwright.Core.Logs;

namespace Leadwright.Reports.Measuring;

/// <summary>Writes a measurement as one line of JSON, schema <c>leadwright.measure/1</c>. What was not measured is left out, or
/// null in lists.</summary>
public static class MeasureJson
{
    /// <summary>The name of the schema.</summary>
    public const string Schema = "leadwright.measure/1";

    /// <summary>The measurement as one JSON object without a line break.</summary>
    /// <param name="document">The measurement.</param>
    public static string Line(MeasureDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        return JsonLine.Of(writer => Write(document, writer));
    }

    private static void Write(MeasureDocument document, Utf8JsonWriter writer)
    {
        writer.WriteStartObject();
        writer.WriteString("schema", Schema);
        writer.WriteString("file", document.File);
        writer.WriteString("service", document.Service);
        if (document.Nominal is { } nominal) writer.WriteString("nominal", nominal);
        if (document.Start is { } start) writer.WriteString("from", Time(start, 0));
        writer.Number("seconds", document.Seconds, 9);
        writer.Number("frequency_hz", document.FrequencyHertz, 7);
        writer.Number("frequency_10s_min_hz", document.LowestHertz, 7);
        writer.Number("frequency_10s_max_hz", document.HighestHertz, 7);
        writer.Number("unbalance_percent", document.UnbalancePercent, 4);
        writer.Number("zero_sequence_percent", document.ZeroPercent, 4);
        writer.Number("deviation_percent", document.DeviationPercent, 4);
        WriteChannels(document, writer);
        WritePowers(document, writer);
        WriteEvents(document, writer);
        writer.WriteNumber("windows", document.WindowCount);
        writer.WriteNumber("flagged_windows", document.FlaggedCount);
        writer.Texts("written", document.Written);
        writer.Texts("notes", document.Notes);
        writer.WriteEndObject();
    }

    private static void WriteChannels(MeasureDocument document, Utf8JsonWriter writer)
    {
        writer.WriteStartObject("channels");
        foreach (var channel in document.Channels)
        {
            writer.WriteStartObject(channel.Name);
            writer.Number("rms", channel.Rms, 7);
            writer.Number("min", channel.Least, 6);
            writer.Number("max", channel.Most, 6);
            writer.Number("thd_percent", channel.ThdPercent, 5);
            writer.Number("tdd_percent", channel.TddPercent, 5);
            writer.Number("dc", channel.Direct, 4);
            writer.Number("crest", channel.Crest, 5);
            writer.Number("k_factor", channel.LossFactor, 5);
            writer.Number("signalling", channel.Signalling, 5);
            if (channel.Unit == "V")
            {
                writer.Numbers("pst", channel.Pst, 5);
                writer.Numbers("plt", channel.Plt, 5);
            }

            writer.WriteEndObject();
        }

        writer.WriteEndObject();
    }

    private static void WritePowers(MeasureDocument document, Utf8JsonWriter writer)
    {
        if (document.Phases.IsEmpty) return;
        writer.WriteStartObject("phases");
        foreach (var phase in document.Phases)
        {
            writer.WriteStartObject(phase.Number.ToString(CultureInfo.InvariantCulture));
            WritePower(writer, phase.Watts, phase.Vars, phase.VoltAmperes);
            writer.Number("displacement_pf", phase.DisplacementPowerFactor, 5);
            writer.WriteEndObject();
        }

        writer.WriteEndObject();
        writer.WriteStartObject("total");
        WritePower(writer, document.Watts, document.Vars, document.VoltAmperes);
        writer.WriteEndObject();
        writer.WriteStartObject("energy");
        writer.Number("import_kwh", document.ImportWattHours / 1000, 8);
        writer.Number("export_kwh", document.ExportWattHours / 1000, 8);
        writer.WriteEndObject();
    }

    private static void WritePower(Utf8JsonWriter writer, double watts, double vars, double voltAmperes)
    {
        writer.Number("watts", watts, 7);
        writer.Number("vars", vars, 7);
        writer.Number("va", voltAmperes, 7);
        writer.Number("pf", watts / voltAmperes, 5);
    }

    private static void WriteEvents(MeasureDocument document, Utf8JsonWriter writer)
    {
        writer.WriteStartArray("events");
        foreach (var found in document.Events)
        {
            writer.WriteStartObject();
            writer.WriteString("kind", found.Kind);
            writer.Texts("channels", found.Channels);
            if (document.Start is { } start)
            {
                writer.WriteString("from", Time(start, found.StartSeconds));
                writer.WriteString("to", Time(start, found.StartSeconds + found.Seconds));
            }

            writer.Number("from_s", found.StartSeconds, 12);
            writer.Number("seconds", found.Seconds, 6);
            writer.Number(EventNames.ExtremeKey(found.Kind), found.ExtremePercent, 5);
            writer.Number("steady_change_percent", found.SteadyPercent, 5);
            if (found.IsCutShort) writer.WriteBoolean("cut_short", true);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static string Time(DateTime start, double seconds) =>
        RecordTime.Iso(start.AddTicks((long)Math.Round(seconds * TimeSpan.TicksPerSecond)), "yyyy-MM-ddTHH:mm:ss.ffffff");
}
