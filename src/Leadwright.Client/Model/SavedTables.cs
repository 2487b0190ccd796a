using System.Globalization;
using System.Text;
using Leadwright.Client.Surveys;
using Leadwright.Core.Logs;
using Leadwright.Formats.Text;

namespace Leadwright.Client.Model;

/// <summary>What a screen shows as a table to save: RFC 4180, decimal point and times of the recorder's clock, whatever the screens are set to.</summary>
public static class SavedTables
{
    private const string Time = "yyyy-MM-ddTHH:mm:ss.fff";

    /// <summary>What the guard found, a span a row.</summary>
    public static string Of(GuardSheet guard)
    {
        ArgumentNullException.ThrowIfNull(guard);
        return Written([["from", "to", "kind", "channels", "confidence", "doubtful", "says"], .. guard.Spans.Select(span => (string[])
            [At(span.From), At(span.To), span.Kind, string.Join(' ', span.Channels), Number(span.Confidence), span.Doubtful ? "yes" : "no", span.Says])]);
    }

    /// <summary>Figures before and after the mending.</summary>
    public static string Of(FiguresSheet before, FiguresSheet after)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        List<string[]> rows = [["figure", "unit", "as_recorded", "mended"], ["energy", "kWh", Number(before.Kwh), Number(after.Kwh)]];
        for (var phase = 0; phase < Math.Max(before.PhaseKwh.Length, after.PhaseKwh.Length); phase++)
            rows.Add([string.Create(CultureInfo.InvariantCulture, $"energy_phase_{phase + 1}"), "kWh", Number(phase < before.PhaseKwh.Length ? before.PhaseKwh[phase] : null), Number(phase < after.PhaseKwh.Length ? after.PhaseKwh[phase] : null)]);
        rows.Add(["peak", "kW", Number(before.PeakKw), Number(after.PeakKw)]);
        for (var phase = 0; phase < Math.Min(before.PhasePeakKw.Length, after.PhasePeakKw.Length); phase++)
            rows.Add([string.Create(CultureInfo.InvariantCulture, $"peak_phase_{phase + 1}"), "kW", Number(before.PhasePeakKw[phase]), Number(after.PhasePeakKw[phase])]);
        rows.Add(["power_factor", "", Number(before.PowerFactor), Number(after.PowerFactor)]);
        for (var phase = 0; phase < Math.Min(before.PhasePowerFactor.Length, after.PhasePowerFactor.Length); phase++)
            rows.Add([string.Create(CultureInfo.InvariantCulture, $"power_factor_phase_{phase + 1}"), "", Number(before.PhasePowerFactor[phase]), Number(after.PhasePowerFactor[phase])]);
        rows.Add(["current_unbalance", "%", Number(before.CurrentUnbalancePercent), Number(after.CurrentUnbalancePercent)]);
        rows.Add(["voltage_unbalance", "%", Number(before.VoltageUnbalancePercent), Number(after.VoltageUnbalancePercent)]);
        return Written(rows);
    }

    /// <summary>The spectra of a moment, an order a column.</summary>
    public static string Of(MomentSheet moment)
    {
        ArgumentNullException.ThrowIfNull(moment);
        var most = moment.Spectra.Select(row => row.Percent.Length).DefaultIfEmpty(0).Max();
        return Written([
            ["at", "channel", "unit", "rms", "thd_percent", .. Enumerable.Range(1, most).Select(order => string.Create(CultureInfo.InvariantCulture, $"h{order}_percent"))],
            .. moment.Spectra.Select(row => (string[])[At(moment.At), row.Channel, row.Unit, Number(row.Rms), Number(row.DistortionPercent), .. row.Percent.Select(percent => Number(percent))])]);
    }

    private static string Written(IEnumerable<string[]> rows)
    {
        var text = new StringBuilder();
        foreach (var row in rows) text.AppendJoin(',', row.Select(CsvCell.Quoted)).Append("\r\n");
        return text.ToString();
    }

    private static string At(DateTime time) => RecordTime.Iso(time, Time);

    private static string Number(double? value) => value is { } number && double.IsFinite(number) ? number.ToString("R", CultureInfo.InvariantCulture) : "";
}
