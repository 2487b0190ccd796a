using System.Text.Json;

namespace Leadwright.Formats.Limits;

/// <summary>Reads the fields of a JSON object that a person may have edited: what is not known is an error, since a misspelt field would go unnoticed.</summary>
internal readonly struct JsonFields
{
    private readonly string _source, _path;
    private readonly JsonElement _element;

    public JsonFields(string source, string path, JsonElement element, params ReadOnlySpan<string> known)
    {
        (_source, _path, _element) = (source, path, element);
        if (element.ValueKind != JsonValueKind.Object) throw Bad(source, path, "an object { … }", element.ToString());
        foreach (var property in element.EnumerateObject())
        {
            if (!known.Contains(property.Name)) throw Bad(source, $"{path}.{property.Name}", $"one of {string.Join(", ", known)}", $"'{property.Name}'");
        }
    }

    /// <summary>Parses a document and hands over its root.</summary>
    public static JsonDocument Parse(InputFile file)
    {
        try
        {
            return JsonDocument.Parse(file.Bytes, new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        }
        catch (JsonException failure)
        {
            throw new FormatReadException(
                file.Name, "JSON", failure.Message, "Compare it with a table that is known to work.", (int?)failure.LineNumber + 1, innerException: failure);
        }
    }

    public void RequireSchema(string schema)
    {
        if (Text("schema") is var found && found != schema) throw Bad(_source, $"{_path}.schema", $"\"{schema}\"", found is null ? "nothing" : $"\"{found}\"");
    }

    public bool Has(string name) => _element.TryGetProperty(name, out _);

    public string? Text(string name)
    {
        if (!_element.TryGetProperty(name, out var value)) return null;
        return value.ValueKind == JsonValueKind.String ? value.GetString() : throw Bad(name, "a text", value);
    }

    public string RequiredText(string name) => Text(name) ?? throw Bad(_source, $"{_path}.{name}", "a text", "nothing");

    public double Number(string name, double missing = double.NaN)
    {
        if (!_element.TryGetProperty(name, out var value)) return missing;
        return value.ValueKind == JsonValueKind.Number && value.TryGetDouble(out var number) && double.IsFinite(number) ? number : throw Bad(name, "a number", value);
    }

    public bool Flag(string name)
    {
        if (!_element.TryGetProperty(name, out var value)) return false;
        return value.ValueKind is JsonValueKind.True or JsonValueKind.False ? value.GetBoolean() : throw Bad(name, "true or false", value);
    }

    public IEnumerable<(string Path, JsonElement Element)> List(string name)
    {
        if (!_element.TryGetProperty(name, out var value)) yield break;
        if (value.ValueKind != JsonValueKind.Array) throw Bad(name, "a list [ … ]", value);
        var index = 0;
        foreach (var element in value.EnumerateArray()) yield return ($"{_path}.{name}[{index++}]", element);
    }

    public (string Path, JsonElement Element)? Child(string name) =>
        _element.TryGetProperty(name, out var value) ? ($"{_path}.{name}", value) : null;

    public FormatReadException Bad(string name, string expected, JsonElement found) => Bad(_source, $"{_path}.{name}", expected, found.ToString());

    public static FormatReadException Bad(string source, string path, string expected, string found) =>
        new(source, expected, found, field: path);
}
