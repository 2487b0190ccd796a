using System.Globalization;
using Leadwright.Core.Mending.Answers;

namespace Leadwright.Reports.Mending;

/// <summary>Says in a sentence or two what was mended, and what can't be.</summary>
public static class MendWording
{
    /// <summary>The sentence of a correction.</summary>
    /// <param name="correction">The correction.</param>
    public static string Of(Correction correction)
    {
        ArgumentNullException.ThrowIfNull(correction);
        var clamps = List(correction.Clamps.Select(clamp => clamp.ToString()));
        var leads = List(correction.Leads.Select(lead => lead.ToString()));
        var many = correction.Clamps.Length > 1;
        var what = correction.Kind switch
        {
            CorrectionKind.ClampReversed => $"Clamp{(many ? "s" : "")} {clamps} faced the source: the sign of {(many ? "their" : "its")} watts and vars was changed.",
            CorrectionKind.ClampsExchanged or CorrectionKind.ClampsRotated => correction.Basis == CorrectionBasis.Exact
                ? $"The readings of {clamps} were put back to their conductors, watts and vars turned by the angle between the voltages."
                : $"The currents of {clamps} were put back to their conductors; without vars their watts rest on the learnt power factor.",
            CorrectionKind.LeadsExchanged => correction.Basis == CorrectionBasis.Exact
                ? $"The voltages of {leads} were put back to their conductors, watts and vars turned by the angle between them."
                : $"The voltages of {leads} were put back to their conductors; without vars the watts rest on the learnt power factor.",
            CorrectionKind.NeutralLead => "The neutral lead was not on the neutral: voltages and powers were worked back to it.",
            CorrectionKind.RatioWrong => string.Create(CultureInfo.InvariantCulture, $"Readings of {clamps} were divided by {correction.Factor:0.###}, the ratio that was set wrong."),
            CorrectionKind.ClampOpening => string.Create(CultureInfo.InvariantCulture, $"Readings of {clamps} were divided by what the opening jaw still showed, {100 * correction.Factor:0} % at the end."),
            CorrectionKind.LeadOpen => $"The voltage of {leads} was rebuilt from the other leads, with the ratio learnt while it was on.",
            CorrectionKind.CurrentFromOthers => $"The current of {clamps} was had from the others: on these conductors the currents add up to zero.",
            CorrectionKind.PowerFromCurrent => $"The watts of {clamps} were rebuilt from the current, with the power factor learnt from the good part.",
            CorrectionKind.PowerFromShare => $"The watts of {clamps} were rebuilt from the other phases and the hour, as learnt from the good part.",
            CorrectionKind.OverRange => $"There was more current than {clamps} shows: its watts were rebuilt from the other phases and the hour, and are at least what was shown.",
            CorrectionKind.NoData => "Intervals without rows were filled from the same hours of like days and what stood at both ends.",
            _ => "The recorder's clock was set: no time is counted twice and none as missing.",
        };
        return double.IsNaN(correction.WattHours) ? what : $"{what} {Measured(correction)}";
    }

    /// <summary>The sentence of what can't be mended.</summary>
    /// <param name="entry">What can't.</param>
    public static string Of(Unmendable entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        var leads = List(entry.Leads.Select(lead => lead.ToString()));
        var clamps = List(entry.Clamps.Select(clamp => clamp.ToString()));
        var both = List(entry.Leads.Select(lead => lead.ToString()).Concat(entry.Clamps.Select(clamp => clamp.ToString())));
        return entry.Reason switch
        {
            UnmendableReason.NoPower => "The recording has no watts. From rms volts and amperes alone energy can't be had: the angle between them is not in it.",
            UnmendableReason.TotalsOnly => "Only totals were written: what one phase read wrongly is not in them, and the total can't be set right without it.",
            UnmendableReason.NoVars => $"Watts were written without signed vars: what {both} read on the wrong conductor can't be turned back, only estimated.",
            UnmendableReason.VoltageQuality => $"Dips, harmonics, flicker and unbalance of {leads} can't be had: no instrument saw that voltage.",
            UnmendableReason.CurrentQuality => $"Harmonics and the largest values of the current of {clamps} can't be had: no clamp saw it.",
            UnmendableReason.BeyondRange => $"The current of {clamps} beyond the range is lost; its largest value is not known.",
            UnmendableReason.RecorderOff => "What happened while the recorder was off is not known: its peak, its events, and whether the supply was on.",
            UnmendableReason.NothingToLearnFrom => $"There is too little of the recording that is good to learn {(clamps.Length == 0 ? "it" : $"the watts of {clamps}")} from: they are a guess within wide bounds.",
            _ => "More than one hook-up fits the readings, and they give different energies: the interval holds them all. A check at the panel settles it.",
        };
    }

    private static string Measured(Correction correction) => correction.Trials > 0
        ? string.Create(CultureInfo.InvariantCulture, $"{correction.WattHours / 1000:0.##} kWh, give or take {correction.UncertaintyWattHours / 1000:0.###} kWh (one standard deviation, of {correction.Trials} such holes made in the good part).")
        : string.Create(CultureInfo.InvariantCulture, $"{correction.WattHours / 1000:0.##} kWh, give or take {correction.UncertaintyWattHours / 1000:0.##} kWh, assumed.");

    private static string List(IEnumerable<string> names)
    {
        var all = names.ToList();
        return all.Count < 2 ? string.Concat(all) : $"{string.Join(", ", all.SkipLast(1))} and {all[^1]}";
    }
}
