using System.Text.Json;
using Leadwright.Core.Studies.Events;
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
        writer.Number("seconds", found.Seconds, 6);
        writer.Number(EventNames.ExtremeKey(found.Kind), found.ExtremePercent, 5);
        if (found.HasMagnitude)
        {
            writer.WriteString("iti", StudyWords.Of(found.RegionOf(ToleranceCurve.Iti)));
            writer.WriteString("semi_f47", StudyWords.Of(found.RegionOf(ToleranceCurve.SemiF47)));
        }

        if (found.Type is { } type) writer.WriteString("type", StudyWords.Of(type));
        if (found.Origin is { } origin)
        {
            writer.WriteString("origin", StudyWords.Of(origin.Side));
            writer.WriteStartArray("votes");
            foreach (var vote in origin.Votes)
            {
                writer.WriteStartObject();
                writer.WriteString("method", vote.Method);
                writer.WriteString("side", StudyWords.Of(vote.Side));
                writer.Number("value", vote.Value, 4);
                writer.WriteString("unit", vote.Unit);
                writer.WriteEndObject();
            }

            writer.WriteEndArray();
        }

        if (found.Cause is { } cause)
        {
            writer.WriteString("looks_like", StudyWords.Of(cause.Kind));
            writer.WriteString("by", cause.Says);
        }

        if (found.Capacitor is { } capacitor) writer.WriteString("capacitor", StudyWords.Of(capacitor.Side));
        if (found.IsCutShort) writer.WriteBoolean("cut_short", true);
        writer.WriteEndObject();
    }
}
