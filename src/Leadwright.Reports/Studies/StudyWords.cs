using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Limits;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Reports.Studies;

/// <summary>The words and numbers that text, JSON and tables share.</summary>
internal static class StudyWords
{
    public static string Verdict(LimitVerdict verdict) => verdict switch { LimitVerdict.Pass => "pass", LimitVerdict.Fail => "fail", _ => "not enough data" };

    public static string Kind(DemandKind kind) => kind == DemandKind.Block ? "block" : "sliding";

    public static string Of(Standing standing) => standing switch
    {
        Standing.Measured => "measured",
        Standing.Mended => "mended",
        Standing.Modelled => "modelled",
        _ => "lost",
    };

    public static string Of(ConditionState state) => state switch { ConditionState.Met => "met", ConditionState.NotMet => "not met", _ => "not shown" };

    public static string Of(ToleranceRegion region) => region switch
    {
        ToleranceRegion.Within => "within",
        ToleranceRegion.Below => "below",
        ToleranceRegion.Above => "above",
        _ => "not covered",
    };

    /// <summary>A curve's word as the name of a column or a JSON property.</summary>
    public static string Key(ToleranceCurve curve) => curve.Word.Replace('-', '_').Replace(' ', '_');

    public static string Of(EventSide side) => side switch { EventSide.Upstream => "upstream", EventSide.Downstream => "downstream", _ => "undecided" };

    public static string Of(EventCauseKind kind) => kind switch
    {
        EventCauseKind.MotorStart => "motor start",
        EventCauseKind.TransformerEnergising => "transformer energising",
        EventCauseKind.Fault => "fault",
        _ => "nothing known",
    };

    public static string Of(DipType type) => type.Phase == 0 ? $"{type.Letter}" : $"{type.Letter}{"abc"[type.Phase - 1]}";

    public static string Channel(LimitQuantity quantity, LogPlace place) => place switch
    {
        LogPlace.Whole => "",
        _ => (quantity is LimitQuantity.CurrentHarmonic or LimitQuantity.CurrentDistortion ? "I" : "V") + place.Suffix(),
    };

    public static string Quantity(LimitRule rule, int order) => rule.Quantity switch
    {
        LimitQuantity.Frequency => "frequency",
        LimitQuantity.Voltage or LimitQuantity.VoltageToNeutral => "voltage",
        LimitQuantity.VoltageBetweenLines => "voltage between lines",
        LimitQuantity.VoltageUnbalance => "voltage unbalance u2",
        LimitQuantity.VoltageDeviation => "voltage unbalance, largest deviation",
        LimitQuantity.VoltageDistortion => "voltage THD",
        LimitQuantity.VoltageHarmonic => $"voltage harmonic {Orders(rule, order)}",
        LimitQuantity.CurrentHarmonic => $"current harmonic {Orders(rule, order)}",
        LimitQuantity.CurrentDistortion => "current TDD",
        LimitQuantity.LongTermFlicker => "flicker Plt",
        _ => "flicker Pst",
    };

    private static string Orders(LimitRule rule, int order)
    {
        if (order > 0 && (rule.OrderFrom == rule.OrderTo || order != rule.OrderFrom)) return order.ToString(CultureInfo.InvariantCulture);
        return rule.OrderFrom == rule.OrderTo ? $"{rule.OrderFrom}" : $"{rule.OrderFrom} to {rule.OrderTo}{(rule.Parity == 1 ? ", odd" : rule.Parity == 2 ? ", even" : "")}";
    }

    public static string Time(DateTime time) => RecordTime.Text(time, time.Second == 0 && time.Millisecond == 0 ? "yyyy-MM-dd HH:mm" : "yyyy-MM-dd HH:mm:ss");

    public static string Iso(DateTime time) => RecordTime.Iso(time, time.Ticks % TimeSpan.TicksPerSecond == 0 ? "yyyy-MM-ddTHH:mm:ss" : "yyyy-MM-ddTHH:mm:ss.ffffff");

    /// <summary>A number with so many significant digits; a dash for none.</summary>
    public static string Digits(double value, int digits)
    {
        if (!double.IsFinite(value)) return "-";
        if (value == 0) return "0";
        var before = (int)Math.Floor(Math.Log10(Math.Abs(value))) + 1;
        var decimals = Math.Clamp(digits - before, 0, 6);
        return value.ToString(decimals == 0 ? "0" : "0." + new string('#', decimals), CultureInfo.InvariantCulture);
    }
}
