using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Formats.Readings;

/// <summary>Reads readings typed from the screen of any meter: <c>leadwright.readings/1</c>.</summary>
/// <remarks>Remarks and trailing commas are allowed. Format: <c>docs/formats/readings.md</c>.</remarks>
/// <example><code>
/// {"schema":"leadwright.readings/1","service":"single","channels":{"V1":{"rms":231.2},"I1":{"rms":4.1}}}
/// </code></example>
public static class ReadingsReader
{
    private const string AlsoFound = "Leave it out, or correct its spelling if it was meant to count.";

    /// <summary>Reads a file of readings.</summary>
    /// <param name="file">The file.</param>
    /// <param name="otherwise">The service to take when the file states none, as given on the command line; null when the
    /// file must state it.</param>
    /// <param name="mayInfer">True when a file that states no service is taken all the same, for the check to find it; so is one
    /// that says <c>auto</c>, always.</param>
    /// <exception cref="FormatReadException">The file can't be used.</exception>
    public static ReadingsFile Read(InputFile file, ServiceKind? otherwise = null, bool mayInfer = false) =>
        ReadingsJson.Read(file, (ref Utf8JsonReader reader, ReadingsJson json) => ReadRoot(ref reader, json, otherwise, mayInfer));

    private static ReadingsFile ReadRoot(ref Utf8JsonReader reader, ReadingsJson json, ServiceKind? otherwise, bool mayInfer)
    {
        var readings = new PanelReadings { Service = otherwise ?? default };
        var hasService = otherwise is not null;
        (string? Text, JsonSpot Spot) nominal = default;
        ImmutableArray<ToldAnswer> told = [];
        ReadingsJson.Next(ref reader);
        json.ExpectObject(ref reader, "$", "an object { … } that holds the readings");
        while (json.NextProperty(ref reader, "$", out var name, out var path))
        {
            switch (name)
            {
                case "schema": ReadSchema(ref reader, json, path); break;
                case "service":
                    if (json.Text(ref reader, path, "the name of a service") is { } word)
                    {
                        var isOpen = string.Equals(word.Trim(), ReadingsWords.Auto, StringComparison.OrdinalIgnoreCase);
                        if (!isOpen) readings = readings with { Service = ServiceOf(ref reader, json, path, word) };
                        hasService = !isOpen || otherwise is not null;
                        mayInfer |= isOpen;
                    }

                    break;
                case "nominal": nominal = (json.TextOrNumber(ref reader, path), json.Spot(ref reader)); break;
                case "frequency":
                    readings = readings with { FrequencyHertz = json.Number(ref reader, path, ReadingsWords.IsFrequency, "a number of hertz from 40 to 70, such as 50 or 60") };
                    break;
                case "angles": readings = readings with { AngleSign = json.Word(ref reader, path, ReadingsWords.Angles) }; break;
                case "current_angles":
                    readings = readings with { CurrentAngleReference = json.Word(ref reader, path, ReadingsWords.CurrentAngles) };
                    break;
                case "watts": readings = readings with { PowerSign = json.Word(ref reader, path, ReadingsWords.Watts) }; break;
                case "replayed": readings = readings with { IsReplayed = json.Flag(ref reader, path) }; break;
                case "voltage_sum_fraction":
                    readings = readings with { VoltageSumFraction = json.Number(ref reader, path, value => value >= 0, "a fraction from 0") };
                    break;
                case "channels":
                    var channels = ReadChannels(ref reader, json, path, out var ground);
                    readings = readings with { Channels = channels, NeutralToGround = ground };
                    break;
                case "phases": readings = readings with { Phases = ReadPhases(ref reader, json, path) }; break;
                case "linetoline": readings = readings with { LineToLineVolts = ReadLineToLine(ref reader, json, path) }; break;
                case "told": told = ToldReader.Read(ref reader, json, path); break;
                default: json.SkipUnknown(ref reader, path, AlsoFound); break;
            }
        }

        ReadingsJson.ExpectEnd(ref reader);
        if (!hasService && mayInfer)
        {
            // Two values say what belongs together; what one value means depends on the service.
            var pair = new[] { ServiceKind.Wye, ServiceKind.Split }
                .Select(kind => nominal.Text?.Contains('/', StringComparison.Ordinal) == true && NominalVoltage.TryParse(nominal.Text, kind, out var value) ? value : null)
                .FirstOrDefault(value => value is not null);
            return new ReadingsFile(readings with { IsServiceOpen = true, Nominal = pair }, nominal.Text, [.. json.Warnings]);
        }

        if (!hasService)
        {
            throw json.Bad(json.Start, "$.service", $"the service: {ServiceNames()}", "nothing",
                "Add a line such as \"service\": \"wye\", or give it with --service.");
        }

        if (nominal.Text is { } text)
        {
            if (!NominalVoltage.TryParse(text, readings.Service, out var volts))
            {
                throw json.Bad(nominal.Spot, "$.nominal",
                    $"the nominal voltage of a '{Service.Of(readings.Service).Name}' service, such as {ExampleOf(readings.Service)}",
                    $"\"{text}\"", "Write it as on the nameplate, in volts; two values must belong to this service.");
            }

            readings = readings with { Nominal = volts };
        }

        return new ReadingsFile(readings, nominal.Text, [.. json.Warnings]) { Told = told };
    }

    private static void ReadSchema(ref Utf8JsonReader reader, ReadingsJson json, string path)
    {
        var schema = json.Text(ref reader, path, "the name of the format");
        if (schema is null or ReadingsWords.Schema) return;
        throw json.Bad(ref reader, path, $"\"{ReadingsWords.Schema}\"", $"\"{schema}\"",
            schema.StartsWith(ReadingsWords.SchemaFamily, StringComparison.Ordinal)
                ? "The file was written by a newer release: update Leadwright, or write the file again."
                : "The file is not a table of readings.");
    }

    private static ServiceKind ServiceOf(ref Utf8JsonReader reader, ReadingsJson json, string path, string word) =>
        Service.Named(word)?.Kind
        ?? throw json.Bad(ref reader, path, $"a service: {ServiceNames()}", $"\"{word}\"", "Write one of these words.");

    private static ImmutableSortedDictionary<Channel, ChannelReading> ReadChannels(
        ref Utf8JsonReader reader, ReadingsJson json, string path, out ChannelReading? ground)
    {
        ground = null;
        var channels = ImmutableSortedDictionary.CreateBuilder<Channel, ChannelReading>();
        if (!json.BeginObject(ref reader, path, "an object { … } of channels")) return channels.ToImmutable();
        while (json.NextProperty(ref reader, path, out var name, out var child))
        {
            if (ReadingsWords.IsNeutralToGround(name, out var isGroundTurned))
            {
                ground = ReadChannel(ref reader, json, child, isGroundTurned);
                continue;
            }

            if (!ReadingsWords.Channels.TryGetValue(name, out var known))
            {
                json.SkipUnknown(ref reader, child, $"Channels are {string.Join(", ", Enum.GetNames<Channel>())}, {ReadingsWords.NeutralToGround}.");
                continue;
            }

            var spot = json.Spot(ref reader);
            if (ReadChannel(ref reader, json, child, known.IsTurned) is not { } reading) continue;
            if (!channels.TryAdd(known.Channel, reading))
            {
                throw json.Bad(spot, child, $"each channel once", $"{known.Channel} a second time",
                    "A channel and the same one with its leads the other way round are one channel: keep one of them.");
            }
        }

        return channels.ToImmutable();
    }

    private static ChannelReading? ReadChannel(ref Utf8JsonReader reader, ReadingsJson json, string path, bool isTurned)
    {
        const string rmsWanted = "a number of volts or amperes, zero or more";
        // A bare number is the rms value.
        if (reader.TokenType == JsonTokenType.Number)
            return new ChannelReading(json.Number(ref reader, path, value => value >= 0, rmsWanted), null);
        if (!json.BeginObject(ref reader, path, "an object such as {\"rms\": 230.1, \"angle\": -120.3}")) return null;
        var reading = new ChannelReading(null, null);
        while (json.NextProperty(ref reader, path, out var name, out var child))
        {
            switch (name)
            {
                case "rms": reading = reading with { Rms = json.Number(ref reader, child, value => value >= 0, rmsWanted) }; break;
                case "angle": reading = reading with { AngleDegrees = json.Number(ref reader, child, _ => true, "a number of degrees") }; break;
                case "spread": reading = reading with { Spread = json.Number(ref reader, child, value => value >= 0, rmsWanted) }; break;
                default: json.SkipUnknown(ref reader, child, AlsoFound); break;
            }
        }

        return isTurned && reading.AngleDegrees is { } angle ? reading with { AngleDegrees = Angle.WrapDegrees(angle + 180) } : reading;
    }

    private static ImmutableSortedDictionary<int, PhasePower> ReadPhases(ref Utf8JsonReader reader, ReadingsJson json, string path)
    {
        var phases = ImmutableSortedDictionary.CreateBuilder<int, PhasePower>();
        if (!json.BeginObject(ref reader, path, "an object { … } of phases")) return phases.ToImmutable();
        while (json.NextProperty(ref reader, path, out var name, out var child))
        {
            if (name is not ("1" or "2" or "3"))
            {
                json.SkipUnknown(ref reader, child, "Phases are \"1\", \"2\" and \"3\".");
                continue;
            }

            if (ReadPhase(ref reader, json, child) is { } power) phases.Add(name[0] - '0', power);
        }

        return phases.ToImmutable();
    }

    private static PhasePower? ReadPhase(ref Utf8JsonReader reader, ReadingsJson json, string path)
    {
        if (!json.BeginObject(ref reader, path, "an object such as {\"watts\": 9010, \"vars\": 3100}")) return null;
        var power = new PhasePower(null, null, null, null);
        while (json.NextProperty(ref reader, path, out var name, out var child))
        {
            switch (name)
            {
                case "watts": power = power with { Watts = json.Number(ref reader, child, _ => true, "a number of watts") }; break;
                case "vars": power = power with { Vars = json.Number(ref reader, child, _ => true, "a number of vars") }; break;
                case "va":
                    power = power with { VoltAmperes = json.Number(ref reader, child, value => value >= 0, "a number of volt-amperes, zero or more") };
                    break;
                case "pf":
                    power = power with { PowerFactor = json.Number(ref reader, child, value => Math.Abs(value) <= 1, "a power factor from -1 to 1 (0.92, not 92)") };
                    break;
                default: json.SkipUnknown(ref reader, child, AlsoFound); break;
            }
        }

        return power;
    }

    private static ImmutableSortedDictionary<Channel, double> ReadLineToLine(ref Utf8JsonReader reader, ReadingsJson json, string path)
    {
        var volts = ImmutableSortedDictionary.CreateBuilder<Channel, double>();
        if (!json.BeginObject(ref reader, path, "an object such as {\"V12\": 400.2}")) return volts.ToImmutable();
        while (json.NextProperty(ref reader, path, out var name, out var child))
        {
            if (!ReadingsWords.Channels.TryGetValue(name, out var known) || known.Channel is not (Channel.V12 or Channel.V23 or Channel.V31))
            {
                json.SkipUnknown(ref reader, child, "Voltages between lines are V12, V23 and V31.");
                continue;
            }

            var spot = json.Spot(ref reader);
            if (json.Number(ref reader, child, value => value >= 0, "a number of volts, zero or more") is not { } value) continue;
            if (!volts.TryAdd(known.Channel, value))
                throw json.Bad(spot, child, "each voltage once", $"{known.Channel} a second time", "Keep one of them.");
        }

        return volts.ToImmutable();
    }

    private static string ServiceNames() => string.Join(", ", Service.All.Select(service => service.Name));

    private static string ExampleOf(ServiceKind service) => service switch
    {
        ServiceKind.Split or ServiceKind.HighLeg => "120/240",
        ServiceKind.Network => "120/208",
        ServiceKind.Single => "230",
        _ => "230/400",
    };
}
