using System.Text;
using System.Text.Json;
using Leadwright.Core.Hookups;
using Leadwright.Core.Planning;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Planning;

/// <summary>Writes a plan as <c>leadwright.plan/1</c>.</summary>
public static class PlanJson
{
    /// <summary>The schema.</summary>
    public const string Schema = "leadwright.plan/1";

    private static readonly JsonWriterOptions s_options = new()
    {
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>The plan on one line.</summary>
    /// <param name="sheet">The plan.</param>
    /// <param name="site">The site's name; empty for none.</param>
    public static string Line(PlanSheet sheet, string site = "")
    {
        ArgumentNullException.ThrowIfNull(sheet);
        using var buffer = new MemoryStream();
        using (var writer = new Utf8JsonWriter(buffer, s_options)) Write(sheet, site, writer);
        return Encoding.UTF8.GetString(buffer.GetBuffer(), 0, (int)buffer.Length);
    }

    private static void Write(PlanSheet sheet, string site, Utf8JsonWriter writer)
    {
        var plan = sheet.Plan;
        writer.WriteStartObject();
        writer.WriteString("schema", Schema);
        if (site.Length > 0) writer.WriteString("site", site);
        writer.WriteString("service", Service.Of(plan.Service).Name);
        writer.WriteString("nominal", plan.Nominal.ToString());
        writer.WriteNumber("frequency", plan.FrequencyHertz);
        writer.WritePropertyName("hookup");
        CheckJson.Write(sheet.Hookup, writer);
        writer.WriteStartObject("channels");
        foreach (var reading in sheet.Readings)
        {
            writer.WriteStartObject(reading.Channel.ToString());
            Number("rms", reading.Typical, writer);
            Number("low", reading.Low, writer);
            Number("high", reading.High, writer);
            writer.WriteNumber("angle_from", Math.Round(reading.AngleFromDegrees, 2));
            writer.WriteNumber("angle_to", Math.Round(reading.AngleToDegrees, 2));
            writer.WriteEndObject();
        }

        writer.WriteEndObject();
        writer.WriteStartObject("phases");
        foreach (var power in sheet.Powers)
        {
            writer.WriteStartObject(power.Phase.ToString(System.Globalization.CultureInfo.InvariantCulture));
            Number("watts", power.Watts, writer);
            writer.WriteNumber("pf_low", Math.Round(power.LowPowerFactor, 4));
            writer.WriteNumber("pf_high", Math.Round(power.HighPowerFactor, 4));
            writer.WriteEndObject();
        }

        writer.WriteEndObject();
        Number("line_amperes", sheet.LineAmperes, writer);
        Number("peak_amperes", sheet.PeakAmperes, writer);
        Number("suitable_range_amperes", sheet.SuitableRangeAmperes, writer);
        if (sheet.Clamp is { } fit)
        {
            writer.WriteStartObject("clamp");
            writer.WriteNumber("share_of_range", Math.Round(fit.ShareOfRange, 5));
            writer.WriteNumber("peak_share_of_range", Math.Round(fit.PeakShareOfRange, 5));
            writer.WriteNumber("current_error_percent", Math.Round(fit.CurrentErrorPercent, 4));
            writer.WriteNumber("power_error_percent", Math.Round(fit.PowerErrorPercent, 4));
            writer.WriteEndObject();
        }

        writer.WriteNumber("interval_seconds", sheet.IntervalSeconds);
        writer.WriteNumber("days", sheet.Days);
        writer.WriteStartArray("needs");
        foreach (var need in sheet.Needs)
        {
            writer.WriteStartObject();
            writer.WriteString("for", PlanMaker.WordOf(need.Purpose));
            writer.WriteNumber("interval_seconds", need.IntervalSeconds);
            writer.WriteNumber("days", need.Days);
            writer.WriteString("says", PlanWording.Why(need.Purpose));
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        if (sheet.Memory is { } memory)
        {
            writer.WriteStartObject("memory");
            writer.WriteNumber("bytes", Math.Round(memory.Bytes));
            writer.WriteNumber("bytes_with_reserve", Math.Round(memory.BytesWithReserve));
            Number("days_that_fit", memory.DaysThatFit, writer);
            writer.WriteEndObject();
        }

        writer.WriteStartArray("warnings");
        foreach (var warning in sheet.Warnings)
        {
            writer.WriteStartObject();
            writer.WriteString("kind", Word(warning));
            writer.WriteString("says", PlanWording.Warning(warning, sheet));
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteEndObject();
    }

    private static string Word(PlanWarning warning) => warning switch
    {
        PlanWarning.ClampRangeTooLarge => "clamp-range-too-large",
        PlanWarning.ClampRangeTooSmall => "clamp-range-too-small",
        PlanWarning.MemoryTooSmall => "memory-too-small",
        PlanWarning.BatteryTooShort => "battery-too-short",
        PlanWarning.IntervalTooLong => "interval-too-long",
        _ => "duration-too-short",
    };

    private static void Number(string name, double? value, Utf8JsonWriter writer)
    {
        if (value is { } number) writer.WriteNumber(name, Math.Round(number, 3));
        else writer.WriteNull(name);
    }
}
