using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Client.Surveys;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Names columns of a log for people.</summary>
internal static class ColumnWording
{
    /// <summary>The columns of a log that a chart can show.</summary>
    public static ImmutableArray<ColumnCard> Of(IntervalLog log) => Of(log.Columns);

    /// <summary>Columns as a chart can show them.</summary>
    public static ImmutableArray<ColumnCard> Of(IEnumerable<LogColumn> columns) =>
        [.. columns.Select(column => new ColumnCard(LogNames.Of(column), TitleOf(column), ColumnFrames.UnitOf(column), column.Quantity.ToString(), column.Place.ToString())).DistinctBy(card => card.Name)];

    private static string TitleOf(LogColumn column)
    {
        var what = column.Quantity switch
        {
            LogQuantity.Other => column.Name,
            LogQuantity.Voltage => "Voltage V",
            LogQuantity.Current => "Current I",
            LogQuantity.ActivePower => "Power P",
            LogQuantity.ReactivePower => "Vars Q",
            LogQuantity.ApparentPower => "Volt-amperes S",
            LogQuantity.PowerFactor => "Power factor ",
            LogQuantity.DisplacementFactor => "Displacement factor ",
            LogQuantity.Frequency => "Frequency",
            LogQuantity.ActiveEnergy => "Energy ",
            LogQuantity.ReactiveEnergy => "Reactive energy ",
            LogQuantity.ApparentEnergy => "Apparent energy ",
            LogQuantity.VoltageAngle => "Angle of V",
            LogQuantity.CurrentAngle => "Angle of I",
            LogQuantity.VoltageDistortion => "Distortion of V",
            LogQuantity.CurrentDistortion => "Distortion of I",
            LogQuantity.VoltageHarmonic => string.Create(CultureInfo.InvariantCulture, $"Harmonic {column.Order} of V"),
            LogQuantity.CurrentHarmonic => string.Create(CultureInfo.InvariantCulture, $"Harmonic {column.Order} of I"),
            LogQuantity.VoltageUnbalance => "Voltage unbalance",
            LogQuantity.CurrentUnbalance => "Current unbalance",
            LogQuantity.ZeroSequenceUnbalance => "Zero-sequence unbalance",
            LogQuantity.ShortTermFlicker => "Flicker Pst of V",
            LogQuantity.LongTermFlicker => "Flicker Plt of V",
            LogQuantity.VoltageCrest => "Crest factor of V",
            LogQuantity.CurrentCrest => "Crest factor of I",
            _ => "K-factor of I",
        };
        var place = column.Quantity == LogQuantity.Other ? "" : column.Place.Suffix();
        if (place.Length == 0 && what is "Power P" or "Vars Q" or "Volt-amperes S") place = ", total";
        var statistic = column.Statistic switch
        {
            LogStatistic.Minimum => ", least",
            LogStatistic.Maximum => ", largest",
            LogStatistic.Instant => ", at one moment",
            LogStatistic.Counter => ", counter",
            _ => "",
        };
        return $"{(place.Length == 0 ? what.TrimEnd() : what)}{place}{statistic}{(column.IsExport ? ", sent back" : "")}".Trim();
    }
}
