using System.Text.Json;
using System.Text.Json.Serialization;
using Leadwright.Core.Logs;

namespace Leadwright.Client.Surveys;

/// <summary>Times of recordings in JSON: a date, or the duration since the start of a recording without one.</summary>
public sealed class RecordTimeJson : JsonConverter<DateTime>
{
    /// <inheritdoc/>
    public override DateTime Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        var text = reader.TokenType == JsonTokenType.String ? reader.GetString() : null;
        return text is ['P', ..]
            ? RecordTime.TryReadIso(text, out var time) ? time : throw new JsonException($"'{text}' is no time of a recording.")
            : reader.GetDateTime();
    }

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, DateTime value, JsonSerializerOptions options)
    {
        ArgumentNullException.ThrowIfNull(writer);
        if (RecordTime.IsDated(value)) writer.WriteStringValue(value);
        else writer.WriteStringValue(RecordTime.Iso(value, ""));
    }
}
