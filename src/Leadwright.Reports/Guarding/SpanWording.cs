using System.Globalization;
using Leadwright.Core.Integrity;

namespace Leadwright.Reports.Guarding;

/// <summary>Says of a span, in a sentence or two, what was wrong and how it shows.</summary>
public static class SpanWording
{
    /// <summary>The sentence.</summary>
    /// <param name="span">The span.</param>
    public static string Of(GuardSpan span)
    {
        ArgumentNullException.ThrowIfNull(span);
        var says = $"{What(span)} {How(span)}".Trim();
        return span.IsDoubtful ? $"Doubtful: {says}" : says;
    }

    private static string What(GuardSpan span)
    {
        var leads = List(span.Leads.Select(lead => lead.ToString()));
        var clamps = List(span.Clamps.Select(clamp => clamp.ToString()));
        return span.Kind switch
        {
            SpanKind.ClampReversed => $"Clamp {clamps} faced the source.",
            SpanKind.ClampsExchanged => span.Clamps.Length == 1 ? $"Clamp {clamps} was on another line." : $"Clamps {clamps} were on each other's conductor.",
            SpanKind.ClampsRotated => $"Clamps {clamps} were rotated: each was on the next conductor.",
            SpanKind.ClampOpen when !span.Gain.IsEmpty => $"Clamp {clamps} opened slowly, down to {Percent(span.Gain[^1].Factor)} of the current.",
            SpanKind.ClampOpen => $"Clamp {clamps} was open or off.",
            SpanKind.LeadsExchanged => span.Leads.Length == 1 ? $"Lead {leads} was on another line." : $"Leads {leads} were on each other's conductor.",
            SpanKind.LeadOpen => $"Lead {leads} was off.",
            SpanKind.LeadOnNeutral => $"Lead {leads} was on the neutral.",
            SpanKind.LeadsOnSameConductor => $"Leads {leads} were on one conductor.",
            SpanKind.ClampsOnSameConductor => $"Clamps {clamps} were on one conductor.",
            SpanKind.ClampOnNeutral => $"Clamp {clamps} was on the neutral.",
            SpanKind.NeutralOpen => "The neutral lead was off.",
            SpanKind.NeutralExchanged => $"Leads {leads} were on each other's conductor.",
            SpanKind.RotationReversed => "The voltages came in the other order than the rotation indicator showed.",
            SpanKind.RatioWrong => $"The ratio or range of clamp {clamps} was set wrong.",
            SpanKind.ServiceMismatch => "The readings can't come from the stated service.",
            SpanKind.NoData => span.Finding.Relation == SpanRelation.CounterRestarted
                ? "The recorder was off: its counter of energy started again." : "The recorder was off, or lost what it had stored.",
            SpanKind.Outage => Outage(span, leads),
            SpanKind.OverRange => $"Clamp {clamps} stood at the end of its range: there was more current than it shows.",
            SpanKind.Stuck => $"{(leads.Length > 0 ? $"The voltage of {leads}" : $"Clamp {clamps}")} repeated one value.",
            _ => span.Finding.Seconds < 0 ? "The recorder's clock was set back." : "The recorder's clock was set forward: no time is missing.",
        };
    }

    private static string Outage(GuardSpan span, string leads) => span.Finding.Relation switch
    {
        SpanRelation.UpstreamPhaseLost => $"The supply lost a phase on the high-voltage side; {leads} show what was left.",
        SpanRelation.NeutralOfSupplyLost => "The supply's neutral was lost: some loads got too much voltage, others too little.",
        _ => span.Leads.Length == 1 ? $"The supply was gone on the line of {leads}." : "The supply was gone.",
    };

    private static string How(GuardSpan span)
    {
        var finding = span.Finding;
        var unit = span.Leads.IsEmpty ? "A" : "V";
        var values = double.IsNaN(finding.Before) || double.IsNaN(finding.Within) || span.Kind is SpanKind.NoData
            ? "" : $"{Number(finding.Before)} {unit} became {Number(finding.Within)} {unit}";
        return finding.Relation switch
        {
            SpanRelation.VoltageWentCurrentStayed => double.IsNaN(finding.CurrentRatio)
                ? Sentence(values, "and nothing else noticed")
                : Sentence(values, $"while the current of that phase went on at {Percent(finding.CurrentRatio)} of what it was"),
            SpanRelation.VoltageAndCurrentWent => Sentence(values, "and the current went with it"),
            SpanRelation.UpstreamPhaseLost => "Two lines stood at about half their voltage, in opposition to the third.",
            SpanRelation.NeutralOfSupplyLost => "Voltages to neutral went apart while those between the lines stayed.",
            SpanRelation.VoltageProportions => Sentence(values, "in the proportions that such a hook-up makes"),
            SpanRelation.TwoChannelsAlike => "The two read the same in every interval.",
            SpanRelation.PowerAngleTurned => double.IsNaN(finding.TurnDegrees) || finding.TurnDegrees == 0
                ? "The angle of the power changed all at once." : $"The angle of the power turned by {Number(finding.TurnDegrees)} degrees all at once.",
            SpanRelation.CurrentWentVoltageUnmoved => Sentence(values, "and the voltage did not rise as it does when load goes"),
            SpanRelation.CurrentWentAlone => Sentence(values, "by more than the other phases and the hour explain"),
            SpanRelation.CurrentScaled => Sentence(values, "and the voltage did not answer to the change"),
            SpanRelation.CurrentDrifted => "The voltage answered to its current more and more strongly than to what it showed.",
            SpanRelation.CurrentsDoNotAddUp => "The currents do not add up.",
            SpanRelation.ReadingsWeighed => "So say the readings as a whole.",
            SpanRelation.ValuesPileUp => $"{finding.Intervals} intervals end at {Number(finding.Within)} A.",
            SpanRelation.ValueRepeated => $"{finding.Intervals} intervals read {Number(finding.Within)} {unit} while others moved.",
            SpanRelation.TimesMoved => double.IsNaN(finding.Seconds) ? "" : $"By {Number(Math.Abs(finding.Seconds))} s; the values went on as from one interval to the next.",
            _ => "",
        };
    }

    private static string Sentence(string values, string rest) => values.Length > 0 ? $"{values}, {rest}." : $"{char.ToUpperInvariant(rest[0])}{rest[1..]}.";

    private static string List(IEnumerable<string> names)
    {
        var all = names.ToList();
        return all.Count < 2 ? string.Concat(all) : $"{string.Join(", ", all.SkipLast(1))} and {all[^1]}";
    }

    private static string Percent(double share) => string.Create(CultureInfo.InvariantCulture, $"{100 * share:0} %");

    private static string Number(double value) => Math.Abs(value) switch
    {
        >= 100 => value.ToString("0", CultureInfo.InvariantCulture),
        >= 10 => value.ToString("0.0", CultureInfo.InvariantCulture),
        _ => value.ToString("0.##", CultureInfo.InvariantCulture),
    };
}
