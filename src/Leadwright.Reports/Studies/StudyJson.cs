using System.Text.Json;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Limits;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Reports.Studies;

/// <summary>Writes a study as one line of JSON, schema <c>leadwright.study/1</c>. What is not known is left out.</summary>
public static class StudyJson
{
    /// <summary>The name of the schema.</summary>
    public const string Schema = "leadwright.study/1";

    /// <summary>The study as one JSON object without a line break.</summary>
    /// <param name="document">The study.</param>
    public static string Line(StudyDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        return JsonLine.Of(writer => Write(document, writer));
    }

    private static void Write(StudyDocument document, Utf8JsonWriter writer)
    {
        var log = document.Data.Log;
        writer.WriteStartObject();
        writer.WriteString("schema", Schema);
        writer.WriteString("file", document.File);
        writer.WriteString("service", document.Service);
        if (document.Data.Nominal is { } nominal) writer.WriteString("nominal", nominal.ToString());
        writer.WriteString("from", StudyWords.Iso(log.From));
        writer.WriteString("to", StudyWords.Iso(log.To));
        writer.Number("interval_s", log.IntervalSeconds, 6);
        writer.WriteNumber("intervals", log.Count);
        if (document.Corrections > 0) writer.WriteNumber("corrections", document.Corrections);
        if (document.Load is { } load) WriteLoad(writer, load);
        WriteVoltages(writer, document);
        WriteEvents(writer, document);
        WriteLimits(writer, document);
        StudyPatternsJson.Write(writer, document);
        StudyFindingsJson.Write(writer, document);
        writer.Texts("cannot_show", document.CannotShow);
        writer.Texts("written", document.Written);
        writer.Texts("notes", document.Notes);
        writer.WriteEndObject();
    }

    private static void WriteLoad(Utf8JsonWriter writer, LoadStudy load)
    {
        writer.WriteStartObject("energy");
        WriteEnergy(writer, load.Energy);
        writer.Number("lagging_kvarh", load.ReactiveVarHours.Lagging / 1000, 9);
        writer.Number("leading_kvarh", load.ReactiveVarHours.Leading / 1000, 9);
        if (load.Reactive is { } reactive) writer.Number("reactive_known_share", reactive.KnownSeconds / reactive.Seconds, 5);
        Rows(writer, "months", load.Months);
        Rows(writer, "periods", load.Periods);
        writer.WriteEndObject();
        if (!load.Peaks.IsEmpty)
        {
            writer.WriteStartObject("demand");
            WritePeak(writer, load.Peaks[0]);
            writer.WriteEndObject();
            writer.WriteStartArray("demands");
            foreach (var peak in load.Peaks)
            {
                writer.WriteStartObject();
                WritePeak(writer, peak);
                writer.WriteEndObject();
            }

            writer.WriteEndArray();
        }

        writer.Number("load_factor", load.LoadFactor, 6);
        if (load.Coincidence is { } coincidence)
        {
            writer.WriteStartObject("coincidence");
            writer.Number("factor", coincidence.Factor, 5);
            writer.Numbers("alone_kw", coincidence.Alone.Select(peak => peak.Watts / 1000), 7);
            writer.WriteEndObject();
        }

        writer.Number("base_kw", load.BaseWatts / 1000, 6);
        writer.Number("near_peak_kw", load.NearPeakWatts / 1000, 6);
        if (load.Opening is { } opening)
        {
            writer.WriteStartObject("opening_hours");
            writer.Number("open_kwh", opening.OpenWattHours / 1000, 8);
            writer.Number("closed_kwh", opening.ClosedWattHours / 1000, 8);
            writer.Number("closed_share", opening.ClosedShare, 5);
            writer.Number("closed_kw", opening.ClosedWatts / 1000, 6);
            writer.WriteEndObject();
        }

        WritePhases(writer, load);
        WriteFactor(writer, load);
        WriteCapacity(writer, load);
        WriteBill(writer, load);
    }

    private static void WriteEnergy(Utf8JsonWriter writer, EnergyRow row)
    {
        writer.Number("import_kwh", row.ImportWattHours / 1000, 9);
        writer.Number("export_kwh", row.ExportWattHours / 1000, 9);
        writer.Number("known_share", row.KnownSeconds / row.Seconds, 6);
        writer.Number("modelled_kwh", row.ModelledWattHours / 1000, 9);
        writer.WriteString("standing", StudyWords.Of(row.Weakest));
    }

    private static void Rows(Utf8JsonWriter writer, string name, IEnumerable<EnergyRow> rows)
    {
        writer.WriteStartArray(name);
        foreach (var row in rows)
        {
            writer.WriteStartObject();
            writer.WriteString("name", row.Name);
            WriteEnergy(writer, row);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void WritePeak(Utf8JsonWriter writer, DemandPeak peak)
    {
        writer.WriteString("kind", StudyWords.Kind(peak.Kind));
        writer.Number("minutes", peak.Minutes, 6);
        writer.Number("peak_kw", peak.Watts / 1000, 7);
        if (double.IsFinite(peak.Watts))
        {
            writer.WriteString("from", StudyWords.Iso(peak.From));
            writer.WriteString("to", StudyWords.Iso(peak.To));
        }

        if (!peak.PhaseWatts.IsEmpty) writer.Numbers("phases_kw", peak.PhaseWatts.Select(watts => watts / 1000), 7);
        writer.WriteNumber("windows", peak.WindowCount);
        writer.WriteNumber("left_out", peak.LeftOutCount);
        writer.Number("highest_modelled_kw", peak.HighestModelledWatts / 1000, 7);
        writer.Number("load_factor", peak.LoadFactor, 6);
        writer.WriteString("standing", StudyWords.Of(peak.Weakest));
    }

    private static void WritePhases(Utf8JsonWriter writer, LoadStudy load)
    {
        writer.WriteStartObject("currents");
        foreach (var phase in load.Phases)
        {
            writer.WriteStartObject("I" + phase.Place.Suffix());
            writer.Number("mean", phase.MeanAmperes, 6);
            writer.Number("p95", phase.Percentile95Amperes, 6);
            writer.Number("max", phase.HighestAmperes, 6);
            writer.WriteString("max_at", StudyWords.Iso(phase.HighestAt));
            writer.Number("demand_15min", phase.DemandAmperes, 6);
            writer.WriteEndObject();
        }

        writer.WriteEndObject();
        writer.WriteStartArray("cycling_loads");
        foreach (var cycle in load.Cycles)
        {
            writer.WriteStartObject();
            writer.Number("kw", cycle.Watts / 1000, 4);
            writer.WriteNumber("starts", cycle.Count);
            writer.Number("on_s", cycle.OnSeconds, 6);
            writer.Number("period_s", cycle.PeriodSeconds, 6);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void WriteFactor(Utf8JsonWriter writer, LoadStudy load)
    {
        if (load.PowerFactor is { } factor)
        {
            writer.WriteStartObject("power_factor");
            writer.Number("by_energy", factor.EnergyFactor, 5);
            writer.Number("lowest", factor.LowestFactor, 5);
            writer.Number("target", factor.TargetFactor, 5);
            writer.Number("below_share", factor.BelowShare, 5);
            writer.Number("known_share", factor.KnownShare, 5);
            writer.Number("capacitor_average_kvar", factor.AverageVars / 1000, 5);
            writer.Number("capacitor_peak_kvar", factor.PeakVars / 1000, 5);
            writer.Number("capacitor_always_kvar", factor.HighestVars / 1000, 5);
            writer.Number("leading_share_with_average", factor.LeadingShare, 5);
            if (load.Resonance is { } resonance)
            {
                writer.Number("resonance_order", resonance.Order, 4);
                writer.WriteBoolean("resonance_near", resonance.IsNear);
            }

            writer.WriteEndObject();
        }

        if (load.Transformer is { } transformer)
        {
            writer.WriteStartObject("transformer");
            writer.Number("harmonic_loss_factor", transformer.LossFactor, 5);
            writer.Number("rated_share", transformer.RatedShare, 5);
            writer.WriteEndObject();
        }
    }

    private static void WriteCapacity(Utf8JsonWriter writer, LoadStudy load)
    {
        if (load.ExistingLoad is { } existing)
        {
            writer.WriteStartObject("nec_220_87");
            writer.Number("demand_kw", existing.DemandWatts / 1000, 6);
            writer.Number("demand_a", existing.DemandAmperes, 6);
            writer.Number("needed_a", existing.NeededAmperes, 6);
            writer.Number("rated_a", existing.RatedAmperes, 6);
            writer.Number("spare_a", existing.SpareAmperes, 6);
            writer.WriteBoolean("fits", existing.Fits);
            writer.WriteStartArray("conditions");
            foreach (var condition in existing.Conditions)
            {
                writer.WriteStartObject();
                writer.WriteString("says", condition.Says);
                writer.WriteString("state", StudyWords.Of(condition.State));
                writer.WriteString("found", condition.Found);
                writer.WriteEndObject();
            }

            writer.WriteEndArray();
            writer.WriteEndObject();
        }

        if (load.DesignCurrent is { } design)
        {
            writer.WriteStartObject("iec_60364_4_43");
            writer.Number("design_a", design.DesignAmperes, 6);
            writer.Number("rated_a", design.RatedAmperes, 6);
            writer.Number("spare_a", design.SpareAmperes, 6);
            writer.WriteBoolean("fits", design.Fits);
            writer.WriteEndObject();
        }
    }

    private static void WriteBill(Utf8JsonWriter writer, LoadStudy load)
    {
        if (load.Bill.IsEmpty) return;
        writer.WriteStartArray("bill");
        foreach (var line in load.Bill)
        {
            writer.WriteStartObject();
            writer.WriteString("quantity", line.Quantity);
            writer.Number("recorded", line.Recorded / 1000, 8);
            writer.Number("billed", line.Billed / 1000, 8);
            writer.Number("ratio", line.Ratio, 5);
            writer.WriteBoolean("agrees", line.Agrees);
            writer.Texts("suggests", line.Suggestions.Select(ratio => ratio.Suggests));
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void WriteVoltages(Utf8JsonWriter writer, StudyDocument document)
    {
        writer.WriteStartObject("voltages");
        foreach (var level in document.Voltages)
        {
            writer.WriteStartObject("V" + level.Place.Suffix());
            writer.Number("mean", level.MeanVolts, 7);
            writer.Number("min", level.LeastVolts, 6);
            writer.Number("max", level.MostVolts, 6);
            writer.Number("p5", level.Percentile5Volts, 6);
            writer.Number("p95", level.Percentile95Volts, 6);
            writer.WriteEndObject();
        }

        writer.WriteEndObject();
        writer.Number("unbalance_percent", document.UnbalancePercent, 4);
    }

    private static void WriteEvents(Utf8JsonWriter writer, StudyDocument document)
    {
        if (document.Events is not { } events) return;
        writer.WriteStartArray("events");
        foreach (var found in events) StudyEventJson.Write(writer, found, document.Curves);
        writer.WriteEndArray();
    }

    private static void WriteChannels(Utf8JsonWriter writer, LimitLine line)
    {
        if (line.Channels.IsEmpty) return;
        writer.WriteStartArray("channels");
        foreach (var own in line.Channels)
        {
            writer.WriteStartObject();
            writer.WriteString("channel", StudyWords.Channel(own.Rule.Quantity, own.Place));
            if (own.Order > 0) writer.WriteNumber("order", own.Order);
            writer.WriteString("verdict", StudyWords.Verdict(own.Verdict));
            writer.Number("measured", own.Measured, 6);
            writer.Number("within_percent", own.WithinPercent, 5);
            writer.WriteNumber("values", own.Count);
            writer.WriteNumber("flagged", own.FlaggedCount);
            if (own.Count > 0) writer.WriteString("standing", StudyWords.Of(own.Weakest));
            if (own.Why.Length > 0) writer.WriteString("why", own.Why);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    }

    private static void WriteLimits(Utf8JsonWriter writer, StudyDocument document)
    {
        writer.WriteStartArray("limits");
        foreach (var report in document.Limits)
        {
            foreach (var line in report.Lines)
            {
                writer.WriteStartObject();
                writer.WriteString("table", report.Table.Name);
                writer.WriteString("edition", report.Table.Edition);
                writer.WriteString("id", line.Rule.Id);
                writer.WriteString("clause", line.Rule.Clause);
                writer.WriteString("quantity", StudyWords.Quantity(line.Rule, line.Order));
                if (StudyWords.Channel(line.Rule.Quantity, line.Place) is { Length: > 0 } channel) writer.WriteString("channel", channel);
                writer.WriteString("verdict", StudyWords.Verdict(line.Verdict));
                writer.Number("measured", line.Measured, 6);
                writer.Number("least", line.Least, 6);
                writer.Number("most", line.Most, 6);
                writer.WriteString("unit", line.Unit);
                writer.Number("share_percent", line.Rule.SharePercent, 5);
                writer.Number("within_percent", line.WithinPercent, 5);
                writer.WriteNumber("values", line.Count);
                if (line.NeededCount > 0) writer.WriteNumber("needed", line.NeededCount);
                writer.WriteNumber("flagged", line.FlaggedCount);
                if (line.Count > 0) writer.WriteString("standing", StudyWords.Of(line.Weakest));
                if (line.Why.Length > 0) writer.WriteString("why", line.Why);
                WriteChannels(writer, line);
                writer.WriteString("source", line.Rule.Source);
                writer.WriteEndObject();
            }
        }

        writer.WriteEndArray();
    }
}
