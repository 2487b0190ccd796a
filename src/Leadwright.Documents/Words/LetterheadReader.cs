using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Documents.Model;
using Leadwright.Formats;

namespace Leadwright.Documents.Words;

/// <summary>Reads whose paper a report is on, for whom it is, and what instruments were used: a small JSON file that a person writes once.</summary>
public static class LetterheadReader
{
    /// <summary>The name of the schema.</summary>
    public const string Schema = "leadwright.letterhead/1";

    private static readonly string[] s_fields = ["schema", "name", "lines", "logo", "author", "customer", "site", "panel", "purpose", "number", "instruments"];

    /// <summary>Reads a file.</summary>
    /// <param name="file">The file.</param>
    /// <param name="logo">Opens the picture that it names.</param>
    /// <exception cref="FormatReadException">It is no such file, or has a field that there is none of.</exception>
    public static Letterhead Read(InputFile file, Func<string, ReadOnlyMemory<byte>> logo)
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(logo);
        try
        {
            using var document = JsonDocument.Parse(file.Bytes, new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
            var root = document.RootElement;
            if (root.ValueKind != JsonValueKind.Object) throw new FormatReadException(file.Name, "an object { … }", root.ToString());
            foreach (var property in root.EnumerateObject())
            {
                if (!s_fields.Contains(property.Name, StringComparer.Ordinal)) throw new FormatReadException(file.Name, $"one of {string.Join(", ", s_fields)}", $"'{property.Name}'", field: property.Name);
            }

            if (Text("schema") is { Length: > 0 } schema && schema != Schema) throw new FormatReadException(file.Name, $"\"{Schema}\"", $"\"{schema}\"", field: "schema");
            return new Letterhead
            {
                Name = Text("name"),
                Lines = Lines("lines"),
                Logo = Text("logo") is { Length: > 0 } path ? logo(path) : default,
                Author = Text("author"),
                Customer = Lines("customer"),
                Site = Text("site"),
                Panel = Text("panel"),
                Purpose = Text("purpose"),
                Number = Text("number"),
                Instruments = root.TryGetProperty("instruments", out var pairs) ? [.. Pairs(pairs)] : [],
            };

            string Text(string name) => !root.TryGetProperty(name, out var value) ? ""
                : value.ValueKind == JsonValueKind.String ? value.GetString()! : throw new FormatReadException(file.Name, "a text", value.ToString(), field: name);

            ImmutableArray<string> Lines(string name)
            {
                if (!root.TryGetProperty(name, out var value)) return [];
                if (value.ValueKind == JsonValueKind.String) return [value.GetString()!];
                if (value.ValueKind != JsonValueKind.Array || value.EnumerateArray().Any(line => line.ValueKind != JsonValueKind.String))
                    throw new FormatReadException(file.Name, "a text or a list of texts", value.ToString(), field: name);
                return [.. value.EnumerateArray().Select(line => line.GetString()!)];
            }

            IEnumerable<(string, string)> Pairs(JsonElement value)
            {
                if (value.ValueKind != JsonValueKind.Object) throw new FormatReadException(file.Name, "an object of names and texts", value.ToString(), field: "instruments");
                foreach (var property in value.EnumerateObject())
                {
                    if (property.Value.ValueKind != JsonValueKind.String) throw new FormatReadException(file.Name, "a text", property.Value.ToString(), field: $"instruments.{property.Name}");
                    yield return (property.Name, property.Value.GetString()!);
                }
            }
        }
        catch (JsonException failure)
        {
            throw new FormatReadException(file.Name, "JSON", failure.Message, line: (int?)failure.LineNumber + 1, innerException: failure);
        }
    }
}
