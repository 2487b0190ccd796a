using System.Text.Json;
using Leadwright.Core.Logs;

namespace Leadwright.Reports.Studies;

/// <summary>Writes the worst days and what events came together with.</summary>
internal static class StudyPatternsJson
{
    public static void Write(Utf8JsonWriter writer, StudyDocument document)
    {
        writer.WriteStartArray("worst_days");
        foreach (var ranking in document.WorstDays)
        {
            writer.WriteStartObject();
            writer.WriteString("by", ranking.Name);
            writer.WriteString("unit", ranking.Unit);
            writer.WriteStartArray("days");
            foreach (var day in ranking.Days)
            {
                writer.WriteStartObject();
                writer.WriteString("day", RecordTime.Iso(day.Day, "yyyy-MM-dd"));
                writer.Number("value", day.Value, 6);
                writer.Number("known_share", day.KnownShare, 4);
                if (day.At is { } at) writer.WriteString("at", StudyWords.Iso(at));
                writer.WriteEndObject();
            }

            writer.WriteEndArray();
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        if (document.Patterns is not { } patterns) return;
        writer.WriteStartObject("patterns");
        writer.WriteString("of", patterns.Subject);
        writer.WriteNumber("count", patterns.Count);
        writer.WriteStartArray("with");
        foreach (var pattern in patterns.Patterns)
        {
            writer.WriteStartObject();
            writer.WriteString("with", pattern.With);
            if (pattern.Detail.Length > 0) writer.WriteString("detail", pattern.Detail);
            writer.WriteNumber("hits", pattern.Hits);
            writer.Number("by_chance", pattern.Chance * patterns.Count, 4);
            writer.Number("probability", pattern.Probability, 3);
            writer.WriteBoolean("beyond_chance", pattern.IsBeyondChance);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteEndObject();
    }
}
