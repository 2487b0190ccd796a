using System.Text.Json;

namespace Leadwright.Reports.Studies;

/// <summary>Writes the findings and the comparison of a study.</summary>
internal static class StudyFindingsJson
{
    public static void Write(Utf8JsonWriter writer, StudyDocument document)
    {
        writer.WriteStartArray("findings");
        foreach (var finding in document.Findings)
        {
            writer.WriteStartObject();
            writer.WriteString("id", finding.Rule.Id);
            writer.WriteNumber("consequence", finding.Rule.Consequence);
            writer.WriteString("says", finding.Says);
            writer.Number("value", finding.Metric.Value, 6);
            writer.WriteString("unit", finding.Metric.Unit);
            if (finding.Metric.At is { } time) writer.WriteString("at", StudyWords.Iso(time));
            writer.WriteString("can_mean", finding.CanMean);
            writer.WriteString("check_next", finding.CheckNext);
            writer.WriteString("how_sure", finding.HowSure);
            writer.WriteString("source", finding.Rule.Source);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        if (document.Comparison is not { } comparison) return;
        writer.WriteStartObject("comparison");
        writer.WriteString("means_of", comparison.IsByDay ? "days" : "hours");
        writer.WriteStartArray("measures");
        foreach (var measure in comparison.Measures)
        {
            writer.WriteStartObject();
            writer.WriteString("name", measure.Name);
            writer.WriteString("unit", measure.Unit);
            writer.Number("before", measure.Before, 7);
            writer.Number("after", measure.After, 7);
            writer.Number("difference", measure.Difference, 5);
            writer.Number("uncertainty", measure.Uncertainty, 3);
            if (measure.IsBeyondUncertainty is { } isBeyond) writer.WriteBoolean("beyond_uncertainty", isBeyond);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteEndObject();
    }
}
