using Leadwright.Core.Integrity;
using Leadwright.Core.Wording;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Guarding;

/// <summary>Says of a span, in a sentence or two, what was wrong and how it shows.</summary>
public static class SpanWording
{
    /// <summary>A voltage that moved by less did so by itself.</summary>
    private const double SeenInSizes = 0.03;

    /// <summary>The sentence.</summary>
    /// <param name="span">The span.</param>
    public static string Of(GuardSpan span)
    {
        ArgumentNullException.ThrowIfNull(span);
        var says = $"{WhatOf(span)} {How(span)}".Trim();
        return span.IsDoubtful ? Say.Of("span.doubtful", "Doubtful: {says}", ("says", says)) : says;
    }

    /// <summary>The sentences, with by which ratio a clamp read wrong where the history of the hook-up holds it.</summary>
    /// <param name="span">The span.</param>
    /// <param name="timeline">The history of the hook-up.</param>
    public static string Of(GuardSpan span, HookupTimeline timeline)
    {
        ArgumentNullException.ThrowIfNull(span);
        ArgumentNullException.ThrowIfNull(timeline);
        if (span.Kind != SpanKind.RatioWrong || timeline.Pieces.IsEmpty) return Of(span);
        var hookup = timeline.At(span.From + (span.Length / 2)).Hookup;
        double[] scales = [.. span.Clamps.Select(clamp => hookup.Clamps.TryGetValue(clamp, out var place) ? place.Scale : 1).Distinct()];
        return scales is [var scale] && scale != 1 ? $"{Of(span)} {Say.Of("span.it-read", "It read {ratio}.", ("ratio", Phrases.Ratio(scale)))}" : Of(span);
    }

    /// <summary>The first sentence alone: what was wrong, without how it shows.</summary>
    /// <param name="span">The span.</param>
    public static string WhatOf(GuardSpan span)
    {
        ArgumentNullException.ThrowIfNull(span);
        var leads = List(span.Leads.Select(lead => lead.ToString()));
        var clamps = List(span.Clamps.Select(clamp => clamp.ToString()));
        return span.Kind switch
        {
            SpanKind.ClampReversed => Say.Of("span.clamp-faced-the-source", "Clamp {clamps} faced the source.", ("clamps", clamps)),
            SpanKind.ClampsExchanged => span.Clamps.Length == 1 ? Say.Of("span.clamp-was-on-another-line", "Clamp {clamps} was on another line.", ("clamps", clamps)) : Say.Of("span.clamps-were-on-each-others", "Clamps {clamps} were on each other's conductor.", ("clamps", clamps)),
            SpanKind.ClampsRotated => Say.Of("span.clamps-were-rotated-each-was", "Clamps {clamps} were rotated: each was on the next conductor.", ("clamps", clamps)),
            SpanKind.ClampOpen when span.Gain is [{ Factor: < 1 }, ..] => Say.Of("span.clamp-jaw-not-closed", "The jaw of clamp {clamps} was not closed.", ("clamps", clamps)),
            SpanKind.ClampOpen when !span.Gain.IsEmpty => Say.Of("span.clamp-opened-slowly-down-to", "Clamp {clamps} opened slowly, down to {percent} of the current.", ("clamps", clamps), ("percent", Percent(span.Gain[^1].Factor))),
            SpanKind.ClampOpen => Say.Of("span.clamp-was-open-or-off", "Clamp {clamps} was open or off.", ("clamps", clamps)),
            SpanKind.LeadsExchanged => span.Leads.Length == 1 ? Say.Of("span.lead-was-on-another-line", "Lead {leads} was on another line.", ("leads", leads)) : Say.Of("span.leads-were-on-each-others", "Leads {leads} were on each other's conductor.", ("leads", leads)),
            SpanKind.LeadOpen => Say.Of("span.lead-was-off", "Lead {leads} was off.", ("leads", leads)),
            SpanKind.LeadOnNeutral => Say.Of("span.lead-was-on-the-neutral", "Lead {leads} was on the neutral.", ("leads", leads)),
            SpanKind.LeadsOnSameConductor => Say.Of("span.leads-were-on-one-conductor", "Leads {leads} were on one conductor.", ("leads", leads)),
            SpanKind.ClampsOnSameConductor => Say.Of("span.clamps-were-on-one-conductor", "Clamps {clamps} were on one conductor.", ("clamps", clamps)),
            SpanKind.ClampOnNeutral => Say.Of("span.clamp-was-on-the-neutral", "Clamp {clamps} was on the neutral.", ("clamps", clamps)),
            SpanKind.NeutralOpen => Say.Of("span.the-neutral-lead-was-off", "The neutral lead was off."),
            SpanKind.NeutralExchanged => Say.Of("span.leads-were-on-each-others", "Leads {leads} were on each other's conductor.", ("leads", leads)),
            SpanKind.RotationReversed => Say.Of("span.the-voltages-came-in-the", "The voltages came in the other order than the rotation indicator showed."),
            SpanKind.RatioWrong => Say.Of("span.the-ratio-or-range-of", "The ratio or range of clamp {clamps} was set wrong.", ("clamps", clamps)),
            SpanKind.ServiceMismatch => Say.Of("span.the-readings-cant-come-from", "The readings can't come from the stated service."),
            SpanKind.NoData => span.Finding.Relation == SpanRelation.CounterRestarted
                ? Say.Of("span.the-recorder-was-off-its", "The recorder was off: its counter of energy started again.") : Say.Of("span.the-recorder-was-off-or", "The recorder was off, or lost what it had stored."),
            SpanKind.Outage => Outage(span, leads),
            SpanKind.OverRange when span.Clamps.IsEmpty => Say.Of("span.the-voltage-stood-at-the", "The voltage of {leads} stood at the end of its range: there was more than it shows.", ("leads", leads)),
            SpanKind.OverRange => Say.Of("span.clamp-stood-at-the-end", "Clamp {clamps} stood at the end of its range: there was more current than it shows.", ("clamps", clamps)),
            SpanKind.Stuck when IsWhole(span) => Say.Of("span.the-recorder-stood-still", "The recorder stood still: {channels} each repeated one value.", ("channels", List(span.Leads.Select(lead => lead.ToString()).Concat(span.Clamps.Select(clamp => clamp.ToString()))))),
            SpanKind.Stuck => Say.Of("span.repeated-one-value", "{channel} repeated one value.", ("channel", (leads.Length > 0 ? Say.Of("span.the-voltage-of", "The voltage of {leads}", ("leads", leads)) : Say.Of("span.clamp", "Clamp {clamps}", ("clamps", clamps))))),
            _ => span.Finding.Seconds < 0 ? Say.Of("span.the-recorders-clock-was-set", "The recorder's clock was set back.") : Say.Of("span.the-recorders-clock-was-set-2", "The recorder's clock was set forward: no time is missing."),
        };
    }

    private static string Outage(GuardSpan span, string leads) => span.Finding.Relation switch
    {
        SpanRelation.UpstreamPhaseLost => Say.Of("span.the-supply-lost-a-phase", "The supply lost a phase on the high-voltage side; {leads} show what was left.", ("leads", leads)),
        SpanRelation.NeutralOfSupplyLost => Say.Of("span.the-supplys-neutral-was-lost", "The supply's neutral was lost: some loads got too much voltage, others too little."),
        _ => span.Leads.Length == 1 ? Say.Of("span.the-supply-was-gone-on", "The supply was gone on the line of {leads}.", ("leads", leads)) : Say.Of("span.the-supply-was-gone", "The supply was gone."),
    };

    private static string How(GuardSpan span)
    {
        var finding = span.Finding;
        var unit = span.Leads.IsEmpty ? "A" : "V";
        var values = double.IsNaN(finding.Before) || double.IsNaN(finding.Within) || span.Kind is SpanKind.NoData
            ? "" : Say.Of("span.became", "{before} {unit} became {within} {unit}", ("before", Number(finding.Before)), ("unit", unit), ("within", Number(finding.Within)));
        return finding.Relation switch
        {
            SpanRelation.VoltageWentCurrentStayed => double.IsNaN(finding.CurrentRatio)
                ? Follows(values, Say.Of("span.and-nothing-else-noticed", "and nothing else noticed"))
                // Where hardly any flowed before, a share of it says nothing.
                : finding.CurrentRatio > 10 ? Follows(values, Say.Of("span.while-the-current-flowed", "while a current flowed in that phase"))
                : Follows(values, Say.Of("span.while-the-current-of-that", "while the current of that phase went on at {percent} of what it was", ("percent", Percent(finding.CurrentRatio)))),
            SpanRelation.VoltageAndCurrentWent => Follows(values, Say.Of("span.and-the-current-went-with", "and the current went with it")),
            SpanRelation.UpstreamPhaseLost => Say.Of("span.two-lines-stood-at-about", "What was left of the voltages fell into one line, as with one phase gone on the high-voltage side."),
            SpanRelation.NeutralOfSupplyLost => Say.Of("span.voltages-to-neutral-went-apart", "Voltages to neutral went apart while those between the lines stayed."),
            // On wye and split services the sizes of the voltages tell nothing of the neutral lead.
            SpanRelation.VoltageProportions when span.Kind == SpanKind.NeutralOpen && !(Math.Abs(finding.Within - finding.Before) > SeenInSizes * finding.Before) =>
                Say.Of("span.the-voltages-answered-as", "The voltages answered to the currents as they do without a neutral lead."),
            SpanRelation.VoltageProportions => Follows(values, Say.Of("span.in-the-proportions-that-such", "in the proportions that such a hook-up makes")),
            SpanRelation.TwoChannelsAlike => Say.Of("span.the-two-read-the-same", "The two read the same in every interval."),
            SpanRelation.PowerAngleTurned => double.IsNaN(finding.TurnDegrees) || finding.TurnDegrees == 0
                ? Say.Of("span.the-readings-changed", "The readings changed all at once, as when leads or clamps are moved.") : Say.Of("span.the-angle-of-the-power-2", "The angle of the power turned by {turnDegrees} degrees all at once.", ("turnDegrees", Number(finding.TurnDegrees))),
            SpanRelation.TotalAway => Say.Of("span.the-total-power-is-not", "The total power is not what the voltages and currents come to."),
            SpanRelation.CurrentWentVoltageUnmoved => Follows(values, Say.Of("span.and-the-voltage-did-not", "and the voltage did not rise as it does when load goes")),
            SpanRelation.CurrentWentAlone => Follows(values, Say.Of("span.by-more-than-the-other", "by more than the other phases and the hour explain")),
            SpanRelation.CurrentScaled => Follows(values, Say.Of("span.and-the-voltage-did-not-2", "and the voltage did not answer to the change")),
            SpanRelation.CurrentDrifted when span.Gain is [{ Factor: < 1 and var still }, ..] => Say.Of("span.it-showed-of-its-current", "It showed {percent} of its current, by how the voltages answered to it and to the other lines' currents.", ("percent", Percent(still))),
            SpanRelation.CurrentDrifted => Say.Of("span.the-voltage-answered-to-its", "It showed less and less of its current, by the answer of the voltage or beside the hours and lines that it goes with."),
            SpanRelation.CurrentsDoNotAddUp => Say.Of("span.the-currents-do-not-add", "The currents do not add up."),
            SpanRelation.ReadingsWeighed => Say.Of("span.so-say-the-readings-as", "So say the readings as a whole."),
            SpanRelation.ValuesPileUp => Say.Of("span.intervals-end-at-a", "{intervals} intervals end at {within} A.", ("intervals", finding.Intervals), ("within", Number(finding.Within))),
            SpanRelation.VoltageFallsOn => Say.Of("span.above-a-the-voltage-falls", "Above {within} A the voltage goes on falling and the current hardly rises: the crests of its waves are cut off.", ("within", Number(finding.Within))),
            SpanRelation.WavesCutFlat => Say.Of("span.the-tops-of-its-waves", "The tops of its waves are cut off flat at {within} {unit}.", ("within", Number(finding.Within)), ("unit", unit)),
            SpanRelation.ValueRepeated when IsWhole(span) => Say.Of("span.intervals-read-the-same", "{intervals} intervals read the same in all of them.", ("intervals", finding.Intervals)),
            SpanRelation.ValueRepeated => Say.Of("span.intervals-read-while-others-moved", "{intervals} intervals read {within} {unit} while others moved.", ("intervals", finding.Intervals), ("within", Number(finding.Within)), ("unit", unit)),
            SpanRelation.TimesMoved => double.IsNaN(finding.Seconds) ? "" : Say.Of("span.by-the-values-went", "By {length}; the values went on as from one interval to the next.", ("length", Length(Math.Abs(finding.Seconds)))),
            _ => "",
        };
    }

    // The whole row of a recorder that stood still.
    private static bool IsWhole(GuardSpan span) => span is { Leads.IsEmpty: false, Clamps.IsEmpty: false };

    private static string Follows(string values, string rest) => values.Length > 0 ? $"{values}, {rest}." : $"{char.ToUpperInvariant(rest[0])}{rest[1..]}.";

    private static string List(IEnumerable<string> names)
    {
        var all = names.ToList();
        return all.Count < 2 ? string.Concat(all) : Say.Of("span.and", "{list} and {last}", ("list", string.Join(", ", all.SkipLast(1))), ("last", all[^1]));
    }

    // 2 h 10 min, 37 min, 12 s: what is nothing is left out.
    internal static string Length(double seconds)
    {
        if (seconds < 60) return $"{Number(seconds)} s";
        var whole = (long)Math.Round(seconds);
        (long Count, string Unit)[] parts = [(whole / 3600, "h"), (whole / 60 % 60, "min"), (whole % 60, "s")];
        return string.Join(' ', parts.Where(part => part.Count > 0).Select(part => $"{part.Count} {part.Unit}"));
    }

    private static string Percent(double share) => $"{Say.Number(100 * share, "0")} %";

    private static string Number(double value) => Math.Abs(value) switch
    {
        >= 100 => Say.Number(value, "0"),
        >= 10 => Say.Number(value, "0.0"),
        _ => Say.Number(value, "0.##"),
    };
}
