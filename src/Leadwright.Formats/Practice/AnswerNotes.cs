using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Leadwright.Formats.Practice;

/// <summary>Notes in an answer what was taken, with everything else in it left as the trainee wrote it.</summary>
public static class AnswerNotes
{
    private static readonly JsonWriterOptions s_options = new()
    {
        Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>The same answer with another list of what was taken; remarks in it are lost.</summary>
    /// <param name="file">An answer that reads.</param>
    /// <param name="taken">The actions' names, in order.</param>
    public static byte[] WithTaken(InputFile file, IEnumerable<string> taken)
    {
        ArgumentNullException.ThrowIfNull(file);
        var root = JsonNode.Parse(file.Bytes.Span, null, new JsonDocumentOptions { AllowTrailingCommas = true, CommentHandling = JsonCommentHandling.Skip })!.AsObject();
        root["taken"] = new JsonArray([.. taken.Select(name => (JsonNode)JsonValue.Create(name))]);
        using var buffer = new MemoryStream();
        using (var writer = new Utf8JsonWriter(buffer, s_options)) root.WriteTo(writer);
        return [.. buffer.ToArray(), .. Encoding.UTF8.GetBytes("\n")];
    }
}
