using System.Text.Json;
using System.Text.Json.Serialization;

namespace Leadwright.Client.Model;

/// <summary>Drafts as text, for keeping on the device.</summary>
public static class DraftText
{
    /// <summary>The text of a draft.</summary>
    public static string Write(HookupDraft draft) => JsonSerializer.Serialize(draft, DraftJson.Default.HookupDraft);

    /// <summary>The draft of a text; null when it can't be read, as when an older program kept it in another form.</summary>
    public static HookupDraft? Read(string? text)
    {
        if (string.IsNullOrEmpty(text)) return null;
        try
        {
            return JsonSerializer.Deserialize(text, DraftJson.Default.HookupDraft);
        }
        catch (JsonException)
        {
            return null;
        }
    }
}

/// <summary>Serializer code for drafts, made at build time so that trimming keeps it.</summary>
[JsonSourceGenerationOptions(UseStringEnumConverter = true)]
[JsonSerializable(typeof(HookupDraft))]
internal sealed partial class DraftJson : JsonSerializerContext;
