using System.Buffers;
using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Leadwright.Documents.Model;

namespace Leadwright.App.Verbs.Reporting;

/// <summary>Says in one line of JSON, schema <c>leadwright.report/1</c>, what was written.</summary>
internal static class ReportJson
{
    public const string Schema = "leadwright.report/1";

    public static string Line(string file, ReportDocument document, ImmutableArray<(string Path, byte[] Bytes)> written)
    {
        var buffer = new ArrayBufferWriter<byte>(1024);
        using (var writer = new Utf8JsonWriter(buffer, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            writer.WriteStartObject();
            writer.WriteString("schema", Schema);
            writer.WriteString("file", file);
            writer.WriteString("identity", Convert.ToHexStringLower([.. document.Identity]));
            writer.WriteStartArray("parts");
            foreach (var part in document.Parts) writer.WriteStringValue(part.Id);
            writer.WriteEndArray();
            writer.WriteStartArray("written");
            foreach (var (path, bytes) in written)
            {
                writer.WriteStartObject();
                writer.WriteString("path", path);
                writer.WriteNumber("bytes", bytes.Length);
                writer.WriteString("sha256", Convert.ToHexStringLower(SHA256.HashData(bytes)));
                writer.WriteEndObject();
            }

            writer.WriteEndArray();
            writer.WriteEndObject();
        }

        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }
}
