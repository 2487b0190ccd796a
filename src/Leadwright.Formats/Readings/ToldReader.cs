using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Hookups.Settling;

namespace Leadwright.Formats.Readings;

/// <summary>Reads what was found at the panel: a list of <c>"ACTION=ANSWER"</c>.</summary>
internal static class ToldReader
{
    private const string Wanted = "a list of answers such as [\"switched:A=I2,up\"]";

    public static ImmutableArray<ToldAnswer> Read(ref Utf8JsonReader reader, ReadingsJson json, string path)
    {
        if (reader.TokenType == JsonTokenType.Null) return [];
        if (reader.TokenType != JsonTokenType.StartArray) throw json.Bad(ref reader, path, Wanted, "something else", "Put the answers into [ ].");
        var list = ImmutableArray.CreateBuilder<ToldAnswer>();
        while (true)
        {
            ReadingsJson.Next(ref reader);
            if (reader.TokenType == JsonTokenType.EndArray) return list.ToImmutable();
            var place = $"{path}[{list.Count}]";
            var text = json.Text(ref reader, place, "an answer such as \"switched:A=I2,up\"");
            if (!ToldAnswer.TryParse(text, out var told, out var problem))
                throw json.Bad(ref reader, place, "an answer such as \"switched:A=I2,up\"", $"\"{text}\"", $"{char.ToUpperInvariant(problem[0])}{problem[1..]}");
            if (list.Any(earlier => earlier.Action == told!.Action))
                throw json.Bad(ref reader, place, "each action answered once", $"{told!.Action.Id} a second time", "Keep the answer that holds.");
            list.Add(told!);
        }
    }
}
