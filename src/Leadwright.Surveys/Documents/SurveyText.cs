using System.Text.Encodings.Web;
using System.Text.Json;

namespace Leadwright.Surveys.Documents;

/// <summary>The bytes of <c>survey.json</c>.</summary>
internal static class SurveyText
{
    // Indented, lines ended by LF, letters as letters: it is read by people.
    private static readonly SurveyJson s_readable = new(new JsonSerializerOptions(SurveyJson.Default.Options)
    {
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping, WriteIndented = true, NewLine = "\n",
        // What an entry holds stands some levels deeper here than in the journal, which is read to 64.
        MaxDepth = 128,
    });

    /// <summary>Writes a document. The same state gives the same bytes.</summary>
    public static byte[] Write(SurveyDocument document) => [.. JsonSerializer.SerializeToUtf8Bytes(document, s_readable.SurveyDocument), (byte)'\n'];

    /// <summary>Reads what a list shows; null when it is no survey's document.</summary>
    public static SurveyHeading? ReadHeading(Stream stream)
    {
        try
        {
            return JsonSerializer.Deserialize(stream, s_readable.SurveyHeading) is { } heading && SurveySchema.VersionOf(heading.Schema) is not null ? heading : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
