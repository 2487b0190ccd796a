using System.Text.Json;
using Leadwright.Core.Hookups;
using Leadwright.Core.Mending.Answers;
using Leadwright.Reports.Guarding;

namespace Leadwright.Reports.Mending;

/// <summary>Writes the answer of a mending as one line of JSON, schema <c>leadwright.mend/1</c>.</summary>
public static class MendJson
{
    /// <summary>The name of the schema.</summary>
    public const string Schema = "leadwright.mend/1";

    /// <summary>The answer as one JSON object without a line break.</summary>
    /// <param name="document">The answer.</param>
    public static string Line(MendDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        return JsonLine.Of(writer => Write(document, writer));
    }

    private static void Write(MendDocument document, Utf8JsonWriter writer)
    {
        var report = document.Report;
        writer.WriteStartObject();
        writer.WriteString("schema", Schema);
        writer.WriteString("file", document.File);
        writer.WriteString("from", GuardJson.Time(report.From));
        writer.WriteString("to", GuardJson.Time(report.To));
        if (report.Energy is { } energy)
        {
            writer.WriteStartObject("energy");
            WriteNumber(writer, "recorded_kwh", energy.RecordedWattHours / 1000);
            WriteNumber(writer, "mended_kwh", energy.MendedWattHours / 1000);
            WriteNumber(writer, "low_kwh", energy.LowWattHours / 1000);
            WriteNumber(writer, "high_kwh", energy.HighWattHours / 1000);
            writer.WriteNumber("coverage", energy.Coverage);
            writer.WriteEndObject();
        }
        else
        {
            writer.WriteNull("energy");
        }

        writer.WriteStartArray("corrections");
        var (causes, energies) = (document.Causes(), CorrectionEnergies.Of(report));
        foreach (var correction in energies.Corrections) Write(correction, causes, writer);
        writer.WriteEndArray();
        if (!double.IsNaN(energies.TogetherWattHours))
        {
            WriteNumber(writer, "together_kwh", energies.TogetherWattHours / 1000);
            writer.WriteString("together_says", MendWording.Together(energies));
        }

        writer.WriteStartArray("unmendable");
        foreach (var entry in report.Unmendable)
        {
            writer.WriteStartObject();
            writer.WriteString("reason", MendWords.Of(entry.Reason));
            WriteChannels(writer, entry.Leads, entry.Clamps);
            writer.WriteString("from", GuardJson.Time(entry.From));
            writer.WriteString("to", GuardJson.Time(entry.To));
            WriteEvent(writer, causes, entry.From, entry.To);
            writer.WriteString("says", MendWording.Of(entry));
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        Write("before", report.Before, writer);
        Write("after", report.After, writer);
        if (report.IsUnjudged) writer.WriteBoolean("unjudged", true);
        if (report.IsUndecided) writer.WriteBoolean("undecided", true);
        if (document.Table is { } table) writer.WriteString("table", table);
        writer.WriteStartArray("notes");
        if (report is { IsUnjudged: true, Energy: not null }) writer.WriteStringValue(MendWording.TakenForGranted);
        foreach (var note in report.Unjudged) writer.WriteStringValue(GuardWords.Of(note));
        foreach (var note in document.Notes) writer.WriteStringValue(note);
        writer.WriteEndArray();
        writer.WriteEndObject();
    }

    private static void Write(Correction correction, CorrectionCauses causes, Utf8JsonWriter writer)
    {
        writer.WriteStartObject();
        writer.WriteString("kind", MendWords.Of(correction.Kind));
        WriteChannels(writer, correction.Leads, correction.Clamps);
        writer.WriteString("from", GuardJson.Time(correction.From));
        writer.WriteString("to", GuardJson.Time(correction.To));
        WriteEvent(writer, causes, correction.From, correction.To);
        writer.WriteString("basis", MendWords.Of(correction.Basis));
        if (double.IsFinite(correction.Factor)) WriteNumber(writer, "factor", correction.Factor);
        if (double.IsFinite(correction.WattHours))
        {
            WriteNumber(writer, "kwh", correction.WattHours / 1000);
            WriteNumber(writer, "uncertainty_kwh", correction.UncertaintyWattHours / 1000);
        }

        writer.WriteString("says", MendWording.Of(correction));
        if (causes.Of(correction) is { IsEmpty: false } findings)
        {
            writer.WriteStartArray("follows_from");
            foreach (var span in findings)
            {
                writer.WriteStartObject();
                writer.WriteString("kind", GuardWords.Of(span.Kind));
                WriteChannels(writer, span.Leads, span.Clamps);
                writer.WriteString("from", GuardJson.Time(span.From));
                writer.WriteString("to", GuardJson.Time(span.To));
                writer.WriteString("says", SpanWording.WhatOf(span));
                writer.WriteEndObject();
            }

            writer.WriteEndArray();
            if (causes.HoldsChange(correction.From, correction.To)) writer.WriteBoolean("holds_change", true);
        }

        writer.WriteEndObject();
    }

    // The rows that were touched, and beside them the event as the guard dates it.
    private static void WriteEvent(Utf8JsonWriter writer, CorrectionCauses causes, DateTime from, DateTime to)
    {
        var found = causes.EventOf(from, to);
        if (found == (from, to)) return;
        writer.WriteString("event_from", GuardJson.Time(found.From));
        writer.WriteString("event_to", GuardJson.Time(found.To));
    }

    private static void Write(string name, LoadFigures figures, Utf8JsonWriter writer)
    {
        writer.WriteStartObject(name);
        WriteNumber(writer, "kwh", figures.WattHours / 1000);
        WriteNumber(writer, "peak_kw", figures.PeakWatts / 1000);
        if (double.IsFinite(figures.PeakWatts)) writer.WriteString("peak_at", GuardJson.Time(figures.PeakAt));
        if (double.IsFinite(figures.PeakWatts)) writer.WriteNumber("peak_minutes", figures.PeakMinutes);
        if (figures.PeakIsAtLeast) writer.WriteBoolean("peak_is_at_least", true);
        WriteNumber(writer, "power_factor", figures.PowerFactor);
        WriteNumber(writer, "current_unbalance_percent", figures.CurrentUnbalancePercent);
        WriteNumber(writer, "voltage_unbalance_percent", figures.VoltageUnbalancePercent);
        writer.WriteStartArray("phase_kwh");
        foreach (var phase in figures.PhaseWattHours) writer.WriteNumberValue(Math.Round(phase / 1000, 4));
        writer.WriteEndArray();
        WriteNumbers(writer, "phase_peak_kw", figures.PhasePeakWatts, 1000);
        WriteNumbers(writer, "phase_power_factor", figures.PhasePowerFactors, 1);
        writer.WriteEndObject();
    }

    private static void WriteNumbers(Utf8JsonWriter writer, string name, IEnumerable<double> values, double unit)
    {
        writer.WriteStartArray(name);
        foreach (var value in values)
        {
            if (double.IsFinite(value)) writer.WriteNumberValue(Math.Round(value / unit, 4));
            else writer.WriteNullValue();
        }

        writer.WriteEndArray();
    }

    private static void WriteChannels(Utf8JsonWriter writer, IEnumerable<Lead> leads, IEnumerable<Clamp> clamps)
    {
        writer.WriteStartArray("channels");
        foreach (var lead in leads) writer.WriteStringValue(lead.ToString());
        foreach (var clamp in clamps) writer.WriteStringValue(clamp.ToString());
        writer.WriteEndArray();
    }

    // What is not known is left out as null: JSON has no other word for it.
    private static void WriteNumber(Utf8JsonWriter writer, string name, double value)
    {
        if (double.IsFinite(value)) writer.WriteNumber(name, Math.Round(value, 4));
        else writer.WriteNull(name);
    }
}
