using System.Globalization;
using System.Text.RegularExpressions;
using Leadwright.Core.Logs;
using Leadwright.Formats.Tables;

namespace Leadwright.Formats.Pqdif;

/// <summary>Which column of a measured table is which series of the standard, by the column's name.</summary>
/// <remarks>Names as in docs/formats/measured-tables.md: what, then the unit.</remarks>
internal static partial class PqdifTableColumns
{
    /// <summary>The series of a column; null for texts and times, which a value log can't hold.</summary>
    public static PqdifLogSeries? SeriesOf(TableColumn column)
    {
        if (column.Kind is TableColumnKind.Text or TableColumnKind.Time) return null;
        var name = column.Name;
        if (Known(name) is { } known) return PqdifLogMapping.SeriesOf(known, hasExport: known is { Quantity: LogQuantity.ActiveEnergy, IsExport: false });
        if (Spectrum().Match(name) is { Success: true } spectrum && PlaceOf(spectrum.Groups["channel"].Value) is { } place)
        {
            var order = int.Parse(spectrum.Groups["order"].Value, CultureInfo.InvariantCulture);
            return Of(name, place.IsVoltage, place.Place, spectrum.Groups["inter"].Length > 0 ? PqdifCharacteristic.SpectraIgroup : PqdifCharacteristic.SpectraHgroup,
                spectrum.Groups["unit"].Value, PqdifValueType.Avg, order);
        }

        if (Channel().Match(name) is { Success: true } channel && PlaceOf(channel.Groups["channel"].Value) is { } at && channel.Groups["what"].Value == "peak")
            return Of(name, at.IsVoltage, at.Place, PqdifCharacteristic.Peak, channel.Groups["unit"].Value, PqdifValueType.Max, 0);
        var underscore = name.LastIndexOf('_');
        var unit = underscore < 0 ? "" : name[(underscore + 1)..] switch { "percent" => "%", "s" => "s", var text when PqdifUnit.Of(text) is not null => text, _ => "" };
        return PqdifLogMapping.Other(name, LogPlace.Whole, PqdifValueType.Avg, unit);
    }

    private static PqdifLogSeries Of(string name, bool isVoltage, LogPlace place, Guid characteristic, string unit, Guid valueType, int order) => new(
        name, name, PqdifQuantityType.Valuelog, isVoltage ? PqdifUnit.MeasuredVoltage : PqdifUnit.MeasuredCurrent, characteristic,
        PqdifPhase.Of(place, PqdifPhase.None), PqdifUnit.Of(unit) ?? PqdifUnit.None, valueType, order);

    private static LogColumn? Known(string name)
    {
        switch (name)
        {
            case "frequency_Hz": return new LogColumn(name, LogQuantity.Frequency);
            case "u2_percent": return new LogColumn(name, LogQuantity.VoltageUnbalance);
            case "u0_percent": return new LogColumn(name, LogQuantity.ZeroSequenceUnbalance);
            case "i2_percent": return new LogColumn(name, LogQuantity.CurrentUnbalance);
            case "P_W": return new LogColumn(name, LogQuantity.ActivePower);
            case "PF": return new LogColumn(name, LogQuantity.PowerFactor);
            case "import_Wh": return new LogColumn(name, LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount);
            case "export_Wh": return new LogColumn(name, LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount) { IsExport = true };
        }

        if (Phase().Match(name) is { Success: true } phase)
        {
            var place = (LogPlace)(phase.Groups["phase"].Value[0] - '0');
            return phase.Groups["what"].Value switch
            {
                "P" => new LogColumn(name, LogQuantity.ActivePower, place),
                "S" => new LogColumn(name, LogQuantity.ApparentPower, place),
                "PF" => new LogColumn(name, LogQuantity.PowerFactor, place),
                _ => new LogColumn(name, LogQuantity.DisplacementFactor, place),
            };
        }

        if (Channel().Match(name) is not { Success: true } channel || PlaceOf(channel.Groups["channel"].Value) is not { } at) return null;
        var (rms, crest, distortion) = at.IsVoltage
            ? (LogQuantity.Voltage, LogQuantity.VoltageCrest, LogQuantity.VoltageDistortion)
            : (LogQuantity.Current, LogQuantity.CurrentCrest, LogQuantity.CurrentDistortion);
        return channel.Groups["what"].Value switch
        {
            "rms" => new LogColumn(name, rms, at.Place),
            "min" => new LogColumn(name, rms, at.Place, LogStatistic.Minimum),
            "max" => new LogColumn(name, rms, at.Place, LogStatistic.Maximum),
            "crest" => new LogColumn(name, crest, at.Place),
            "thd" => new LogColumn(name, distortion, at.Place),
            "pst" => new LogColumn(name, LogQuantity.ShortTermFlicker, at.Place),
            "plt" => new LogColumn(name, LogQuantity.LongTermFlicker, at.Place),
            "k_factor" when !at.IsVoltage => new LogColumn(name, LogQuantity.KFactor, at.Place),
            _ => null,
        };
    }

    private static (bool IsVoltage, LogPlace Place)? PlaceOf(string channel) => channel switch
    {
        "V1" => (true, LogPlace.Phase1),
        "V2" => (true, LogPlace.Phase2),
        "V3" => (true, LogPlace.Phase3),
        "V12" => (true, LogPlace.Pair12),
        "V23" => (true, LogPlace.Pair23),
        "V31" => (true, LogPlace.Pair31),
        "I1" => (false, LogPlace.Phase1),
        "I2" => (false, LogPlace.Phase2),
        "I3" => (false, LogPlace.Phase3),
        "IN" => (false, LogPlace.Neutral),
        _ => null,
    };

    [GeneratedRegex(@"\A(?<channel>[VI][1-3N][1-3]?)_(?<inter>i?)h(?<order>[0-9]{1,3})_(?<unit>V|A)\z", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture)]
    private static partial Regex Spectrum();

    [GeneratedRegex(@"\A(?<channel>[VI][1-3N][1-3]?)_(?<what>rms|min|max|peak|crest|thd|pst|plt|k_factor)(_(?<unit>V|A|percent))?\z", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture)]
    private static partial Regex Channel();

    [GeneratedRegex(@"\A(?<what>P|S|PF|DPF)(?<phase>[1-3])(_(W|VA))?\z", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture)]
    private static partial Regex Phase();
}
