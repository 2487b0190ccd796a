using System.Text.Json;
using Leadwright.Reports.Measuring;

namespace Leadwright.Reports.Studies;

/// <summary>Writes an event of a study.</summary>
internal static class StudyEventJson
{
    public static void Write(Utf8JsonWriter writer, StudyEvent found)
    {
        writer.WriteStartObject();
        writer.WriteString("kind", found.Kind);
        writer.WriteStartArray("channels");
        foreach (var channel in found.Channels) writer.WriteStringValue(channel);
        writer.WriteEndArray();
        writer.WriteString("from", StudyWords.Iso(found.Start));
        StudyJson.Number(writer, "seconds", found.Seconds, 6);
        StudyJson.Number(writer, EventNames.ExtremeKey(found.Kind), found.ExtremePercent, 5);
        if (found.IsCutShort) writer.WriteBoolean("cut_short", true);
        writer.WriteEndObject();
    }
}
