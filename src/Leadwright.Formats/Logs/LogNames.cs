using Leadwright.Core.Logs;
using Leadwright.Formats.Logs.Layout;

namespace Leadwright.Formats.Logs;

/// <summary>Names of columns that are written: quantity, place, statistic and unit, such as <c>V1_rms_V</c>.</summary>
public static class LogNames
{
    private const string Standing = "_standing";

    /// <summary>The name of a column. A quantity that is none of ours keeps its own name, with its unit.</summary>
    /// <param name="column">The column.</param>
    public static string Of(LogColumn column)
    {
        ArgumentNullException.ThrowIfNull(column);
        if (column.Quantity == LogQuantity.Other)
        {
            var name = column.Name.Trim();
            return column.OtherUnit.Length == 0 || LogHeading.Parse(name).Unit == column.OtherUnit || name.Contains(column.OtherUnit, StringComparison.Ordinal) ? name : $"{name} ({column.OtherUnit})";
        }

        var place = column.Place.Suffix();
        var stem = column.Quantity switch
        {
            LogQuantity.Voltage => $"V{place}",
            LogQuantity.Current => $"I{place}",
            LogQuantity.ActivePower => $"P{place}",
            LogQuantity.ReactivePower => $"Q{place}",
            LogQuantity.ApparentPower => $"S{place}",
            LogQuantity.PowerFactor => $"PF{place}",
            LogQuantity.DisplacementFactor => $"DPF{place}",
            LogQuantity.Frequency => "frequency",
            LogQuantity.ActiveEnergy => $"energy{Spelled(column.Place)}",
            LogQuantity.ReactiveEnergy => $"reactive_energy{Spelled(column.Place)}",
            LogQuantity.ApparentEnergy => $"apparent_energy{Spelled(column.Place)}",
            LogQuantity.VoltageAngle => $"V{place}_angle",
            LogQuantity.CurrentAngle => $"I{place}_angle",
            LogQuantity.VoltageDistortion => $"V{place}_thd",
            LogQuantity.CurrentDistortion => $"I{place}_thd",
            LogQuantity.VoltageHarmonic => $"V{place}_h{column.Order}",
            LogQuantity.CurrentHarmonic => $"I{place}_h{column.Order}",
            LogQuantity.VoltageUnbalance => "u2",
            LogQuantity.CurrentUnbalance => "i2",
            LogQuantity.ZeroSequenceUnbalance => "u0",
            LogQuantity.ShortTermFlicker => $"V{place}_pst",
            LogQuantity.LongTermFlicker => $"V{place}_plt",
            LogQuantity.VoltageCrest => $"V{place}_crest",
            LogQuantity.CurrentCrest => $"I{place}_crest",
            _ => $"I{place}_k_factor",
        };
        var direction = column.IsExport ? "_export" : "";
        var unit = LogUnit.Of(column.Quantity);
        return $"{stem}{direction}{StatisticOf(column)}{(unit.Length == 0 ? "" : "_" + (unit == "%" ? "percent" : unit))}";
    }

    /// <summary>The name of the column of a column's standings: its own with <c>_standing</c> for the unit.</summary>
    /// <param name="name">Name of the column.</param>
    public static string StandingOf(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var heading = LogHeading.Parse(name);
        return (heading.Unit.Length > 0 && name.EndsWith("_" + heading.Unit, StringComparison.Ordinal) ? heading.Name : name) + Standing;
    }

    private static string StatisticOf(LogColumn column) => column.Statistic switch
    {
        LogStatistic.Minimum => "_min",
        LogStatistic.Maximum => "_max",
        LogStatistic.Instant => "_inst",
        LogStatistic.Amount => "_interval",
        LogStatistic.Counter => "_counter",
        _ => column.Quantity is LogQuantity.Voltage or LogQuantity.Current ? "_rms" : "",
    };

    private static string Spelled(LogPlace place) => place == LogPlace.Whole ? "" : place == LogPlace.Neutral ? "_N" : $"_L{place.Suffix()}";
}
