using System.Buffers;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace Leadwright.Reports.Measuring;

/// <summary>Writes a measurement as one line of JSON, schema <c>leadwright.measure/1</c>. What was not measured is left out, or
/// null in lists.</summary>
public static class MeasureJson
{
    /// <summary>The name of the schema.</summary>
    public const string Schema = "leadwright.measure/1";

    private static readonly JsonWriterOptions s_options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The measurement as one JSON object without a line break.</summary>
    /// <param name="document">The measurement.</param>
    public static string Line(MeasureDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        var buffer = new ArrayBufferWriter<byte>(4096);
        using (var writer = new Utf8JsonWriter(buffer, s_options)) Write(document, writer);
        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }

    private static void Write(MeasureDocument document, Utf8JsonWriter writer)
    {
        writer.WriteStartObject();
        writer.WriteString("schema", Schema);
        writer.WriteString("file", document.File);
        writer.WriteString("service", document.Service);
        if (document.Nominal is { } nominal) writer.WriteString("nominal", nominal);
        if (document.Start is { } start) writer.WriteString("from", Time(start, 0));
        Number(writer, "seconds", document.Seconds, 9);
        Number(writer, "frequency_hz", document.FrequencyHertz, 7);
        Number(writer, "frequency_10s_min_hz", document.LowestHertz, 7);
        Number(writer, "frequency_10s_max_hz", document.HighestHertz, 7);
        Number(writer, "unbalance_percent", document.UnbalancePercent, 4);
        Number(writer, "zero_sequence_percent", document.ZeroPercent, 4);
        Number(writer, "deviation_percent", document.DeviationPercent, 4);
        WriteChannels(document, writer);
        WritePowers(document, writer);
        WriteEvents(document, writer);
        writer.WriteNumber("windows", document.WindowCount);
        writer.WriteNumber("flagged_windows", document.FlaggedCount);
        WriteTexts(writer, "written", document.Written);
        WriteTexts(writer, "notes", document.Notes);
        writer.WriteEndObject();
    }

    private static void WriteChannels(MeasureDocument document, Utf8JsonWriter writer)
    {
        writer.WriteStartObject("channels");
        foreach (var channel in document.Channels)
        {
            writer.WriteStartObject(channel.Name);
            Number(writer, "rms", channel.Rms, 7);
            Number(writer, "min", channel.Least, 6);
            Number(writer, "max", channel.Most, 6);
            Number(writer, "thd_percent", channel.ThdPercent, 5);
            Number(writer, "tdd_percent", channel.TddPercent, 5);
            Number(writer, "dc", channel.Direct, 4);
            Number(writer, "crest", channel.Crest, 5);
            Number(writer, "k_factor", channel.LossFactor, 5);
            Number(writer, "signalling", channel.Signalling, 5);
            if (channel.Unit == "V")
            {
                Numbers(writer, "pst", channel.Pst);
                Numbers(writer, "plt", channel.Plt);
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
            Number(writer, "displacement_pf", phase.DisplacementPowerFactor, 5);
            writer.WriteEndObject();
        }

        writer.WriteEndObject();
        writer.WriteStartObject("total");
        WritePower(writer, document.Watts, document.Vars, document.VoltAmperes);
        writer.WriteEndObject();
        writer.WriteStartObject("energy");
        Number(writer, "import_kwh", document.ImportWattHours / 1000, 8);
        Number(writer, "export_kwh", document.ExportWattHours / 1000, 8);
        writer.WriteEndObject();
    }

    private static void WritePower(Utf8JsonWriter writer, double watts, double vars, double voltAmperes)
    {
        Number(writer, "watts", watts, 7);
        Number(writer, "vars", vars, 7);
        Number(writer, "va", voltAmperes, 7);
        Number(writer, "pf", watts / voltAmperes, 5);
    }

    private static void WriteEvents(MeasureDocument document, Utf8JsonWriter writer)
    {
        writer.WriteStartArray("events");
        foreach (var found in document.Events)
        {
            writer.WriteStartObject();
            writer.WriteString("kind", found.Kind);
            WriteTexts(writer, "channels", found.Channels);
            if (document.Start is { } start)
            {
                writer.WriteString("from", Time(start, found.StartSeconds));
                writer.WriteString("to", Time(start, found.StartSeconds + found.Seconds));
            }

            Number(writer, "from_s", found.StartSeconds, 12);
            Number(writer, "seconds", found.Seconds, 6);
            Number(writer, EventNames.ExtremeKey(found.Kind), found.ExtremePercent, 5);
            Number(writer, "steady_change_percent", found.SteadyPercent, 5);
            if (found.IsCutShort) writer.WriteBoolean("cut_short", true);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void WriteTexts(Utf8JsonWriter writer, string name, IEnumerable<string> texts)
    {
        writer.WriteStartArray(name);
        foreach (var text in texts) writer.WriteStringValue(text);
        writer.WriteEndArray();
    }

    private static void Numbers(Utf8JsonWriter writer, string name, IEnumerable<double> values)
    {
        writer.WriteStartArray(name);
        foreach (var value in values)
        {
            if (double.IsFinite(value)) writer.WriteRawValue(Text(value, 5));
            else writer.WriteNullValue();
        }

        writer.WriteEndArray();
    }

    private static void Number(Utf8JsonWriter writer, string name, double value, int digits)
    {
        if (!double.IsFinite(value)) return;
        writer.WritePropertyName(name);
        writer.WriteRawValue(Text(value, digits));
    }

    private static string Text(double value, int digits)
    {
        var text = value.ToString($"G{digits}", CultureInfo.InvariantCulture);
        return double.Parse(text, CultureInfo.InvariantCulture).ToString("R", CultureInfo.InvariantCulture);
    }

    private static string Time(DateTime start, double seconds) =>
        start.AddTicks((long)Math.Round(seconds * TimeSpan.TicksPerSecond)).ToString("yyyy-MM-ddTHH:mm:ss.ffffff", CultureInfo.InvariantCulture);
}
