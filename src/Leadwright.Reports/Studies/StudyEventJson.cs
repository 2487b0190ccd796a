using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Studies.Events;
using Leadwright.Reports.Measuring;

namespace Leadwright.Reports.Studies;

/// <summary>Writes an event of a study.</summary>
internal static class StudyEventJson
{
    public static void Write(Utf8JsonWriter writer, StudyEvent found, ImmutableArray<ToleranceCurve> curves)
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
            foreach (var curve in curves) writer.WriteString(StudyWords.Key(curve), StudyWords.Of(found.RegionOf(curve)));
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
