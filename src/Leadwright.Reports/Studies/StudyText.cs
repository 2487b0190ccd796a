using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Limits;
using Leadwright.Core.Studies.Load;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Studies;

/// <summary>Writes a study for people.</summary>
public static class StudyText
{
    private const int MostEvents = 20;
    private const int MostRows = 14;

    /// <summary>The text.</summary>
    /// <param name="document">The study.</param>
    public static string Write(StudyDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        var text = new StringBuilder();
        var log = document.Data.Log;
        Line(text, $"{document.File}: {StudyWords.Time(log.From)} to {StudyWords.Time(log.To)}, {log.Count} intervals of {Span(log.IntervalSeconds)}, service {(document.IsServiceKnown ? document.Service : "not known (totals only)")}{(document.Data.Nominal is { } nominal ? $" {ServiceWording.Nominal(document.Service, nominal)} V" : "")}.");
        if (document.Corrections > 0) Line(text, $"The mended values are studied ({document.Corrections} correction{(document.Corrections == 1 ? "" : "s")}); what is modelled is said so. As recorded: --unmended.");
        if (document.Load is { } load) AppendLoad(text, load);
        else Line(text, $"\nNo power and no energy in the record: no load study.");
        AppendVoltages(text, document);
        AppendEvents(text, document);
        foreach (var report in document.Limits) AppendLimits(text, report);
        AppendDays(text, document);
        AppendFindings(text, document);
        foreach (var path in document.Written) Line(text, $"Written: {path}");
        if (!document.Notes.IsEmpty) text.AppendLine();
        foreach (var note in document.Notes) Line(text, $"Note: {note}");
        return text.ToString();
    }

    private static void AppendLoad(StringBuilder text, LoadStudy load)
    {
        var energy = load.Energy;
        // What is estimated in part is not known to the watt-hour.
        var figures = energy.ModelledWattHours > 0 ? 5 : 8;
        Line(text, $"\nLOAD\nEnergy {Kilo(energy.ImportWattHours, figures)} kWh to the load, {Kilo(energy.ExportWattHours, figures)} kWh from it; {100 * energy.KnownSeconds / energy.Seconds:0.##} % of the intervals known, {(energy.ModelledWattHours > 0 ? $"{Kilo(energy.ModelledWattHours, 4)} kWh of it estimated" : StudyWords.Of(energy.Weakest))}.");
        if (double.IsFinite(load.ReactiveVarHours.Lagging)) Line(text, $"Reactive energy {Kilo(load.ReactiveVarHours.Lagging, figures)} kvarh lagging, {Kilo(load.ReactiveVarHours.Leading, figures)} kvarh leading{Part(load.Reactive!.KnownSeconds / Math.Max(load.Energy.KnownSeconds, 1e-9))}.");
        foreach (var peak in load.Peaks) AppendPeak(text, peak);
        foreach (var minutes in load.ImpossibleMinutes) Line(text, $"Demand over {minutes:0.##} min can't be had from intervals of {Span(load.Power.IntervalSeconds)}.");
        if (double.IsFinite(load.LoadFactor)) Line(text, $"Load factor {load.LoadFactor:0.0000}{(double.IsFinite(load.BaseWatts) ? $"; base load {Kilo(load.BaseWatts, 4)} kW, near-peak load {Kilo(load.NearPeakWatts, 4)} kW" : "")}.");
        if (load.Coincidence is { } coincidence) Line(text, $"Phases' own peaks {string.Join(", ", coincidence.Alone.Select(peak => Kilo(peak.Watts, 4)))} kW; coincidence factor {coincidence.Factor:0.000}.");
        if (load.Opening is { } opening) Line(text, $"Outside the opening hours: {Kilo(opening.ClosedWattHours, 6)} kWh, {100 * opening.ClosedShare:0.0} % of all, {Kilo(opening.ClosedWatts, 4)} kW on average.");
        AppendRows(text, "month", load.Months);
        AppendRows(text, "period", load.Periods);
        if (load.Days.Length <= MostRows) AppendRows(text, "day", load.Days);
        if (!load.Phases.IsEmpty)
        {
            Line(text, $"\nclamp       mean A      95 % A     highest A   at");
            foreach (var phase in load.Phases) Line(text, $"I{phase.Place.Suffix(),-6}{phase.MeanAmperes,11:0.00}{phase.Percentile95Amperes,12:0.00}{phase.HighestAmperes,14:0.00}   {StudyWords.Time(phase.HighestAt)}");
            var deviation = PhaseLoading.DeviationPercent(load.Phases);
            if (double.IsFinite(deviation)) Line(text, $"The phase currents differ from their mean by up to {deviation:0.0} %.");
            var phases = load.Phases.Where(phase => phase.Place != LogPlace.Neutral).Select(phase => phase.MeanAmperes).ToArray();
            if (phases.Length == 3 && load.Phases.All(phase => phase.Place != LogPlace.Neutral))
                Line(text, $"Neutral current not recorded; the unbalance of the mean currents alone makes {PhaseLoading.NeutralOfUnbalance(phases[0], phases[1], phases[2]):0.0} A, third harmonics come on top.");
        }

        foreach (var cycle in load.Cycles.Take(5)) Line(text, $"A load of {Kilo(cycle.Watts, 3)} kW came on {cycle.Count} times, for {Span(cycle.OnSeconds)} every {Span(cycle.PeriodSeconds)} (medians).");
        AppendFactor(text, load);
        AppendCapacity(text, load);
        foreach (var line in load.Bill) AppendBill(text, line);
    }

    private static void AppendPeak(StringBuilder text, DemandPeak peak)
    {
        if (!double.IsFinite(peak.Watts))
        {
            Line(text, $"Demand {peak.Minutes:0.##} min {StudyWords.Kind(peak.Kind)}: no window without a gap.");
            return;
        }

        var phases = peak.PhaseWatts.IsEmpty ? "" : $" (phases {string.Join(", ", peak.PhaseWatts.Select(watts => Kilo(watts, 4)))})";
        Line(text, $"Demand {peak.Minutes:0.##} min {StudyWords.Kind(peak.Kind)}: {Kilo(peak.Watts, 6)} kW{phases}, {StudyWords.Time(peak.From)} to {RecordTime.Text(peak.To, "HH:mm")}, {StudyWords.Of(peak.Weakest)}.");
        if (peak.HighestModelledWatts > peak.Watts) Line(text, $"  An estimated stretch reaches {Kilo(peak.HighestModelledWatts, 6)} kW: estimates are never taken for a peak.");
    }

    private static void AppendRows(StringBuilder text, string head, IReadOnlyCollection<EnergyRow> rows)
    {
        if (rows.Count < 2) return;
        Line(text, $"\n{head,-14}{"kWh in",14}{"kWh out",14}{"known %",10}");
        foreach (var row in rows) Line(text, $"{row.Name,-14}{row.ImportWattHours / 1000,14:0.00}{row.ExportWattHours / 1000,14:0.00}{100 * row.KnownSeconds / row.Seconds,10:0.0}");
    }

    private static void AppendFactor(StringBuilder text, LoadStudy load)
    {
        if (load.PowerFactor is { } factor)
        {
            Line(text, $"\nPower factor by energy {factor.EnergyFactor:0.000}; lowest {factor.LowestFactor:0.000} at {StudyWords.Time(factor.LowestAt)}, of loads from {100 * PowerFactorStudy.LeastLoad:0} % of the highest; below {factor.TargetFactor:0.00} lagging {100 * factor.BelowShare:0.0} % of the time{Part(factor.KnownShare)}.");
            if (factor.HighestVars > 0)
            {
                Line(text, $"To reach {factor.TargetFactor:0.00}: {Kilo(factor.AverageVars, 3)} kvar on average, {Kilo(factor.PeakVars, 3)} kvar at the highest load, {Kilo(factor.HighestVars, 3)} kvar to hold it at all times.");
                if (factor.LeadingShare > 0) Line(text, $"With {Kilo(factor.AverageVars, 3)} kvar always on, the load would lead {100 * factor.LeadingShare:0.0} % of the time: steps that switch with the load are meant.");
                if (load.Resonance is not { } resonance)
                    Line(text, $"A capacitor resonates with the supply; without the short-circuit power (--short-circuit) it can't be said at which harmonic.");
                else if (resonance.IsNear)
                    Line(text, $"Caution: {Kilo(factor.AverageVars, 3)} kvar and the supply resonate at order {resonance.Order:0.0}, near harmonic {resonance.NearestOrder}: have a detuned bank or another size looked at.");
                else
                    Line(text, $"{Kilo(factor.AverageVars, 3)} kvar and the supply resonate at order {resonance.Order:0.0}.");
            }
        }

        if (load.Transformer is { } transformer) Line(text, $"Harmonic loss factor at high current {transformer.LossFactor:0.00}{(double.IsFinite(transformer.RatedShare) ? $": a dry-type transformer carries {StudyWords.Digits(100 * transformer.RatedShare, 4)} % of its rated current at rated loss" : "")}.");
    }

    private static void AppendCapacity(StringBuilder text, LoadStudy load)
    {
        if (load.ExistingLoad is { } existing)
        {
            Line(text, $"\nNEC 220.87, existing load: 125 % of {existing.DemandAmperes:0.0} A and the new load make {existing.NeededAmperes:0.0} A of {existing.RatedAmperes:0.#} A: {(existing.Fits ? "fits" : "does not fit")}, {(existing.IsShown ? "all conditions met" : "but not every condition is shown")}.");
            foreach (var condition in existing.Conditions) Line(text, $"  {StudyWords.Of(condition.State),-9} {condition.Says}: {condition.Found}");
            Line(text, $"  Whether the rule may be used is for the code in force and a licensed person.");
        }

        if (load.DesignCurrent is { } design) Line(text, $"IEC 60364-4-43, 433.1: design current {design.DesignAmperes:0.0} A of {design.RatedAmperes:0.#} A ({design.UsedPercent:0.0} %), {(design.Fits ? "fits" : "does not fit")}; {design.SpareAmperes:0.0} A left. This record's load, not the year's.");
    }

    private static void AppendBill(StringBuilder text, BillComparison line)
    {
        Line(text, $"Against the bill, {line.Quantity}: recorded {Kilo(line.Recorded, 6)}, billed {Kilo(line.Billed, 6)}, ratio {line.Ratio:0.000}{(line.Agrees ? ": agrees within a fifth" : "")}.");
        foreach (var ratio in line.Suggestions) Line(text, $"  A ratio of {ratio.Value:0.###} is what this would make: {ratio.Suggests}. It proves nothing: see that the days and the loads are the same, then check the hook-up.");
    }

    private static void AppendVoltages(StringBuilder text, StudyDocument document)
    {
        if (document.Voltages.IsEmpty) return;
        Line(text, $"\nVOLTAGE\nlead          mean V     least V    largest V       5 %        95 %");
        foreach (var level in document.Voltages) Line(text, $"V{level.Place.Suffix(),-8}{level.MeanVolts,11:0.00}{level.LeastVolts,12:0.00}{level.MostVolts,13:0.00}{level.Percentile5Volts,10:0.00}{level.Percentile95Volts,12:0.00}");
        if (double.IsFinite(document.UnbalancePercent)) Line(text, $"Unbalance u2: 95 % of the values up to {document.UnbalancePercent:0.00} %.");
    }

    private static void AppendEvents(StringBuilder text, StudyDocument document)
    {
        if (document.Events is not { } events) return;
        Line(text, $"\nEVENTS\n{(events.IsEmpty ? "None." : $"{events.Length} voltage events:")}");
        foreach (var found in events.Take(MostEvents)) AppendEvent(text, found, document.Curves);
        if (events.Length > MostEvents) Line(text, $"  and {events.Length - MostEvents} more.");
    }

    private static void AppendDays(StringBuilder text, StudyDocument document)
    {
        if (!document.WorstDays.IsEmpty) Line(text, $"\nWORST DAYS, the three worst by each");
        foreach (var ranking in document.WorstDays)
            Line(text, $"  {ranking.Name,-28}{string.Join(", ", ranking.Days.Take(3).Select(day => string.Create(CultureInfo.InvariantCulture, $"{RecordTime.Text(day.Day, "ddd yyyy-MM-dd")}{(day.At is { } at ? $" {RecordTime.Text(at, "HH:mm")}" : "")} {StudyWords.Digits(day.Value, 5)}{(ranking.Unit.Length > 0 ? " " + ranking.Unit : "")}{(day.KnownShare < 0.9 ? $" ({100 * day.KnownShare:0} % of the day known)" : "")}")))}");
        if (document.Patterns is not { } patterns) return;
        Line(text, $"\nPATTERNS: what {patterns.Count} {patterns.Subject} came together with");
        foreach (var pattern in patterns.Patterns)
            Line(text, $"  {pattern.With}{(pattern.Detail.Length > 0 ? $", {pattern.Detail}" : "")}: {pattern.Hits}, by chance {pattern.Chance * patterns.Count:0.0}; {(pattern.IsBeyondChance ? $"odds against chance {(pattern.Odds > 1e6 ? "above a million" : StudyWords.Digits(pattern.Odds, 2))} to 1" : "no more than chance may do")}");
        Line(text, $"  Coming together is no cause: a dip from outside may make a load trip as well.");
    }

    private static void AppendFindings(StringBuilder text, StudyDocument document)
    {
        if (document.Comparison is { } comparison)
        {
            Line(text, $"\nBEFORE AND AFTER, by means of {(comparison.IsByDay ? "days" : "hours")}");
            foreach (var measure in comparison.Measures)
                Line(text, $"  {measure.Name,-22}{StudyWords.Digits(measure.Before, 5),12}{StudyWords.Digits(measure.After, 5),12} {measure.Unit,-4} difference {StudyWords.Digits(measure.Difference, 3)}, {(measure.IsBeyondUncertainty switch { true => "beyond its uncertainty of", false => "within its uncertainty of", _ => "too few samples to say;" })} {StudyWords.Digits(measure.Uncertainty, 2)}");
        }

        if (!document.Findings.IsEmpty) Line(text, $"\nWHAT WAS FOUND, most consequential first");
        foreach (var finding in document.Findings) Line(text, $"  {finding.Says}\n    It can mean: {finding.CanMean}\n    Check next: {finding.CheckNext}\n    How sure: {finding.HowSure} ({finding.Rule.Source})");
        if (!document.CannotShow.IsEmpty) Line(text, $"\nWHAT THIS RECORD CAN'T SHOW");
        foreach (var says in document.CannotShow) Line(text, $"  {says}");
        if (!document.CannotShow.IsEmpty) Line(text, $"");
    }

    private static void AppendEvent(StringBuilder text, StudyEvent found, ImmutableArray<ToleranceCurve> curves)
    {
        Line(text, $"  {RecordTime.Text(found.Start, "yyyy-MM-dd HH:mm:ss.fff")}  {found.Kind}, {string.Join(' ', found.Channels)}, {found.Seconds:0.####} s, {found.ExtremePercent:0.0} %{(found.IsCutShort ? ", cut short" : "")}{(found.Type is { } type ? $", type {StudyWords.Of(type)}" : "")}");
        if (found.HasMagnitude) Line(text, $"    {string.Join("; ", curves.Select(curve => $"{curve.Name}: {StudyWords.Of(found.RegionOf(curve))}"))}");
        if (found.Origin is { } origin) Line(text, $"    origin {StudyWords.Of(origin.Side)}: {string.Join("; ", origin.Votes.Select(vote => $"{vote.Method} {StudyWords.Of(vote.Side)}"))}");
        if (found.Cause is { Kind: not EventCauseKind.Unknown } cause) Line(text, $"    looks like a {StudyWords.Of(cause.Kind)}: {cause.Says}");
        if (found.Capacitor is { Side: not EventSide.Undecided } capacitor) Line(text, $"    if a capacitor was switched on, it is {StudyWords.Of(capacitor.Side)} of the recorder");
    }

    private static void AppendLimits(StringBuilder text, LimitReport report)
    {
        Line(text, $"\nLIMITS: {report.Table.Title}, {report.Table.Edition}");
        // Lines that nothing could be said of for one and the same reason stand together.
        foreach (var group in report.Lines.GroupBy(line => line.Count == 0 && line.Why.Length > 0 ? $"{line.Rule.Quantity} {line.Why}" : line.Rule.Id))
        {
            var line = group.First();
            var name = StudyWords.Quantity(line.Rule, line.Order);
            if (group.Count() > 1) Line(text, $"  {"not enough data",-16}{line.Rule.Quantity switch { LimitQuantity.VoltageHarmonic => "voltage harmonics", LimitQuantity.CurrentHarmonic => "current harmonics", _ => name }}, {group.Count()} limits: {line.Why}");
            else AppendLine(text, line, name);
        }

        foreach (var note in report.Table.Notes) Line(text, $"  {note}");
    }

    private static void AppendLine(StringBuilder text, LimitLine line, string name)
    {
        var channel = StudyWords.Channel(line.Rule.Quantity, line.Place);
        var bounds = (double.IsNaN(line.Least), double.IsNaN(line.Most)) switch
        {
            (false, false) => $"{StudyWords.Digits(line.Least, 5)} to {StudyWords.Digits(line.Most, 5)}",
            (false, _) => $"at least {StudyWords.Digits(line.Least, 5)}",
            _ => $"at most {StudyWords.Digits(line.Most, 5)}",
        };
        var unit = line.Unit.Length > 0 ? " " + line.Unit : "";
        var found = line.Count == 0 ? "" : FormattableString.Invariant($"; measured {StudyWords.Digits(line.Measured, 5)}{unit}, {line.WithinPercent:0.##} % of {line.Count} values within, {StudyWords.Of(line.Weakest)}");
        Line(text, $"  {StudyWords.Verdict(line.Verdict),-16}{name}{(channel.Length > 0 ? $" {channel}" : "")}: {bounds}{unit} for {line.Rule.SharePercent:0.##} % ({line.Rule.Clause}){found}{(line.FlaggedCount > 0 ? $", {line.FlaggedCount} flagged left out" : "")}{(line.Why.Length > 0 ? $"; {line.Why}" : "")}");
        // Of harmonics there are many: their channels are told apart where they differ.
        if (line.Channels.IsEmpty || (line.Rule.OrderFrom > 0 && line.Channels.All(one => one.Verdict == line.Verdict))) return;
        Line(text, $"{"",18}{string.Join(", ", line.Channels.Select(one => Own(one)))}");
    }

    private static string Own(LimitLine line) =>
        $"{StudyWords.Channel(line.Rule.Quantity, line.Place)} {(line.Count > 0 ? $"{StudyWords.Digits(line.Measured, 5)}{(line.Unit.Length > 0 ? " " + line.Unit : "")} " : "")}{StudyWords.Verdict(line.Verdict)}";

    // A sum of a part of the time must not stand beside a sum of all of it without a word.
    private static string Part(double share) => share < 0.995 ? FormattableString.Invariant($", known for {100 * share:0.0} % of the time") : "";

    private static string Kilo(double value, int digits) => StudyWords.Digits(value / 1000, digits);

    private static string Span(double seconds) => seconds switch
    {
        < 60 => FormattableString.Invariant($"{seconds:0.###} s"),
        < 7200 => FormattableString.Invariant($"{seconds / 60:0.##} min"),
        _ => FormattableString.Invariant($"{seconds / 3600:0.##} h"),
    };

    private static void Line(StringBuilder text, FormattableString line) =>
        text.AppendFormat(CultureInfo.InvariantCulture, line.Format, [.. line.GetArguments().Select(value => value is double number && !double.IsFinite(number) ? "-" : value)]).Append('\n');
}
