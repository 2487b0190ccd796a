using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Formats.Pqdif;

/// <summary>A series of logged values as the standard describes it.</summary>
/// <param name="Channel">Name of its channel.</param>
/// <param name="Name">Name of the series: of the column.</param>
/// <param name="QuantityType">Value log or phasor.</param>
/// <param name="Measured">What is measured.</param>
/// <param name="Characteristic">What of it.</param>
/// <param name="Phase">Which phase.</param>
/// <param name="Units">Its unit.</param>
/// <param name="ValueType">Mean, least, largest, value.</param>
/// <param name="GroupId">Order of a harmonic; 0 for none.</param>
internal sealed record PqdifLogSeries(
    string Channel, string Name, Guid QuantityType, uint Measured, Guid Characteristic, uint Phase, uint Units, Guid ValueType, int GroupId = 0);

/// <summary>Which quantity of a log is which series of the standard, and back.</summary>
internal static class PqdifLogMapping
{
    private static readonly ImmutableArray<Entry> s_entries =
    [
        new(LogQuantity.Voltage, "Voltage", PqdifUnit.MeasuredVoltage, PqdifCharacteristic.Rms, PqdifUnit.Volts),
        new(LogQuantity.Current, "Current", PqdifUnit.MeasuredCurrent, PqdifCharacteristic.Rms, PqdifUnit.Amperes),
        new(LogQuantity.ActivePower, "Active power", PqdifUnit.MeasuredPower, PqdifCharacteristic.P, PqdifUnit.Watts),
        new(LogQuantity.ReactivePower, "Reactive power", PqdifUnit.MeasuredPower, PqdifCharacteristic.Q, PqdifUnit.Vars),
        new(LogQuantity.ApparentPower, "Apparent power", PqdifUnit.MeasuredPower, PqdifCharacteristic.S, PqdifUnit.VoltAmperes),
        new(LogQuantity.PowerFactor, "Power factor", PqdifUnit.MeasuredPower, PqdifCharacteristic.Pf, PqdifUnit.None),
        new(LogQuantity.DisplacementFactor, "Displacement factor", PqdifUnit.MeasuredPower, PqdifCharacteristic.Df, PqdifUnit.None),
        new(LogQuantity.Frequency, "Frequency", PqdifUnit.MeasuredVoltage, PqdifCharacteristic.Frequency, PqdifUnit.Hertz),
        new(LogQuantity.VoltageDistortion, "Voltage THD", PqdifUnit.MeasuredVoltage, PqdifCharacteristic.TotalThd, PqdifUnit.Percent),
        new(LogQuantity.CurrentDistortion, "Current THD", PqdifUnit.MeasuredCurrent, PqdifCharacteristic.TotalThd, PqdifUnit.Percent),
        new(LogQuantity.VoltageHarmonic, "Voltage harmonic", PqdifUnit.MeasuredVoltage, PqdifCharacteristic.SpectraHgroup, PqdifUnit.Percent),
        new(LogQuantity.CurrentHarmonic, "Current harmonic", PqdifUnit.MeasuredCurrent, PqdifCharacteristic.SpectraHgroup, PqdifUnit.Percent),
        new(LogQuantity.VoltageUnbalance, "Voltage unbalance", PqdifUnit.MeasuredVoltage, PqdifCharacteristic.S2s1, PqdifUnit.Percent),
        new(LogQuantity.CurrentUnbalance, "Current unbalance", PqdifUnit.MeasuredCurrent, PqdifCharacteristic.S2s1, PqdifUnit.Percent),
        new(LogQuantity.ZeroSequenceUnbalance, "Zero-sequence unbalance", PqdifUnit.MeasuredVoltage, PqdifCharacteristic.S0s1, PqdifUnit.Percent),
        new(LogQuantity.ShortTermFlicker, "Pst", PqdifUnit.MeasuredVoltage, PqdifCharacteristic.FlkrPst, PqdifUnit.None),
        new(LogQuantity.LongTermFlicker, "Plt", PqdifUnit.MeasuredVoltage, PqdifCharacteristic.FlkrPlt, PqdifUnit.None),
        new(LogQuantity.VoltageCrest, "Voltage crest factor", PqdifUnit.MeasuredVoltage, PqdifCharacteristic.CrestFactor, PqdifUnit.None),
        new(LogQuantity.CurrentCrest, "Current crest factor", PqdifUnit.MeasuredCurrent, PqdifCharacteristic.CrestFactor, PqdifUnit.None),
        new(LogQuantity.KFactor, "K-factor", PqdifUnit.MeasuredCurrent, PqdifCharacteristic.KFactor, PqdifUnit.None),
    ];

    private static readonly ImmutableArray<EnergyEntry> s_energies =
    [
        new(LogQuantity.ActiveEnergy, PqdifCharacteristic.PIntg, PqdifUnit.WattHours, LogStatistic.Counter, Direction.Net),
        new(LogQuantity.ActiveEnergy, PqdifCharacteristic.PIntgPos, PqdifUnit.WattHours, LogStatistic.Counter, Direction.Import),
        new(LogQuantity.ActiveEnergy, PqdifCharacteristic.PIntgNeg, PqdifUnit.WattHours, LogStatistic.Counter, Direction.Export),
        new(LogQuantity.ActiveEnergy, PqdifCharacteristic.PIvlIntg, PqdifUnit.WattHours, LogStatistic.Amount, Direction.Net),
        new(LogQuantity.ActiveEnergy, PqdifCharacteristic.PIvlIntgPos, PqdifUnit.WattHours, LogStatistic.Amount, Direction.Import),
        new(LogQuantity.ActiveEnergy, PqdifCharacteristic.PIvlIntgNeg, PqdifUnit.WattHours, LogStatistic.Amount, Direction.Export),
        new(LogQuantity.ReactiveEnergy, PqdifCharacteristic.QIntg, PqdifUnit.VarHours, LogStatistic.Counter, Direction.Net),
        new(LogQuantity.ReactiveEnergy, PqdifCharacteristic.QIntgPos, PqdifUnit.VarHours, LogStatistic.Counter, Direction.Import),
        new(LogQuantity.ReactiveEnergy, PqdifCharacteristic.QIntgNeg, PqdifUnit.VarHours, LogStatistic.Counter, Direction.Export),
        new(LogQuantity.ReactiveEnergy, PqdifCharacteristic.QIvlIntg, PqdifUnit.VarHours, LogStatistic.Amount, Direction.Net),
        new(LogQuantity.ReactiveEnergy, PqdifCharacteristic.QIvlIntgPos, PqdifUnit.VarHours, LogStatistic.Amount, Direction.Import),
        new(LogQuantity.ReactiveEnergy, PqdifCharacteristic.QIvlIntgNeg, PqdifUnit.VarHours, LogStatistic.Amount, Direction.Export),
        new(LogQuantity.ApparentEnergy, PqdifCharacteristic.SIntg, PqdifUnit.VoltAmpereHours, LogStatistic.Counter, Direction.Net),
        new(LogQuantity.ApparentEnergy, PqdifCharacteristic.SIvlIntg, PqdifUnit.VoltAmpereHours, LogStatistic.Amount, Direction.Net),
    ];

    private enum Direction
    {
        Net,
        Import,
        Export,
    }

    /// <summary>The column that a series is; with the factor that brings it to the column's base unit.</summary>
    /// <param name="channel">The channel's definition.</param>
    /// <param name="series">The series' definition.</param>
    /// <param name="order">Order of a harmonic by the channel's group or frequency; 0 for none.</param>
    /// <param name="name">Name of the column.</param>
    public static (LogColumn Column, double Factor) ColumnOf(PqdifChannelDefinition channel, PqdifSeriesDefinition series, int order, string name)
    {
        var statistic = StatisticOf(series.ValueType);
        var place = PqdifPhase.PlaceOf(channel.Phase);
        if (statistic is { } known && place is { } at)
        {
            if (IsAngle(series.ValueType) && series.Units == PqdifUnit.Degrees && order == 0
                && channel.Measured is PqdifUnit.MeasuredVoltage or PqdifUnit.MeasuredCurrent)
            {
                return (new LogColumn(name, channel.Measured == PqdifUnit.MeasuredVoltage ? LogQuantity.VoltageAngle : LogQuantity.CurrentAngle, at, known), 1);
            }

            if (!IsAngle(series.ValueType) && QuantityOf(channel, series, order) is { } found)
            {
                var column = new LogColumn(name, found.Quantity, at, series.ValueType == PqdifValueType.Val ? found.Value : known)
                {
                    Order = order, IsExport = found.IsExport,
                };
                return (column, found.Factor);
            }
        }

        return (new LogColumn(name, LogQuantity.Other, place ?? LogPlace.Whole, statistic ?? LogStatistic.Instant) { OtherUnit = PqdifUnit.SymbolOf(series.Units) }, 1);
    }

    /// <summary>The series that holds a column.</summary>
    /// <param name="column">The column.</param>
    /// <param name="hasExport">True when the log has the energy of the other direction for itself: then this one is toward the load alone.</param>
    public static PqdifLogSeries SeriesOf(LogColumn column, bool hasExport)
    {
        var valueType = ValueTypeOf(column.Statistic);
        if (column is { Quantity: LogQuantity.VoltageAngle or LogQuantity.CurrentAngle, IsExport: false, Order: 0 } && column.Statistic <= LogStatistic.Instant)
        {
            var isVoltage = column.Quantity == LogQuantity.VoltageAngle;
            var phase = PqdifPhase.Of(column.Place, PqdifPhase.None);
            return new PqdifLogSeries(
                Titled(isVoltage ? "Voltage angle" : "Current angle", phase), column.Name, PqdifQuantityType.Phasor,
                isVoltage ? PqdifUnit.MeasuredVoltage : PqdifUnit.MeasuredCurrent, PqdifCharacteristic.AngleFund, phase, PqdifUnit.Degrees, AngleTypeOf(column.Statistic));
        }

        if (EnergyOf(column, hasExport) is { } energy)
        {
            var phase = PqdifPhase.Of(column.Place, PqdifPhase.Total);
            var words = energy.Quantity switch { LogQuantity.ActiveEnergy => "Active energy", LogQuantity.ReactiveEnergy => "Reactive energy", _ => "Apparent energy" };
            var way = energy.Direction switch { Direction.Import => " import", Direction.Export => " export", _ => "" };
            return new PqdifLogSeries(
                Titled(words + way, phase), column.Name, PqdifQuantityType.Valuelog, PqdifUnit.MeasuredEnergy, energy.Characteristic, phase, energy.Units, valueType);
        }

        var entry = s_entries.FirstOrDefault(entry => entry.Quantity == column.Quantity);
        var isHarmonic = column.Quantity is LogQuantity.VoltageHarmonic or LogQuantity.CurrentHarmonic;
        if (entry is not null && !column.IsExport && column.Statistic <= LogStatistic.Instant
            && (isHarmonic ? column.Order is > 0 and <= short.MaxValue : column.Order == 0))
        {
            var phase = PqdifPhase.Of(column.Place, entry.Measured == PqdifUnit.MeasuredPower ? PqdifPhase.Total : PqdifPhase.None);
            var words = isHarmonic ? FormattableString.Invariant($"{entry.Words} {column.Order}") : entry.Words;
            return new PqdifLogSeries(
                Titled(words, phase), column.Name, PqdifQuantityType.Valuelog, entry.Measured, entry.Characteristic, phase, entry.Units, valueType, column.Order);
        }

        return Other(column.Name, column.Place, valueType, column.Quantity == LogQuantity.Other ? column.OtherUnit : LogUnit.Of(column.Quantity));
    }

    /// <summary>A series that the standard has no words for: its name says what it is.</summary>
    /// <param name="name">Name of the column.</param>
    /// <param name="place">Where it belongs.</param>
    /// <param name="valueType">What its values are.</param>
    /// <param name="unit">Its unit; one that the standard doesn't have goes into the name.</param>
    public static PqdifLogSeries Other(string name, LogPlace place, Guid valueType, string unit)
    {
        var code = PqdifUnit.Of(unit);
        var title = code is null ? $"{name} [{unit}]" : name;
        return new PqdifLogSeries(
            title, title, PqdifQuantityType.Valuelog, PqdifUnit.MeasuredNone, PqdifCharacteristic.None, PqdifPhase.Of(place, PqdifPhase.None), code ?? PqdifUnit.None, valueType);
    }

    /// <summary>True for energy back to the supply, where the standard has words for it.</summary>
    public static bool IsExportedEnergy(LogColumn column) => column.IsExport && EnergyOf(column, hasExport: true) is not null;

    /// <summary>True for angles.</summary>
    public static bool IsAngle(Guid valueType) => valueType == PqdifValueType.Phaseangle || valueType == PqdifValueType.PhaseangleAvg
        || valueType == PqdifValueType.PhaseangleMin || valueType == PqdifValueType.PhaseangleMax;

    /// <summary>What a series says of its interval; null when logs have no word for it.</summary>
    public static LogStatistic? StatisticOf(Guid valueType)
    {
        if (valueType == PqdifValueType.Avg || valueType == PqdifValueType.PhaseangleAvg) return LogStatistic.Mean;
        if (valueType == PqdifValueType.Min || valueType == PqdifValueType.PhaseangleMin) return LogStatistic.Minimum;
        if (valueType == PqdifValueType.Max || valueType == PqdifValueType.PhaseangleMax) return LogStatistic.Maximum;
        return valueType == PqdifValueType.Val || valueType == PqdifValueType.Inst || valueType == PqdifValueType.Phaseangle ? LogStatistic.Instant : null;
    }

    private static Guid ValueTypeOf(LogStatistic statistic) => statistic switch
    {
        LogStatistic.Mean => PqdifValueType.Avg,
        LogStatistic.Minimum => PqdifValueType.Min,
        LogStatistic.Maximum => PqdifValueType.Max,
        _ => PqdifValueType.Val,
    };

    private static Guid AngleTypeOf(LogStatistic statistic) => statistic switch
    {
        LogStatistic.Mean => PqdifValueType.PhaseangleAvg,
        LogStatistic.Minimum => PqdifValueType.PhaseangleMin,
        LogStatistic.Maximum => PqdifValueType.PhaseangleMax,
        _ => PqdifValueType.Phaseangle,
    };

    private static string Titled(string words, uint phase) => phase == PqdifPhase.None ? words : $"{words} {PqdifPhase.NameOf(phase)}";

    private static EnergyEntry? EnergyOf(LogColumn column, bool hasExport)
    {
        if (column.Order != 0) return null;
        var isAmount = column.Statistic == LogStatistic.Amount;
        return s_energies.FirstOrDefault(entry => entry.Quantity == column.Quantity && (entry.Statistic == LogStatistic.Amount) == isAmount
            && entry.Direction == (column.IsExport ? Direction.Export : hasExport ? Direction.Import : Direction.Net));
    }

    private static (LogQuantity Quantity, LogStatistic Value, bool IsExport, double Factor)? QuantityOf(PqdifChannelDefinition channel, PqdifSeriesDefinition series, int order)
    {
        foreach (var energy in s_energies)
        {
            if (order == 0 && energy.Characteristic == series.Characteristic && energy.Units == series.Units)
                return (energy.Quantity, energy.Statistic, energy.Direction == Direction.Export, 1);
        }

        foreach (var entry in s_entries)
        {
            var isHarmonic = entry.Quantity is LogQuantity.VoltageHarmonic or LogQuantity.CurrentHarmonic;
            if (isHarmonic != order > 0) continue;
            // A frequency is one, whatever it was measured on.
            if (entry.Measured != channel.Measured && entry.Quantity != LogQuantity.Frequency) continue;
            // Version 1.0 has no characteristics: volts and amperes in a log are rms values.
            var isPlain = series.Characteristic == PqdifCharacteristic.None && (entry.Quantity is LogQuantity.Voltage or LogQuantity.Current);
            if (entry.Characteristic != series.Characteristic && !isPlain) continue;
            if (entry.Units == series.Units) return (entry.Quantity, LogStatistic.Instant, false, 1);
            if (entry.Units == PqdifUnit.Percent && series.Units == PqdifUnit.PerUnit) return (entry.Quantity, LogStatistic.Instant, false, 100);
            if (entry.Units == PqdifUnit.None && series.Units == PqdifUnit.PerUnit) return (entry.Quantity, LogStatistic.Instant, false, 1);
        }

        return null;
    }

    private sealed record Entry(LogQuantity Quantity, string Words, uint Measured, Guid Characteristic, uint Units);

    private sealed record EnergyEntry(LogQuantity Quantity, Guid Characteristic, uint Units, LogStatistic Statistic, Direction Direction);
}
