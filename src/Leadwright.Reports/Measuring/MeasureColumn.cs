using System.Globalization;
using Leadwright.Core.Logs;

namespace Leadwright.Reports.Measuring;

/// <summary>What a column of a table that <c>measure</c> wrote holds, by its name: the way back from <see cref="MeasureTable"/>.</summary>
/// <param name="Name">Its name in the table.</param>
/// <param name="Column">What it is in a log of intervals.</param>
/// <param name="Over">For a harmonic: the column of the fundamental that it is a share of; else empty.</param>
/// <remarks>A harmonic stands in volts or amperes and is taken as percent of the fundamental, as limits are written. The fundamental is the group's own where it is there, else the first harmonic.</remarks>
public sealed record MeasureColumn(string Name, LogColumn Column, string Over = "")
{
    /// <summary>True for powers and energies: of an interval that was recorded in part they say nothing of the whole.</summary>
    public bool IsOfWholeInterval => Column.Quantity is LogQuantity.ActivePower or LogQuantity.ReactivePower or LogQuantity.ApparentPower or LogQuantity.ActiveEnergy;

    /// <summary>Reads a name.</summary>
    /// <param name="name">A column's name.</param>
    /// <param name="has">Whether the table has a column of a name.</param>
    /// <returns>Null for a column that a study has no use for.</returns>
    public static MeasureColumn? Of(string name, Func<string, bool> has)
    {
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(has);
        return Whole(name) ?? Phase(name) ?? Lane(name, has);
    }

    private static MeasureColumn? Whole(string name) => name switch
    {
        "frequency_Hz" => new(name, new(name, LogQuantity.Frequency)),
        "u2_percent" => new(name, new(name, LogQuantity.VoltageUnbalance)),
        "u0_percent" => new(name, new(name, LogQuantity.ZeroSequenceUnbalance)),
        "u_deviation_percent" => new(name, new(name, LogQuantity.Other) { OtherUnit = "%" }),
        "i2_percent" => new(name, new(name, LogQuantity.CurrentUnbalance)),
        "P_W" => new(name, new(name, LogQuantity.ActivePower)),
        "Q_fundamental_var" => new(name, new(name, LogQuantity.ReactivePower)),
        "import_Wh" => new(name, new(name, LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount)),
        "export_Wh" => new(name, new(name, LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount) { IsExport = true }),
        _ => null,
    };

    private static MeasureColumn? Phase(string name)
    {
        if (name.Length < 4 || name[1] is < '1' or > '3') return null;
        var place = LogPlace.Phase1 + (name[1] - '1');
        return (name[0], name[2..]) switch
        {
            ('P', "_W") => new(name, new(name, LogQuantity.ActivePower, place)),
            ('Q', "_fundamental_var") => new(name, new(name, LogQuantity.ReactivePower, place)),
            ('S', "_VA") => new(name, new(name, LogQuantity.ApparentPower, place)),
            _ => null,
        };
    }

    private static MeasureColumn? Lane(string name, Func<string, bool> has)
    {
        var end = name.IndexOf('_', StringComparison.Ordinal);
        if (end < 2 || name[0] is not ('V' or 'I') || PlaceOf(name[1..end]) is not { } place) return null;
        var isVoltage = name[0] == 'V';
        var size = isVoltage ? LogQuantity.Voltage : LogQuantity.Current;
        var unit = isVoltage ? "V" : "A";
        var what = name[(end + 1)..];
        MeasureColumn? Plain(LogQuantity quantity, LogStatistic statistic = LogStatistic.Mean) => new(name, new(name, quantity, place, statistic));
        if (what == $"rms_{unit}") return Plain(size);
        if (what == $"min_{unit}") return Plain(size, LogStatistic.Minimum);
        if (what == $"max_{unit}") return Plain(size, LogStatistic.Maximum);
        if (what == "crest") return Plain(isVoltage ? LogQuantity.VoltageCrest : LogQuantity.CurrentCrest);
        if (what == "thd_percent") return Plain(isVoltage ? LogQuantity.VoltageDistortion : LogQuantity.CurrentDistortion);
        if (what == "k_factor") return Plain(LogQuantity.KFactor);
        if (isVoltage && what == "pst") return Plain(LogQuantity.ShortTermFlicker);
        if (isVoltage && what == "plt") return Plain(LogQuantity.LongTermFlicker);
        if (what.Length < 4 || what[0] != 'h' || !what.EndsWith("_" + unit, StringComparison.Ordinal)
            || !int.TryParse(what.AsSpan(1, what.Length - 3), NumberStyles.None, CultureInfo.InvariantCulture, out var order) || order < 2) return null;
        var channel = name[..end];
        var over = new[] { $"{channel}_fundamental_{unit}", $"{channel}_h1_{unit}" }.FirstOrDefault(has);
        return over is null ? null : new(name, new(name, isVoltage ? LogQuantity.VoltageHarmonic : LogQuantity.CurrentHarmonic, place) { Order = order }, over);
    }

    private static LogPlace? PlaceOf(string suffix)
    {
        foreach (var place in Enum.GetValues<LogPlace>())
        {
            if (place != LogPlace.Whole && place.Suffix() == suffix) return place;
        }

        return null;
    }
}
