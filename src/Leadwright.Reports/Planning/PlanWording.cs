using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Planning;
using Leadwright.Core.Wording;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Planning;

/// <summary>A plan in words.</summary>
public static class PlanWording
{
    /// <summary>What goes into the bag. Common practice, no source.</summary>
    public static ImmutableArray<string> Bag =>
    [
        Say.Of("plan.recorder-charged-memory-empty-clock", "Recorder charged, memory empty, clock set: compared with a known clock"),
        Say.Of("plan.leads-and-clamps-looked-over", "Leads and clamps looked over, with their CAT and volts fit for the place"),
        Say.Of("plan.a-clamp-for-each-line", "A clamp for each line, one for the neutral where there is one, and their ranges noted"),
        Say.Of("plan.hand-meter-of-low-input", "Hand meter of low input resistance, hand clamp, rotation indicator"),
        Say.Of("plan.labels-for-leads-and-clamps", "Labels for leads and clamps, ties, a lock or barrier if the cover can't be closed"),
        Say.Of("plan.a-supply-for-the-recorder", "A supply for the recorder that nobody unplugs, and what it is fed from"),
        Say.Of("plan.permit-risk-assessment-and-protective", "Permit, risk assessment and protective equipment by the site's rules"),
        Say.Of("plan.this-sheet-a-pen-a", "This sheet, a pen, a camera"),
    ];

    /// <summary>What is done at the panel before leaving. Common practice, no source.</summary>
    public static ImmutableArray<string> Panel =>
    [
        Say.Of("plan.nameplate-and-service-agree-with", "Nameplate and service agree with this sheet; rotation read at the panel"),
        Say.Of("plan.each-lead-clipped-firmly-on", "Each lead clipped firmly on its own conductor; each clamp fully closed, its arrow to the load"),
        Say.Of("plan.readings-entered-and-checked", "Readings entered on this sheet and checked; what is to be moved was moved, and read again"),
        Say.Of("plan.one-clamp-compared-with-a", "One clamp compared with a hand clamp on the same conductor"),
        Say.Of("plan.one-known-load-switched-on", "One known load switched on each line: its own clamp moved, upward"),
        Say.Of("plan.looked-again-with-motors-running", "Looked again with motors running, if there are any"),
        Say.Of("plan.range-has-room-for-the", "Range has room for the peak; nominal voltage and thresholds set"),
        Say.Of("plan.recorder-runs-from-its-supply", "Recorder runs from its supply; time, interval, memory and days to go read off its screen"),
        Say.Of("plan.every-clamp-photographed-with-its", "Every clamp photographed with its conductor; cover closed or barred"),
    ];

    /// <summary>The name of a purpose.</summary>
    public static string Name(SurveyPurpose purpose) => purpose switch
    {
        SurveyPurpose.Load => Say.Of("plan.load-and-demand", "Load and demand"),
        SurveyPurpose.SpareCapacity => Say.Of("plan.room-for-more-load", "Room for more load"),
        SurveyPurpose.Voltage => Say.Of("plan.voltage-quality", "Voltage quality"),
        SurveyPurpose.Harmonics => Say.Of("plan.harmonics", "Harmonics"),
        _ => Say.Of("plan.a-fault-that-comes-and", "A fault that comes and goes"),
    };

    /// <summary>Why a purpose needs its interval and length, with the source.</summary>
    public static string Why(SurveyPurpose purpose) => purpose switch
    {
        SurveyPurpose.Load => Say.Of("plan.one-minute-values-from-which", "one-minute values, from which every tariff's demand can be computed, over one whole week of business (common practice, no source)"),
        SurveyPurpose.SpareCapacity => Say.Of("plan.fifteen-minute-demand-over-at", "fifteen-minute demand over at least 30 days of the busiest phase (NEC 220.87, exception; check the edition in force), stored by the minute"),
        SurveyPurpose.Voltage => Say.Of("plan.ten-minute-values-over-a", "ten-minute values over a whole week (EN 50160, 95 % of each week, from memory; IEC 61000-4-30 for the ten minutes)"),
        SurveyPurpose.Harmonics => Say.Of("plan.ten-minute-values-over-a-2", "ten-minute values over a whole week, and three-second values beside them (IEEE 519, percentiles of a week and of each day, from memory)"),
        _ => Say.Of("plan.events-by-the-half-cycle", "events by the half cycle, and one-minute values around them, until it has come again: a week at least (common practice, no source)"),
    };

    /// <summary>What does not fit, and what to do.</summary>
    public static string Warning(PlanWarning warning, PlanSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        var suitable = sheet.SuitableRangeAmperes is { } range ? Say.Of("plan.a-range-of-a-suits", " A range of {range} A suits.", ("range", Say.Number(range, "0"))) : "";
        return warning switch
        {
            PlanWarning.ClampRangeTooLarge => Say.Of("plan.the-expected-load-is-of", "The expected load is {shareOfRange} % of the clamps' range: below a tenth of it they say little, of angles least.{suitable}", ("shareOfRange", Say.Number(100 * sheet.Clamp!.Value.ShareOfRange, "0.#")), ("suitable", suitable)),
            PlanWarning.ClampRangeTooSmall => Say.Of("plan.the-peak-is-of-the", "The peak is {peakShareOfRange} % of the clamps' range: it will be cut off.{suitable}", ("peakShareOfRange", Say.Number(100 * sheet.Clamp!.Value.PeakShareOfRange, "0")), ("suitable", suitable)),
            PlanWarning.MemoryTooSmall => Say.Of("plan.the-memory-is-full-after", "The memory is full after {daysThatFit} of {days} days. Store fewer quantities, take a longer interval where the purpose allows it, or collect it in between.", ("daysThatFit", Say.Number(sheet.Memory!.Value.DaysThatFit.GetValueOrDefault(), "0.#")), ("days", Say.Number(sheet.Days, "0.#"))),
            PlanWarning.BatteryTooShort => Say.Of("plan.the-battery-lasts-hours-the", "The battery lasts {batteryHours} hours, the supply may be gone for {outageHours}. Feed the recorder from elsewhere, or the record ends there.", ("batteryHours", Say.Number(sheet.Plan.Recorder!.BatteryHours.GetValueOrDefault(), "0.#")), ("outageHours", Say.Number(sheet.Plan.Recorder.OutageHours, "0.#"))),
            PlanWarning.IntervalTooLong => Say.Of("plan.the-interval-is-longer-than", "The interval is longer than {sheet} allows.", ("sheet", Phrases.Join(sheet.Needs.Where(need => sheet.IntervalSeconds > need.IntervalSeconds).Select(need => $"“{Name(need.Purpose)}” ({Seconds(need.IntervalSeconds)})")))),
            _ => Say.Of("plan.the-record-is-shorter-than", "The record is shorter than {sheet} needs.", ("sheet", Phrases.Join(sheet.Needs.Where(need => sheet.Days < need.Days).Select(need => Say.Of("plan.days", "“{purpose}” ({days} days)", ("purpose", Name(need.Purpose)), ("days", Say.Number(need.Days, "0"))))))),
        };
    }

    /// <summary>An interval in words: <c>10 min</c>, <c>3 s</c>.</summary>
    public static string Seconds(double seconds) => seconds >= 60 && seconds % 60 == 0
        ? Say.Of("plan.min", "{seconds} min", ("seconds", Say.Number(seconds / 60, "0")))
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
        return reading is { Low: { } low, High: { } high } ? Say.Of("plan.to", "{low} to {high} {unit}", ("low", Phrases.ThreeDigits(low)), ("high", Phrases.ThreeDigits(high)), ("unit", unit)) : Say.Of("plan.load-not-known", "load not known");
    }

    /// <summary>The angle that a channel should show, as text: <c>−120°</c>, <c>−42° to 3°</c>.</summary>
    public static string AngleOf(ExpectedReading reading)
    {
        var from = Math.Round(reading.AngleFromDegrees);
        var to = Math.Round(reading.AngleToDegrees);
        if (to > 180) to -= 360;
        return from == to ? Degrees(from) : Say.Of("plan.to-2", "{degrees} to {degrees2}", ("degrees", Degrees(from)), ("degrees2", Degrees(to)));
    }

    /// <summary>The power factors that a phase should show, as text.</summary>
    public static string PowerFactor(ExpectedPower power) => Say.Of("plan.to-3", "{lowPowerFactor} to {highPowerFactor}", ("lowPowerFactor", Say.Number(power.LowPowerFactor, "0.00")), ("highPowerFactor", Say.Number(power.HighPowerFactor, "0.00"))).Replace('-', '−');

    /// <summary>What the clamps do at the expected load, in one sentence; empty where they or the load are not known.</summary>
    public static string Clamp(PlanSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        if (sheet.Clamp is not { } fit || sheet.LineAmperes is not { } amperes) return "";
        return Say.Of("plan.at-the-expected-a-the", "At the expected {amperes} A the clamps use {shareOfRange} % of their range: at most {currentErrorPercent} % of the current and {powerErrorPercent} % of the power wrong; the peak uses {peakShareOfRange} %.", ("amperes", Phrases.ThreeDigits(amperes)), ("shareOfRange", Say.Number(100 * fit.ShareOfRange, "0.#")), ("currentErrorPercent", Say.Number(fit.CurrentErrorPercent, "0.##")), ("powerErrorPercent", Say.Number(fit.PowerErrorPercent, "0.##")), ("peakShareOfRange", Say.Number(100 * fit.PeakShareOfRange, "0")));
    }

    /// <summary>The memory that it takes, in one sentence; empty where nothing is known of the recorder.</summary>
    public static string Memory(PlanSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        if (sheet.Memory is not { } memory || sheet.Plan.Recorder is not { } recorder) return "";
        var fits = memory.DaysThatFit is { } days ? Say.Of("plan.it-is-full-after-days", "; it is full after {days} days", ("days", Say.Number(days, "0.#"))) : "";
        return Say.Of("plan.quantities-of-values-each-bytes", "{quantities} quantities of {statistics} values each, {bytesPerValue} bytes a value, {intervals} intervals: {bytes}, with a fifth in reserve {bytesWithReserve}{fits}.", ("quantities", recorder.Quantities), ("statistics", recorder.Statistics), ("bytesPerValue", Say.Number(recorder.BytesPerValue, "0.#")), ("intervals", Say.Number(memory.Intervals, "0")), ("bytes", Bytes(memory.Bytes)), ("bytesWithReserve", Bytes(memory.BytesWithReserve)), ("fits", fits));
    }

    private static string Degrees(double degrees) => string.Create(CultureInfo.InvariantCulture, $"{degrees:0}°").Replace('-', '−');
}
