using System.Globalization;
using System.Text;
using System.Text.Json;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Readings;

/// <summary>Takes typed values from a JSON text, knowing path and line of each; null everywhere means "not read".</summary>
internal sealed class ReadingsJson
{
    private const int MostDepth = 32;
    private readonly string _source;
    private readonly ReadOnlyMemory<byte> _bytes;
    private readonly int _markLength;
    private readonly HashSet<string> _seen = new(StringComparer.Ordinal);

    public ReadingsJson(InputFile file)
    {
        SourceText.RefuseUtf16(file.Bytes.Span, file.Name);
        _source = file.Name;
        _markLength = SourceText.MarkLength(file.Bytes.Span);
        _bytes = file.Bytes[_markLength..SourceText.LengthWithoutPadding(file.Bytes.Span)];
    }

    /// <summary>What was met and put up with.</summary>
    public List<ReadWarning> Warnings { get; } = [];

    /// <summary>The start of the file.</summary>
    public JsonSpot Start => new(1, _markLength);

    private Utf8JsonReader Open() => new(_bytes.Span, new JsonReaderOptions
    {
        AllowTrailingCommas = true,
        CommentHandling = JsonCommentHandling.Skip,
        MaxDepth = MostDepth,
    });

    /// <summary>Reads what one object at the root of a file says.</summary>
    /// <param name="file">The file.</param>
    /// <param name="root">Reads the object, from before its first token to its end.</param>
    /// <exception cref="FormatReadException">It is not JSON, or what <paramref name="root"/> throws.</exception>
    public static T Read<T>(InputFile file, RootReader<T> root)
    {
        ArgumentNullException.ThrowIfNull(file);
        var json = new ReadingsJson(file);
        var reader = json.Open();
        try
        {
            return root(ref reader, json);
        }
        catch (JsonException exception)
        {
            throw json.NotJson(exception);
        }
    }

    public static void Next(ref Utf8JsonReader reader)
    {
        if (!reader.Read()) throw new JsonException("", null, null, null);
    }

    public JsonSpot Spot(ref Utf8JsonReader reader)
    {
        var offset = (int)reader.TokenStartIndex;
        return new JsonSpot(1 + _bytes.Span[..offset].Count((byte)'\n'), offset + _markLength);
    }

    /// <summary>Steps to the value of the next property; false at the end of the object.</summary>
    public bool NextProperty(ref Utf8JsonReader reader, string parent, out string name, out string path)
    {
        Next(ref reader);
        (name, path) = ("", "");
        if (reader.TokenType == JsonTokenType.EndObject) return false;
        name = StringOf(ref reader);
        path = name.All(character => char.IsAsciiLetterOrDigit(character) || character == '_') && name.Length > 0
            ? $"{parent}.{name}"
            : $"{parent}[{Quoted.Of(name)}]";
        if (!_seen.Add(path)) throw Bad(ref reader, path, "each field once", "it a second time", "Keep one of them.");
        Next(ref reader);
        return true;
    }

    /// <summary>True inside an object; false for null.</summary>
    public bool BeginObject(ref Utf8JsonReader reader, string path, string expected)
    {
        if (reader.TokenType == JsonTokenType.Null) return false;
        ExpectObject(ref reader, path, expected);
        return true;
    }

    public void ExpectObject(ref Utf8JsonReader reader, string path, string expected)
    {
        if (reader.TokenType != JsonTokenType.StartObject) throw Wrong(ref reader, path, expected, "Put the values into { }.");
    }

    public static void ExpectEnd(ref Utf8JsonReader reader)
    {
        // Read throws on anything but white space and remarks after the root.
        while (reader.Read())
        {
        }
    }

    public double? Number(ref Utf8JsonReader reader, string path, Func<double, bool> isIn, string expected)
    {
        if (reader.TokenType == JsonTokenType.Null) return null;
        if (reader.TokenType != JsonTokenType.Number)
        {
            throw Wrong(ref reader, path, expected, reader.TokenType == JsonTokenType.String
                ? "Write the number without quotes, with a point as decimal mark, or null where nothing was read."
                : "Write a number, or null where nothing was read.");
        }

        if (reader.TryGetDouble(out var value) && double.IsFinite(value) && isIn(value)) return value;
        throw Wrong(ref reader, path, expected, "Correct the number, or write null where nothing was read.");
    }

    public string? Text(ref Utf8JsonReader reader, string path, string expected)
    {
        if (reader.TokenType == JsonTokenType.Null) return null;
        if (reader.TokenType != JsonTokenType.String) throw Wrong(ref reader, path, expected, "Write it in double quotes.");
        return StringOf(ref reader);
    }

    public string? TextOrNumber(ref Utf8JsonReader reader, string path)
    {
        if (reader.TokenType == JsonTokenType.Number) return Encoding.ASCII.GetString(reader.ValueSpan);
        return Text(ref reader, path, "the nominal voltage, such as \"230/400\" or 480");
    }

    public bool Flag(ref Utf8JsonReader reader, string path) => reader.TokenType switch
    {
        JsonTokenType.True => true,
        JsonTokenType.False or JsonTokenType.Null => false,
        _ => throw Wrong(ref reader, path, "true or false", "Write true or false without quotes."),
    };

    public T Word<T>(ref Utf8JsonReader reader, string path, IReadOnlyList<(string Word, T Value)> words)
        where T : struct
    {
        var expected = string.Join(" or ", words.Select(word => $"\"{word.Word}\""));
        if (Text(ref reader, path, expected) is not { } text) return default;
        foreach (var (word, value) in words)
        {
            if (string.Equals(word, text.Trim(), StringComparison.OrdinalIgnoreCase)) return value;
        }

        throw Wrong(ref reader, path, expected, "Write one of these words, or leave the field out when it is not known.");
    }

    /// <summary>Passes over a value that is not known, and says so.</summary>
    public void SkipUnknown(ref Utf8JsonReader reader, string path, string hint)
    {
        var spot = Spot(ref reader);
        reader.Skip();
        Warnings.Add(new ReadWarning($"The field '{path}' is not known and was not used. {hint}", spot.Line, spot.ByteOffset));
    }

    public FormatReadException Bad(ref Utf8JsonReader reader, string path, string expected, string found, string hint) =>
        Bad(Spot(ref reader), path, expected, found, hint);

    public FormatReadException Bad(JsonSpot spot, string path, string expected, string found, string hint) =>
        new(_source, expected, found, hint, spot.Line, null, path, spot.ByteOffset);

    public FormatReadException NotJson(JsonException exception)
    {
        // The messages of the library are cut out of trimmed builds, so this says it itself.
        var lines = SourceText.Lines(_bytes.Span, _source);
        var line = (int)(exception.LineNumber ?? Math.Max(lines.Count - 1, 0));
        var inLine = exception.BytePositionInLine ?? 0;
        var offset = _markLength + OffsetOfLine(line) + inLine;
        var rest = offset - _markLength < _bytes.Length ? _bytes.Span[(int)(offset - _markLength)..] : [];
        var isAtEnd = rest.Trim(" \t\r\n,"u8).IsEmpty;
        return new FormatReadException(
            _source, "JSON",
            isAtEnd
                ? "the end of the file too early"
                : Quoted.Of(Encoding.UTF8.GetString(rest[..SourceText.LengthOfLine(rest, out _)])),
            isAtEnd
                ? "A closing brace '}' may be missing, or the file is cut short."
                : "Look for a missing comma, quote or brace there or in the line before.",
            line + 1, byteOffset: offset, innerException: exception);
    }

    private long OffsetOfLine(int line)
    {
        var offset = 0;
        for (var index = 0; index < line; index++)
        {
            var next = _bytes.Span[offset..].IndexOf((byte)'\n');
            if (next < 0) break;
            offset += next + 1;
        }

        return offset;
    }

    private FormatReadException Wrong(ref Utf8JsonReader reader, string path, string expected, string hint)
    {
        var found = reader.TokenType switch
        {
            JsonTokenType.String => Quoted.Of(StringOf(ref reader)) is var text && text == "nothing" ? "\"\"" : text,
            JsonTokenType.Number => Encoding.ASCII.GetString(reader.ValueSpan),
            JsonTokenType.True => "true",
            JsonTokenType.False => "false",
            JsonTokenType.StartObject => "an object { … }",
            JsonTokenType.StartArray => "a list [ … ]",
            _ => string.Create(CultureInfo.InvariantCulture, $"{reader.TokenType}"),
        };
        return Bad(ref reader, path, expected, found, hint);
    }

    private string StringOf(ref Utf8JsonReader reader)
    {
        try
        {
            return reader.GetString() ?? "";
        }
        catch (InvalidOperationException exception)
        {
            // Text that is not UTF-8, or half a surrogate pair.
            var spot = Spot(ref reader);
            throw new FormatReadException(
                _source, "text in UTF-8", "bytes that are not", "Save the file as UTF-8.", spot.Line,
                byteOffset: spot.ByteOffset, innerException: exception);
        }
    }
}

/// <summary>Reads the object at the root of a file.</summary>
internal delegate T RootReader<out T>(ref Utf8JsonReader reader, ReadingsJson json);
