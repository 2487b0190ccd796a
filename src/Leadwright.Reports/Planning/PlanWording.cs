using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Planning;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Planning;

/// <summary>A plan in words.</summary>
public static class PlanWording
{
    /// <summary>What goes into the bag. Common practice, no source.</summary>
    public static ImmutableArray<string> Bag { get; } =
    [
        "Recorder charged, memory empty, clock set: compared with a known clock",
        "Leads and clamps looked over, with their CAT and volts fit for the place",
        "A clamp for each line, one for the neutral where there is one, and their ranges noted",
        "Hand meter of low input resistance, hand clamp, rotation indicator",
        "Labels for leads and clamps, ties, a lock or barrier if the cover can't be closed",
        "A supply for the recorder that nobody unplugs, and what it is fed from",
        "Permit, risk assessment and protective equipment by the site's rules",
        "This sheet, a pen, a camera",
    ];

    /// <summary>What is done at the panel before leaving. Common practice, no source.</summary>
    public static ImmutableArray<string> Panel { get; } =
    [
        "Nameplate and service agree with this sheet; rotation read at the panel",
        "Each lead clipped firmly on its own conductor; each clamp fully closed, its arrow to the load",
        "Readings entered below and checked; what is to be moved was moved, and read again",
        "One clamp compared with a hand clamp on the same conductor",
        "One known load switched on each line: its own clamp moved, upward",
        "Looked again with motors running, if there are any",
        "Range has room for the peak; nominal voltage and thresholds set",
        "Recorder runs from its supply; time, interval, memory and days to go read off its screen",
        "Every clamp photographed with its conductor; cover closed or barred",
    ];

    /// <summary>The name of a purpose.</summary>
    public static string Name(SurveyPurpose purpose) => purpose switch
    {
        SurveyPurpose.Load => "Load and demand",
        SurveyPurpose.SpareCapacity => "Room for more load",
        SurveyPurpose.Voltage => "Voltage quality",
        SurveyPurpose.Harmonics => "Harmonics",
        _ => "A fault that comes and goes",
    };

    /// <summary>Why a purpose needs its interval and length, with the source.</summary>
    public static string Why(SurveyPurpose purpose) => purpose switch
    {
        SurveyPurpose.Load => "one-minute values, from which every tariff's demand can be computed, over one whole week of business (common practice, no source)",
        SurveyPurpose.SpareCapacity => "fifteen-minute demand over at least 30 days of the busiest phase (NEC 220.87, exception; check the edition in force), stored by the minute",
        SurveyPurpose.Voltage => "ten-minute values over a whole week (EN 50160, 95 % of each week, from memory; IEC 61000-4-30 for the ten minutes)",
        SurveyPurpose.Harmonics => "ten-minute values over a whole week, and three-second values beside them (IEEE 519, percentiles of a week and of each day, from memory)",
        _ => "events by the half cycle, and one-minute values around them, until it has come again: a week at least (common practice, no source)",
    };

    /// <summary>What does not fit, and what to do.</summary>
    public static string Warning(PlanWarning warning, PlanSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        var suitable = sheet.SuitableRangeAmperes is { } range ? string.Create(CultureInfo.InvariantCulture, $" A range of {range:0} A suits.") : "";
        return warning switch
        {
            PlanWarning.ClampRangeTooLarge => string.Create(
                CultureInfo.InvariantCulture, $"The expected load is {100 * sheet.Clamp!.Value.ShareOfRange:0.#} % of the clamps' range: below a tenth of it they say little, of angles least.{suitable}"),
            PlanWarning.ClampRangeTooSmall => string.Create(
                CultureInfo.InvariantCulture, $"The peak is {100 * sheet.Clamp!.Value.PeakShareOfRange:0} % of the clamps' range: it will be cut off.{suitable}"),
            PlanWarning.MemoryTooSmall => string.Create(
                CultureInfo.InvariantCulture, $"The memory is full after {sheet.Memory!.Value.DaysThatFit:0.#} of {sheet.Days:0.#} days. Store fewer quantities, take a longer interval where the purpose allows it, or collect it in between."),
            PlanWarning.BatteryTooShort => string.Create(
                CultureInfo.InvariantCulture, $"The battery lasts {sheet.Plan.Recorder!.BatteryHours:0.#} hours, the supply may be gone for {sheet.Plan.Recorder.OutageHours:0.#}. Feed the recorder from elsewhere, or the record ends there."),
            PlanWarning.IntervalTooLong => $"The interval is longer than {Phrases.Join(sheet.Needs.Where(need => sheet.IntervalSeconds > need.IntervalSeconds).Select(need => $"“{Name(need.Purpose)}” ({Seconds(need.IntervalSeconds)})"))} allows.",
            _ => string.Create(CultureInfo.InvariantCulture, $"The record is shorter than {Phrases.Join(sheet.Needs.Where(need => sheet.Days < need.Days).Select(need => string.Create(CultureInfo.InvariantCulture, $"“{Name(need.Purpose)}” ({need.Days:0} days)")))} needs."),
        };
    }

    /// <summary>An interval in words: <c>10 min</c>, <c>3 s</c>.</summary>
    public static string Seconds(double seconds) => seconds >= 60 && seconds % 60 == 0
        ? string.Create(CultureInfo.InvariantCulture, $"{seconds / 60:0} min")
        : string.Create(CultureInfo.InvariantCulture, $"{seconds:0.###} s");

    /// <summary>A size of memory in words.</summary>
    public static string Bytes(double bytes) => bytes switch
    {
        >= 1e9 => string.Create(CultureInfo.InvariantCulture, $"{bytes / 1e9:0.0} GB"),
        >= 1e6 => string.Create(CultureInfo.InvariantCulture, $"{bytes / 1e6:0.0} MB"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{bytes / 1e3:0.0} kB"),
    };

    /// <summary>What a channel should show, as text: <c>207 to 253 V</c>.</summary>
    public static string Size(ExpectedReading reading)
    {
        var unit = reading.Channel >= Channel.I1 ? "A" : "V";
        return reading is { Low: { } low, High: { } high } ? $"{Phrases.ThreeDigits(low)} to {Phrases.ThreeDigits(high)} {unit}" : "load not known";
    }

    /// <summary>The angle that a channel should show, as text: <c>−120°</c>, <c>−42° to 3°</c>.</summary>
    public static string AngleOf(ExpectedReading reading)
    {
        var from = Math.Round(reading.AngleFromDegrees);
        var to = Math.Round(reading.AngleToDegrees);
        if (to > 180) to -= 360;
        return from == to ? Degrees(from) : $"{Degrees(from)} to {Degrees(to)}";
    }

    /// <summary>The power factors that a phase should show, as text.</summary>
    public static string PowerFactor(ExpectedPower power) => string.Create(
        CultureInfo.InvariantCulture, $"{power.LowPowerFactor:0.00} to {power.HighPowerFactor:0.00}").Replace('-', '−');

    /// <summary>What the clamps do at the expected load, in one sentence; empty where they or the load are not known.</summary>
    public static string Clamp(PlanSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        if (sheet.Clamp is not { } fit || sheet.LineAmperes is not { } amperes) return "";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"At the expected {Phrases.ThreeDigits(amperes)} A the clamps use {100 * fit.ShareOfRange:0.#} % of their range: at most {fit.CurrentErrorPercent:0.##} % of the current and {fit.PowerErrorPercent:0.##} % of the power wrong; the peak uses {100 * fit.PeakShareOfRange:0} %.");
    }

    /// <summary>The memory that it takes, in one sentence; empty where nothing is known of the recorder.</summary>
    public static string Memory(PlanSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        if (sheet.Memory is not { } memory || sheet.Plan.Recorder is not { } recorder) return "";
        var fits = memory.DaysThatFit is { } days ? string.Create(CultureInfo.InvariantCulture, $"; it is full after {days:0.#} days") : "";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{recorder.Quantities} quantities of {recorder.Statistics} values each, {recorder.BytesPerValue:0.#} bytes a value, {memory.Intervals:0} intervals: {Bytes(memory.Bytes)}, with a fifth in reserve {Bytes(memory.BytesWithReserve)}{fits}.");
    }

    private static string Degrees(double degrees) => string.Create(CultureInfo.InvariantCulture, $"{degrees:0}°").Replace('-', '−');
}
