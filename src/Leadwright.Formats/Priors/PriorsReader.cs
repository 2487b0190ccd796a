using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Priors;
using Leadwright.Formats.Readings;

namespace Leadwright.Formats.Priors;

/// <summary>Reads what the check is to believe before it reads anything: <c>leadwright.priors/1</c>.</summary>
/// <remarks>What the file leaves out keeps its shipped value; what it holds and nobody knows is an error, since a misspelt rate
/// would otherwise go unnoticed. Format: <c>docs/methods/priors.md</c>.</remarks>
public static class PriorsReader
{
    private const string Rate = "a rate above 0 and below 1";
    private const string Share = "a share from 0 to 1";

    /// <summary>Reads a file of priors.</summary>
    /// <param name="file">The file.</param>
    /// <exception cref="FormatReadException">The file can't be used; its field says where.</exception>
    public static CheckPriors Read(InputFile file) =>
        ReadingsJson.Read(file, ReadRoot);

    private static CheckPriors ReadRoot(ref Utf8JsonReader reader, ReadingsJson json)
    {
        var priors = CheckPriors.Default;
        var hasSchema = false;
        ReadingsJson.Next(ref reader);
        json.ExpectObject(ref reader, "$", "an object { … } that holds the priors");
        while (json.NextProperty(ref reader, "$", out var name, out var path))
        {
            switch (name)
            {
                case "schema":
                    var schema = json.Text(ref reader, path, "the name of the format");
                    if (schema != PriorsWriter.Schema)
                        throw json.Bad(ref reader, path, $"\"{PriorsWriter.Schema}\"", $"\"{schema}\"", "Start from what --show-priors prints.");
                    hasSchema = true;
                    break;
                case "slips": priors = priors with { Slips = ReadSlips(ref reader, json, path, priors.Slips) }; break;
                case "loads": priors = priors with { Loads = ReadLoads(ref reader, json, path, priors.Loads) }; break;
                case "generation": priors = priors with { Generation = ReadGeneration(ref reader, json, path, priors.Generation) }; break;
                default: throw Unknown(ref reader, json, path, "schema, slips, loads and generation");
            }
        }

        ReadingsJson.ExpectEnd(ref reader);
        if (!hasSchema)
            throw json.Bad(json.Start, "$.schema", $"\"{PriorsWriter.Schema}\"", "nothing", $"Add a line \"schema\": \"{PriorsWriter.Schema}\".");
        return priors;
    }

    private static SlipRates ReadSlips(ref Utf8JsonReader reader, ReadingsJson json, string path, SlipRates slips)
    {
        var spot = json.Spot(ref reader);
        json.ExpectObject(ref reader, path, "an object { … } of rates");
        while (json.NextProperty(ref reader, path, out var name, out var child))
        {
            var field = SlipRateField.All.FirstOrDefault(field => field.Word == name)
                ?? throw Unknown(ref reader, json, child, "those that --show-priors prints");
            if (json.Number(ref reader, child, value => value is > 0 and < 1, Rate) is { } rate) slips = field.With(slips, rate);
        }

        var ratios = 2 * (slips.RatioOffByTen + slips.RatioOffByFive + slips.RatioOffByTwo);
        foreach (var (sum, names) in ((double, string)[])
            [(slips.ClampMuddle + slips.ClampChaos, "clamp_muddle and clamp_chaos"), (slips.LeadMuddle + slips.LeadChaos, "lead_muddle and lead_chaos"),
                (ratios, "twice ratio_off_by_ten, ratio_off_by_five and ratio_off_by_two")])
        {
            if (sum >= 1) throw json.Bad(spot, path, $"{names} below 1 together", ReadingsWords.Number(sum), "Lower one of them.");
        }

        return slips;
    }

    private static ImmutableSortedDictionary<LoadKind, LoadPrior> ReadLoads(
        ref Utf8JsonReader reader, ReadingsJson json, string path, ImmutableSortedDictionary<LoadKind, LoadPrior> loads)
    {
        json.ExpectObject(ref reader, path, "an object { … } of kinds of load");
        while (json.NextProperty(ref reader, path, out var name, out var child))
        {
            var kinds = loads.Keys.Where(kind => string.Equals(kind.ToString(), name, StringComparison.OrdinalIgnoreCase)).ToList();
            if (kinds.Count == 0)
                throw Unknown(ref reader, json, child, string.Join(", ", loads.Keys.Select(kind => kind.ToString().ToLowerInvariant())));
            var mixture = Mixture.Of(loads[kinds[0]]);
            var spot = json.Spot(ref reader);
            json.ExpectObject(ref reader, child, "an object { … } with components, anything and independent");
            while (json.NextProperty(ref reader, child, out var part, out var inner))
            {
                if (!ReadPart(ref reader, json, part, inner, ref mixture)) throw Unknown(ref reader, json, inner, "components, anything and independent");
            }

            if (mixture.Components.IsEmpty)
                throw json.Bad(spot, $"{child}.components", "one component or more", "none", "Leave the field out to keep the shipped ones.");
            loads = loads.SetItem(kinds[0], new LoadPrior(mixture.Components, mixture.Anything, mixture.Independent));
        }

        return loads;
    }

    private static GenerationPrior ReadGeneration(ref Utf8JsonReader reader, ReadingsJson json, string path, GenerationPrior generation)
    {
        json.ExpectObject(ref reader, path, "an object { … } with share, components, anything and independent");
        var mixture = new Mixture(generation.Components, generation.Anything, generation.Independent);
        while (json.NextProperty(ref reader, path, out var name, out var child))
        {
            if (name == "share")
                generation = generation with { Share = json.Number(ref reader, child, value => value is >= 0 and <= 1, Share) ?? generation.Share };
            else if (!ReadPart(ref reader, json, name, child, ref mixture))
                throw Unknown(ref reader, json, child, "share, components, anything and independent");
        }

        return generation with { Components = mixture.Components, Anything = mixture.Anything, Independent = mixture.Independent };
    }

    private static bool ReadPart(ref Utf8JsonReader reader, ReadingsJson json, string name, string path, ref Mixture mixture)
    {
        switch (name)
        {
            case "components": mixture = mixture with { Components = ReadComponents(ref reader, json, path) }; return true;
            case "anything":
                mixture = mixture with { Anything = json.Number(ref reader, path, value => value is >= 0 and <= 1, Share) ?? mixture.Anything };
                return true;
            case "independent":
                mixture = mixture with { Independent = json.Number(ref reader, path, value => value is >= 0 and <= 1, Share) ?? mixture.Independent };
                return true;
            default: return false;
        }
    }

    private static ImmutableArray<DisplacementComponent> ReadComponents(ref Utf8JsonReader reader, ReadingsJson json, string path)
    {
        const string Wanted = "a list of components, each { weight, mean_degrees, deviation_degrees, alike, uneven }";
        if (reader.TokenType != JsonTokenType.StartArray) throw json.Bad(ref reader, path, Wanted, "something else", "Put them into [ ].");
        var list = ImmutableArray.CreateBuilder<DisplacementComponent>();
        while (true)
        {
            ReadingsJson.Next(ref reader);
            if (reader.TokenType == JsonTokenType.EndArray) return list.ToImmutable();
            list.Add(ReadComponent(ref reader, json, $"{path}[{list.Count}]"));
        }
    }

    private static DisplacementComponent ReadComponent(ref Utf8JsonReader reader, ReadingsJson json, string path)
    {
        var spot = json.Spot(ref reader);
        json.ExpectObject(ref reader, path, "a component { weight, mean_degrees, deviation_degrees, alike, uneven }");
        double? weight = null, mean = null, deviation = null, alike = null, uneven = null;
        while (json.NextProperty(ref reader, path, out var name, out var child))
        {
            switch (name)
            {
                case "weight": weight = json.Number(ref reader, child, value => value is > 0 and <= 1, "a weight above 0, up to 1"); break;
                case "mean_degrees": mean = json.Number(ref reader, child, value => value is >= -180 and <= 180, "degrees from -180 to 180"); break;
                case "deviation_degrees": deviation = json.Number(ref reader, child, value => value is > 0 and <= 180, "degrees above 0, up to 180"); break;
                case "alike": alike = json.Number(ref reader, child, value => value is >= 0 and <= 1, Share); break;
                case "uneven": uneven = json.Number(ref reader, child, value => value is >= 0 and <= 1, Share); break;
                default: throw Unknown(ref reader, json, child, "weight, mean_degrees, deviation_degrees, alike and uneven");
            }
        }

        foreach (var (value, word) in ((double?, string)[])
            [(weight, "weight"), (mean, "mean_degrees"), (deviation, "deviation_degrees"), (alike, "alike"), (uneven, "uneven")])
        {
            if (value is null) throw json.Bad(spot, $"{path}.{word}", "a number", "nothing", "A component needs all five of its numbers.");
        }

        if (alike + uneven > 1) throw json.Bad(spot, path, "alike and uneven up to 1 together", ReadingsWords.Number(alike!.Value + uneven!.Value), "Lower one of them.");
        return new DisplacementComponent(weight!.Value, mean!.Value, deviation!.Value, alike!.Value, uneven!.Value);
    }

    private static FormatReadException Unknown(ref Utf8JsonReader reader, ReadingsJson json, string path, string known) =>
        json.Bad(ref reader, path, $"a known field: {known}", "one that is not", "Correct its spelling, or leave it out.");

    private readonly record struct Mixture(ImmutableArray<DisplacementComponent> Components, double Anything, double Independent)
    {
        public static Mixture Of(LoadPrior load) => new(load.Components, load.Anything, load.Independent);
    }
}
