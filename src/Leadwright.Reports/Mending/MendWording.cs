using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Mending;
using Leadwright.Core.Mending.Answers;
using Leadwright.Core.Wording;
using Leadwright.Reports.Guarding;

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
        var phases = Phases(correction.Clamps);
        var what = correction.Kind switch
        {
            CorrectionKind.ClampReversed => correction.Clamps.Length > 1
                ? Say.Of("mend.clamps-faced-the-source", "Clamps {clamps} faced the source: the sign of their watts and vars was changed.", ("clamps", clamps))
                : Say.Of("mend.clamp-faced-the-source", "Clamp {clamps} faced the source: the sign of its watts and vars was changed.", ("clamps", clamps)),
            CorrectionKind.ClampsExchanged or CorrectionKind.ClampsRotated => correction.Basis == CorrectionBasis.Exact
                ? Say.Of("mend.the-readings-of-were-put", "The readings of {clamps} were put back to their conductors, watts and vars turned by the angle between the voltages.", ("clamps", clamps))
                : Say.Of("mend.the-currents-of-were-put", "The currents of {clamps} were put back to their conductors; without vars their watts rest on the learnt power factor.", ("clamps", clamps)),
            CorrectionKind.LeadsExchanged => correction.Basis == CorrectionBasis.Exact
                ? Say.Of("mend.the-voltages-of-were-put", "The voltages of {leads} were put back to their conductors, watts and vars turned by the angle between them.", ("leads", leads))
                : Say.Of("mend.the-voltages-of-were-put-2", "The voltages of {leads} were put back to their conductors; without vars the watts rest on the learnt power factor.", ("leads", leads)),
            CorrectionKind.NeutralLead => Say.Of("mend.the-neutral-lead-was-not", "The neutral lead was not on the neutral: voltages were worked back to it, and watts and vars where it stood on another conductor. While it was in the air watts and vars stand as written, and what they may be off by is in the interval of the energy."),
            // Divided by a tenth is arithmetic that nobody does in his head.
            CorrectionKind.RatioWrong when correction.Factor is > 0 and < 1 => Say.Of("mend.readings-of-were-multiplied-by", "Readings of {clamps} were multiplied by {factor}: the ratio that was set showed too little.", ("clamps", clamps), ("factor", Say.Number(1 / correction.Factor, "0.###"))),
            CorrectionKind.RatioWrong => Say.Of("mend.readings-of-were-divided-by", "Readings of {clamps} were divided by {factor}, the ratio that was set wrong.", ("clamps", clamps), ("factor", Say.Number(correction.Factor, "0.###"))),
            CorrectionKind.ClampOpening => Say.Of("mend.readings-of-were-divided-by-2", "Readings of {clamps} were divided by the share of the current that the open jaw showed, down to {factor} %.", ("clamps", clamps), ("factor", Say.Number(100 * correction.Factor, "0"))),
            CorrectionKind.LeadOpen => Say.Of("mend.the-voltage-of-was-rebuilt", "The voltage of {leads} was rebuilt from the other leads, with the ratio learnt while it was on.", ("leads", leads)),
            CorrectionKind.CurrentFromOthers => Say.Of("mend.the-current-of-was-had", "The current of {clamps} was had from the others: on these conductors the currents add up to zero.", ("clamps", clamps)),
            // Where only the total was written there is no phase to name.
            CorrectionKind.PowerFromCurrent when correction.Clamps.IsEmpty && correction.IsGuess => Say.Of("mend.the-total-watts-were-guessed", "The total watts were guessed from the currents, with an ordinary power factor: nothing good was there to learn from."),
            CorrectionKind.PowerFromCurrent when correction.Clamps.IsEmpty => Say.Of("mend.the-total-watts-were-rebuilt", "The total watts were rebuilt from the currents, as the good part teaches how they go together."),
            CorrectionKind.PowerFromShare when correction.Clamps.IsEmpty && correction.IsGuess => Say.Of("mend.the-total-watts-were-guessed-2", "The total watts are what was written, as a guess that may be off by all of it: there was no current to go by and nothing good to learn from."),
            CorrectionKind.PowerFromShare when correction.Clamps.IsEmpty => Say.Of("mend.the-total-watts-were-rebuilt-2", "The total watts were rebuilt from the hour, as learnt from the good part."),
            CorrectionKind.PowerFromCurrent when correction.IsGuess => Say.Of("mend.the-power-of-was-guessed", "The power of {phases} was guessed from the current, with the power factor of the other phases or an ordinary one: nothing good was there to learn from.", ("phases", phases)),
            CorrectionKind.PowerFromShare when correction.IsGuess => Say.Of("mend.the-power-of-was-guessed-2", "The power of {phases} was guessed as the mean of the other phases: nothing good was there to learn from.", ("phases", phases)),
            CorrectionKind.PowerFromCurrent => Say.Of("mend.the-power-of-was-rebuilt", "The power of {phases} was rebuilt from the current, with the power factor learnt from the good part.", ("phases", phases)),
            CorrectionKind.PowerFromShare => Say.Of("mend.the-power-of-was-rebuilt-2", "The power of {phases} was rebuilt from the other phases and the hour, as learnt from the good part.", ("phases", phases)),
            CorrectionKind.OverRange => Say.Of("mend.there-was-more-current-than", "There was more current than {clamps} shows: the watts are at least what was shown, and how much more is estimated, from the shape of waves whose crests are cut off or else from the other lines and the values below the end of the range.", ("clamps", clamps)),
            CorrectionKind.NoData => Say.Of("mend.intervals-without-rows-were-filled", "Intervals without rows were filled from the same hours of like days and what stood at both ends."),
            _ => Say.Of("mend.the-recorders-clock-was-set", "The recorder's clock was set: no time is counted twice and none as missing."),
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
        var phases = Phases(entry.Clamps);
        var both = List(entry.Leads.Select(lead => lead.ToString()).Concat(entry.Clamps.Select(clamp => clamp.ToString())));
        return entry.Reason switch
        {
            UnmendableReason.NoPower => Say.Of("mend.the-recording-has-no-watts", "The recording has no watts. From rms volts and amperes alone energy can't be had: the angle between them is not in it."),
            UnmendableReason.TotalsOnly => Say.Of("mend.only-totals-were-written-what", "Only totals were written: what one phase read wrongly is not in them. While a lead or a clamp was not in place the total is estimated from the currents, as far as they are right."),
            UnmendableReason.NoVars => Say.Of("mend.watts-were-written-without-signed", "Watts were written without signed vars: what {both} read on the wrong conductor can't be turned back, only estimated.", ("both", both)),
            UnmendableReason.VoltageQuality => Say.Of("mend.dips-harmonics-flicker-and-unbalance", "Dips, harmonics, flicker and unbalance of {leads} can't be had: no instrument saw that voltage.", ("leads", leads)),
            UnmendableReason.CurrentQuality => Say.Of("mend.harmonics-and-the-largest-values", "Harmonics and the largest values of the current of {clamps} can't be had: no clamp saw it.", ("clamps", clamps)),
            UnmendableReason.BeyondRange => Say.Of("mend.the-current-of-beyond-the", "The current of {clamps} beyond the range is lost; its largest value is not known.", ("clamps", clamps)),
            UnmendableReason.RecorderOff => Say.Of("mend.what-happened-while-the-recorder", "What happened while the recorder was off is not known: its peak, its events, and whether the supply was on."),
            UnmendableReason.NothingToLearnFrom => Say.Of("mend.there-is-too-little-of", "There is too little of the recording that is good to learn {watts} from: what stands there is a guess within wide bounds.", ("watts", (clamps.Length == 0 ? Say.Of("mend.the-power", "the power") : Say.Of("mend.the-power-of", "the power of {phases}", ("phases", phases))))),
            UnmendableReason.TooLongToTry => Say.Of("mend.too-long-to-try", "How well {watts} could be rebuilt was not measured: what is missing is longer than the good part, and can't be tried out in it. The uncertainty is assumed.", ("watts", (clamps.Length == 0 ? Say.Of("mend.the-power", "the power") : Say.Of("mend.the-power-of", "the power of {phases}", ("phases", phases))))),
            UnmendableReason.RatioSideOpen => Say.Of("mend.which-side-of-the-ratio", "The ratio of {clamps} changed at once, and which of the two was right does not show in the readings: the interval holds both. The clamps' settings, or the notes of the visit, settle it.", ("clamps", clamps)),
            _ => Say.Of("mend.more-than-one-hook-up", "More than one hook-up fits the readings, and they give different energies: the interval holds them all. A check at the panel settles it."),
        };
    }

    /// <summary>What is said of an energy where nothing tells whether leads and clamps were in place.</summary>
    internal const string TakenForGranted = "The interval takes for granted that leads and clamps were in place all the time: what was written does not tell.";

    /// <summary>What is said where there are no corrections.</summary>
    /// <param name="report">The answer.</param>
    internal static string NothingDone(MendReport report) => report.HasUnmendableFault ? "Nothing of what was found could be mended."
        : report.IsUnjudged ? "Nothing was mended: whether leads and clamps were in place can't be judged from what was written." : "There was nothing to mend.";

    /// <summary>From which findings a correction follows; empty for one that is itself the answer to a finding.</summary>
    /// <param name="correction">The correction.</param>
    /// <param name="causes">The findings.</param>
    /// <param name="when">Says the time of a finding.</param>
    public static string Follows(Correction correction, CorrectionCauses causes, Func<GuardSpan, string> when)
    {
        ArgumentNullException.ThrowIfNull(correction);
        ArgumentNullException.ThrowIfNull(causes);
        ArgumentNullException.ThrowIfNull(when);
        var findings = causes.Of(correction);
        if (findings.IsEmpty) return "";
        var says = Say.Of("mend.follows-from", "Follows from: {findings}.", ("findings", string.Join("; ", findings.Select(span => $"{SpanWording.WhatOf(span).TrimEnd('.')} ({when(span)})"))));
        return causes.HoldsChange(correction.From, correction.To) ? $"{says} {Say.Of("mend.interval-of-change", "The row in which it changed was rebuilt as well.")}" : says;
    }

    /// <summary>What the corrections without a figure of their own changed together; empty where nothing is known of it.</summary>
    /// <param name="energies">The energies of the corrections.</param>
    public static string Together(CorrectionEnergies energies)
    {
        ArgumentNullException.ThrowIfNull(energies);
        return double.IsNaN(energies.TogetherWattHours) ? ""
            : Say.Of("mend.changes-the-energy-together", "The corrections without a figure of their own change the energy by {energy} kWh together.", ("energy", EnergyPlaces.Of(energies.TogetherWattHours / 1000).Text(energies.TogetherWattHours / 1000)));
    }

    private static string Measured(Correction correction)
    {
        var (change, spread) = (correction.WattHours / 1000, correction.UncertaintyWattHours / 1000);
        var places = EnergyPlaces.Of(change, spread);
        var (energy, uncertainty) = (places.Text(change), places.Text(spread));
        if (correction.UncertaintyWattHours == 0 && correction.Basis == CorrectionBasis.Exact) return Say.Of("mend.changes-the-energy", "This changes the energy by {energy} kWh.", ("energy", energy));
        return correction.Trials > 0
            ? Say.Of("mend.changes-the-energy-measured", "This changes the energy by {energy} kWh, give or take {uncertainty} kWh (one standard deviation, of {trials} such holes made in the good part).", ("energy", energy), ("uncertainty", uncertainty), ("trials", correction.Trials))
            : Say.Of("mend.changes-the-energy-assumed", "This changes the energy by {energy} kWh, give or take {uncertainty} kWh, assumed.", ("energy", energy), ("uncertainty", uncertainty));
    }

    // A clamp has amperes; the power is that of its phase.
    private static string Phases(ImmutableArray<Clamp> clamps)
    {
        var numbers = clamps.Select(clamp => $"{(int)clamp + 1}").ToList();
        return numbers.Count == 1 ? Say.Of("mend.phase", "phase {number} (P{number})", ("number", numbers[0]))
            : Say.Of("mend.phases", "phases {numbers} ({powers})", ("numbers", List(numbers)), ("powers", List(numbers.Select(number => $"P{number}"))));
    }

    private static string List(IEnumerable<string> names)
    {
        var all = names.ToList();
        return all.Count < 2 ? string.Concat(all) : Say.Of("mend.and", "{list} and {last}", ("list", string.Join(", ", all.SkipLast(1))), ("last", all[^1]));
    }
}
