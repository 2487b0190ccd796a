using System.Buffers;
using System.Text.Json;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Readings;

/// <summary>Writes readings as <c>leadwright.readings/1</c>; what is written reads back the same.</summary>
public static class ReadingsWriter
{
    /// <summary>Writes readings as UTF-8 JSON, indented, lines ended by LF.</summary>
    /// <param name="readings">The readings. What is null or not stated is left out.</param>
    /// <exception cref="ArgumentException">A number is not finite or outside the range that its property states, or the
    /// nominal voltages do not belong to the service.</exception>
    public static byte[] Write(PanelReadings readings) => Write(readings, []);

    /// <summary>Writes readings with what was found at the panel.</summary>
    /// <param name="readings">The readings. What is null or not stated is left out.</param>
    /// <param name="told">What was found, at most one answer to each action.</param>
    /// <exception cref="ArgumentException">See <see cref="Write(PanelReadings)"/>.</exception>
    public static byte[] Write(PanelReadings readings, IReadOnlyCollection<ToldAnswer> told)
    {
        ArgumentNullException.ThrowIfNull(told);
        ArgumentNullException.ThrowIfNull(readings);
        var buffer = new ArrayBufferWriter<byte>();
        using (var writer = new Utf8JsonWriter(buffer, new JsonWriterOptions { Indented = true, NewLine = "\n" }))
            WriteRoot(writer, readings, told);
        buffer.Write("\n"u8);
        return buffer.WrittenSpan.ToArray();
    }

    private static void WriteRoot(Utf8JsonWriter writer, PanelReadings readings, IReadOnlyCollection<ToldAnswer> told)
    {
        writer.WriteStartObject();
        writer.WriteString("schema", ReadingsWords.Schema);
        writer.WriteString("service", readings.IsServiceOpen ? ReadingsWords.Auto : Service.Of(readings.Service).Name);
        if (readings.Nominal is { } nominal) writer.WriteString("nominal", readings.IsServiceOpen
            ? $"{Number.Text(nominal.LineToNeutralVolts)}/{Number.Text(nominal.LineToLineVolts)}" : NominalText(nominal, readings.Service));
        WriteNumber(writer, "frequency", readings.FrequencyHertz, isIn: ReadingsWords.IsFrequency(readings.FrequencyHertz ?? 0));
        WriteWord(writer, "angles", readings.AngleSign, ReadingsWords.Angles);
        WriteWord(writer, "current_angles", readings.CurrentAngleReference, ReadingsWords.CurrentAngles);
        WriteWord(writer, "watts", readings.PowerSign, ReadingsWords.Watts);
        if (readings.IsReplayed) writer.WriteBoolean("replayed", true);
        WriteNumber(writer, "voltage_sum_fraction", readings.VoltageSumFraction, readings.VoltageSumFraction >= 0);
        WriteChannels(writer, readings);
        WritePhases(writer, readings);
        WriteLineToLine(writer, readings);
        WriteTold(writer, told);
        writer.WriteEndObject();
    }

    private static void WriteTold(Utf8JsonWriter writer, IReadOnlyCollection<ToldAnswer> told)
    {
        if (told.Count == 0) return;
        writer.WriteStartArray("told");
        foreach (var answer in told) writer.WriteStringValue(answer.ToString());
        writer.WriteEndArray();
    }

    private static void WriteChannels(Utf8JsonWriter writer, PanelReadings readings)
    {
        if (readings.Channels.IsEmpty && readings.NeutralToGround is null) return;
        writer.WriteStartObject("channels");
        foreach (var (channel, reading) in readings.Channels) WriteChannel(writer, channel.ToString(), reading);
        if (readings.NeutralToGround is { } ground) WriteChannel(writer, ReadingsWords.NeutralToGround, ground);
        writer.WriteEndObject();
    }

    private static void WriteChannel(Utf8JsonWriter writer, string name, ChannelReading reading)
    {
        writer.WriteStartObject(name);
        WriteNumber(writer, "rms", reading.Rms, reading.Rms >= 0);
        WriteNumber(writer, "angle", reading.AngleDegrees, isIn: true);
        WriteNumber(writer, "spread", reading.Spread, reading.Spread >= 0);
        writer.WriteEndObject();
    }

    private static void WritePhases(Utf8JsonWriter writer, PanelReadings readings)
    {
        if (readings.Phases.IsEmpty) return;
        writer.WriteStartObject("phases");
        foreach (var (phase, power) in readings.Phases)
        {
            if (phase is < 1 or > 3) throw new ArgumentException($"Phase {phase} is outside 1 to 3.", nameof(readings));
            writer.WriteStartObject(Number.Text(phase));
            WriteNumber(writer, "watts", power.Watts, isIn: true);
            WriteNumber(writer, "vars", power.Vars, isIn: true);
            WriteNumber(writer, "va", power.VoltAmperes, power.VoltAmperes >= 0);
            WriteNumber(writer, "pf", power.PowerFactor, Math.Abs(power.PowerFactor ?? 0) <= 1);
            writer.WriteEndObject();
        }

        writer.WriteEndObject();
    }

    private static void WriteLineToLine(Utf8JsonWriter writer, PanelReadings readings)
    {
        if (readings.LineToLineVolts.IsEmpty) return;
        writer.WriteStartObject("linetoline");
        foreach (var (channel, volts) in readings.LineToLineVolts)
        {
            if (channel is not (Channel.V12 or Channel.V23 or Channel.V31))
                throw new ArgumentException($"{channel} is no voltage between lines.", nameof(readings));
            WriteNumber(writer, channel.ToString(), volts, volts >= 0);
        }

        writer.WriteEndObject();
    }

    private static void WriteNumber(Utf8JsonWriter writer, string name, double? value, bool isIn)
    {
        if (value is not { } number) return;
        if (!double.IsFinite(number) || !isIn) throw new ArgumentException($"{name} is {Number.Text(number)}, outside its range.", nameof(value));
        writer.WriteNumber(name, number);
    }

    private static void WriteWord<T>(Utf8JsonWriter writer, string name, T value, IReadOnlyList<(string Word, T Value)> words)
    {
        foreach (var (word, meaning) in words)
        {
            if (EqualityComparer<T>.Default.Equals(meaning, value)) writer.WriteString(name, word);
        }
    }

    // Both values as on the nameplate where they are short, else the one that the other follows from.
    private static string NominalText(NominalVoltage nominal, ServiceKind service)
    {
        var both = $"{Number.Text(nominal.LineToNeutralVolts)}/{Number.Text(nominal.LineToLineVolts)}";
        var isNameplate = both.Length <= 11 && nominal.LineToNeutralVolts != nominal.LineToLineVolts;
        string[] forms =
        [
            isNameplate ? both : Number.Text(nominal.LineToLineVolts),
            Number.Text(nominal.LineToLineVolts),
            Number.Text(nominal.LineToNeutralVolts),
            both,
        ];
        return forms.FirstOrDefault(form => NominalVoltage.TryParse(form, service, out var read) && read == nominal)
            ?? throw new ArgumentException(
                $"The nominal voltages {nominal} do not belong to a '{Service.Of(service).Name}' service.", nameof(nominal));
    }
}
