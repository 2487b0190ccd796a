using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Load;
using Leadwright.Documents.Charts;
using Leadwright.Documents.Model;

namespace Leadwright.Documents.Reports;

/// <summary>The load study.</summary>
internal static class LoadPart
{
    private const int MostDays = 35;

    public static IEnumerable<Block> Blocks(ReportContext context)
    {
        var words = context.Words;
        if (context.Subject.Study.Load is not { } load)
        {
            yield return new ParagraphBlock(words.Of("load.none"));
            yield break;
        }

        yield return Energy(context, load);
        foreach (var block in Profile(context, load)) yield return block;
        foreach (var block in Demand(context, load)) yield return block;
        foreach (var block in Shape(context, load)) yield return block;
        foreach (var block in Phases(context, load)) yield return block;
        foreach (var block in Factor(context, load)) yield return block;
        foreach (var block in Capacity(context, load)) yield return block;
        foreach (var block in Bill(context, load)) yield return block;
    }

    private static TableBlock Energy(ReportContext context, LoadStudy load)
    {
        var words = context.Words;
        var energy = load.Energy;
        var rows = new List<TableRow>
        {
            Row("load.import", context.Kilo(energy.ImportWattHours, 5), "kWh", context.Standing(energy.Weakest)),
        };
        if (energy.ModelledWattHours > 0) rows.Add(Row("load.modelled", context.Kilo(energy.ModelledWattHours, 4), "kWh", context.Standing(Standing.Modelled)));
        rows.Add(Row("load.export", context.Kilo(energy.ExportWattHours, 4), "kWh", context.Standing(energy.Weakest)));
        if (load.Reactive is { } reactive)
        {
            // Reactive power may be known for less of the time than active power: a sum of less must not stand beside a sum of all without a word.
            var share = reactive.KnownSeconds / Math.Max(energy.KnownSeconds, 1e-9);
            var standing = context.Standing(reactive.Weakest) + (share < ReportContext.Whole ? $", {words.Of("load.reactive-part", ("percent", context.Percent(share)))}" : "");
            rows.Add(Row("load.lagging", context.Kilo(reactive.ImportWattHours, 4), "kvarh", standing));
            rows.Add(Row("load.leading", context.Kilo(reactive.ExportWattHours, 4), "kvarh", standing));
        }

        if (double.IsFinite(load.LoadFactor)) rows.Add(Row("load.factor", words.Number(load.LoadFactor, "0.000"), "", context.Standing(load.Peaks[0].Weakest)));
        if (double.IsFinite(load.BaseWatts)) rows.Add(Row("load.base", context.Kilo(load.BaseWatts, 3), "kW", context.Standing(energy.Weakest)));
        if (double.IsFinite(load.NearPeakWatts)) rows.Add(Row("load.near-peak", context.Kilo(load.NearPeakWatts, 3), "kW", context.Standing(energy.Weakest)));
        rows.Add(Row("load.known", context.Percent(energy.KnownSeconds / energy.Seconds)[..^2], "%", ""));
        return ReportContext.Table("Energy", words.Of("load.energy"), [context.Text("col.figure"), context.Number("col.value"), context.Text("col.unit"), context.Text("col.standing")], rows);

        TableRow Row(string key, string value, string unit, string standing) => TableRow.Of(words.Of(key), value, unit, standing);
    }

    private static IEnumerable<Block> Profile(ReportContext context, LoadStudy load)
    {
        var words = context.Words;
        if (load.Power.Count < 3) yield break;
        (DateTime, double, string)? mark = load.Peaks is [{ } peak, ..] && double.IsFinite(peak.Watts)
            ? (peak.From.AddMinutes(peak.Minutes / 2), peak.Watts, words.Of("load.peak-mark", ("kw", context.Kilo(peak.Watts, 4)), ("minutes", words.Number(peak.Minutes, "0.##")))) : null;
        yield return new FigureBlock(PowerChart.Draw(load.Power, null, [], mark, words.Of("load.profile"), words), words.Of("load.profile.caption", ("length", words.Length(load.Power.IntervalSeconds))));
    }

    private static IEnumerable<Block> Demand(ReportContext context, LoadStudy load)
    {
        if (load.Peaks.IsEmpty) yield break;
        var words = context.Words;
        yield return new HeadingBlock(words.Of("load.demand"));
        var hasPhases = load.Peaks.Any(peak => peak.PhaseWatts.Length == 3);
        yield return ReportContext.Table(
            "Demand", "",
            [context.Text("col.window"), context.Number("col.demand", "kW"), context.Text("col.from"), .. hasPhases ? new[] { new TableColumn("1", "kW", true), new TableColumn("2", "kW", true), new TableColumn("3", "kW", true) } : [], context.Number("col.load-factor"), context.Text("col.standing")],
            load.Peaks.Select(peak => new TableRow(
            [
                words.Of(peak.Kind == DemandKind.Block ? "load.block" : "load.sliding", ("minutes", words.Number(peak.Minutes, "0.##"))),
                new TableCell(context.Kilo(peak.Watts, 4)) { Number = peak.Watts / 1000, IsStrong = true },
                double.IsFinite(peak.Watts) ? ReportContext.Cell(peak.From) : "–",
                .. hasPhases ? Enumerable.Range(0, 3).Select(phase => phase < peak.PhaseWatts.Length ? context.Cell(peak.PhaseWatts[phase] / 1000, 3) : (TableCell)"–") : [],
                context.Fixed(peak.LoadFactor, "0.000"),
                double.IsFinite(peak.Watts) ? context.Standing(peak.Weakest) : context.Standing(Standing.Lost),
            ])),
            string.Join(' ', Notes()));

        IEnumerable<string> Notes()
        {
            if (hasPhases) yield return words.Of("load.demand.phases");
            if (load.Peaks[0].LeftOutCount > 0) yield return words.Of("load.demand.left-out", ("count", $"{load.Peaks[0].LeftOutCount}"));
            if (load.Peaks[0].HighestModelledWatts > load.Peaks[0].Watts) yield return words.Of("load.demand.modelled", ("kw", context.Kilo(load.Peaks[0].HighestModelledWatts, 3)));
            if (load.Coincidence is { } coincidence) yield return words.Of("load.coincidence", ("factor", words.Number(coincidence.Factor, "0.00")));
            foreach (var minutes in load.ImpossibleMinutes) yield return words.Of("load.impossible", ("minutes", words.Number(minutes, "0.##")), ("length", words.Length(load.Power.IntervalSeconds)));
        }
    }

    private static IEnumerable<Block> Shape(ReportContext context, LoadStudy load)
    {
        var words = context.Words;
        if (load.Duration.Length < 2 || load.HeatMap.IsEmpty) yield break;
        yield return new HeadingBlock(words.Of("load.shape"));
        var duration = new FigureBlock(LoadCharts.Duration(load, words), words.Of("chart.duration.caption"));
        if (LoadCharts.Day(load, words) is { } day) yield return new FigurePairBlock(new FigureBlock(day, words.Of("chart.day.caption")), duration);
        else yield return duration with { WidthShare = 0.5 };
        if (load.HeatMap.Any(hours => hours.Watts.Any(double.IsFinite))) yield return new FigureBlock(LoadCharts.HeatMap(load, words), words.Of("chart.heat.caption"));
        if (load.Days.Length is > 1 and <= MostDays) yield return new FigureBlock(LoadCharts.Days(load, words), words.Of(load.Days.Any(row => row.KnownSeconds < 0.98 * row.Seconds) ? "chart.days.caption-part" : "chart.days.caption"));
        var rows = load.Days.Length > MostDays ? load.Months : load.Days;
        if (rows.Length > 1)
        {
            yield return ReportContext.Table(
                load.Days.Length > MostDays ? "Months" : "Days", words.Of(load.Days.Length > MostDays ? "load.months" : "load.days"),
                [context.Text("col.stretch"), context.Number("col.import", "kWh"), context.Number("col.export", "kWh"), context.Number("col.modelled", "kWh"), context.Number("col.known", "%"), context.Text("col.standing")],
                rows.Select(row => TableRow.Of(
                    row.Name, context.Cell(row.ImportWattHours / 1000, 4), context.Cell(row.ExportWattHours / 1000, 4), context.Cell(row.ModelledWattHours / 1000, 3),
                    new TableCell(context.Percent(row.KnownSeconds / row.Seconds)[..^2]) { Number = 100 * row.KnownSeconds / row.Seconds }, context.Standing(row.Weakest))));
        }

        if (!load.Periods.IsEmpty)
        {
            yield return ReportContext.Table(
                "Tariff periods", words.Of("load.periods"), [context.Text("col.period"), context.Number("col.import", "kWh"), context.Number("col.known", "%"), context.Text("col.standing")],
                load.Periods.Select(row => TableRow.Of(row.Name, context.Cell(row.ImportWattHours / 1000, 4), context.Fixed(100 * row.KnownSeconds / row.Seconds, "0.#"), context.Standing(row.Weakest))));
        }

        if (load.Opening is { } opening) yield return new ParagraphBlock(words.Of("load.closed", ("kwh", context.Kilo(opening.ClosedWattHours, 4)), ("percent", words.Number(100 * opening.ClosedShare, "0.#")), ("kw", context.Kilo(opening.ClosedWatts, 3))));
        if (!load.Cycles.IsEmpty)
        {
            yield return ReportContext.Table(
                "Cycling loads", words.Of("load.cycles"), [context.Number("col.step", "kW"), context.Number("col.times"), context.Text("col.on-for"), context.Text("col.every"), context.Text("col.first")],
                load.Cycles.Take(8).Select(cycle => TableRow.Of(context.Cell(cycle.Watts / 1000, 2), $"{cycle.Count}", words.Length(cycle.OnSeconds), words.Length(cycle.PeriodSeconds), ReportContext.Cell(cycle.FirstAt))));
        }
    }

    private static IEnumerable<Block> Phases(ReportContext context, LoadStudy load)
    {
        if (load.Phases.IsEmpty) yield break;
        var words = context.Words;
        yield return new HeadingBlock(words.Of("load.phases"));
        var deviation = PhaseLoading.DeviationPercent(load.Phases);
        var means = load.Phases.Where(phase => phase.Place != LogPlace.Neutral).Select(phase => phase.MeanAmperes).ToArray();
        var note = double.IsFinite(deviation) ? words.Of("load.deviation", ("percent", words.Number(deviation, "0.#"))) : "";
        if (means.Length == 3 && context.Subject.Study.Data.Service == Core.Circuits.ServiceKind.Wye && load.Phases.All(phase => phase.Place != LogPlace.Neutral))
            note += " " + words.Of("load.neutral", ("amperes", words.Digits(PhaseLoading.NeutralOfUnbalance(means[0], means[1], means[2]), 2)));
        yield return ReportContext.Table(
            "Currents", "", [context.Text("col.clamp"), context.Number("col.mean", "A"), context.Number("col.p95", "A"), context.Number("col.demand15", "A"), context.Number("col.highest", "A"), context.Text("col.at")],
            load.Phases.Select(phase => TableRow.Of(
                $"I{phase.Place.Suffix()}", context.Cell(phase.MeanAmperes, 3), context.Cell(phase.Percentile95Amperes, 3), context.Cell(phase.DemandAmperes, 3), context.Cell(phase.HighestAmperes, 3), ReportContext.Cell(phase.HighestAt))),
            note.Trim());
    }

    private static IEnumerable<Block> Factor(ReportContext context, LoadStudy load)
    {
        if (load.PowerFactor is not { } factor || !double.IsFinite(factor.EnergyFactor)) yield break;
        var words = context.Words;
        yield return new HeadingBlock(words.Of("load.power-factor"));
        var part = factor.KnownShare < ReportContext.Whole ? " " + words.Of("load.factor.part", ("percent", context.Percent(factor.KnownShare))) : "";
        yield return new ParagraphBlock(words.Of(
            "load.factor.says", ("factor", words.Number(factor.EnergyFactor, "0.000")), ("lowest", words.Number(factor.LowestFactor, "0.000")), ("at", words.Time(factor.LowestAt)),
            ("target", words.Number(factor.TargetFactor, "0.00")), ("percent", words.Number(100 * factor.BelowShare, "0.#"))) + part);
        if (factor.HighestVars > 0)
        {
            yield return ReportContext.Table(
                "Capacitor", words.Of("load.capacitor", ("target", words.Number(factor.TargetFactor, "0.00"))), [context.Text("col.to-reach"), context.Number("col.needed", "kvar")],
                [
                    TableRow.Of(words.Of("load.capacitor.average"), context.Cell(factor.AverageVars / 1000, 3)),
                    TableRow.Of(words.Of("load.capacitor.peak"), context.Cell(factor.PeakVars / 1000, 3)),
                    TableRow.Of(words.Of("load.capacitor.always"), context.Cell(factor.HighestVars / 1000, 3)),
                ],
                factor.LeadingShare > 0 ? words.Of("load.capacitor.leading", ("percent", words.Number(100 * factor.LeadingShare, "0.#"))) : "");
            yield return load.Resonance is { } resonance
                ? new ParagraphBlock(words.Of(resonance.IsNear ? "load.resonance.near" : "load.resonance", ("order", words.Number(resonance.Order, "0.0")), ("harmonic", $"{resonance.NearestOrder}")))
                : new ParagraphBlock(words.Of("load.resonance.unknown"), ParagraphStyle.Small);
        }

        if (load.Transformer is { } transformer)
            yield return new ParagraphBlock(words.Of("load.transformer", ("factor", words.Number(transformer.LossFactor, "0.00"))) + (double.IsFinite(transformer.RatedShare) ? " " + words.Of("load.transformer.share", ("percent", words.Number(100 * transformer.RatedShare, "0"))) : ""));
    }

    private static IEnumerable<Block> Capacity(ReportContext context, LoadStudy load)
    {
        var words = context.Words;
        if (load.DesignCurrent is null && load.ExistingLoad is null) yield break;
        yield return new HeadingBlock(words.Of("load.capacity"));
        if (load.DesignCurrent is not { } known || !double.IsFinite(known.DesignAmperes)) yield return new ParagraphBlock(words.Of("ask.capacity.unknown"));
        if (load.DesignCurrent is { } design && double.IsFinite(design.DesignAmperes))
            yield return new ParagraphBlock(words.Of("load.design", ("amperes", words.Digits(design.DesignAmperes, 3)), ("rated", words.Digits(design.RatedAmperes, 3)), ("percent", words.Number(design.UsedPercent, "0")), ("fits", words.Of(design.Fits ? "fits" : "fits-not")), ("spare", words.Digits(design.SpareAmperes, 3))));
        if (load.ExistingLoad is not { } existing) yield break;
        if (double.IsFinite(existing.NeededAmperes)) yield return new ParagraphBlock(words.Of(
            "load.existing", ("amperes", words.Digits(existing.DemandAmperes, 3)), ("needed", words.Digits(existing.NeededAmperes, 3)), ("rated", words.Digits(existing.RatedAmperes, 3)),
            ("fits", words.Of(existing.Fits ? "fits" : "fits-not")), ("shown", words.Of(existing.IsShown ? "load.existing.shown" : "load.existing.not-shown"))));
        yield return ReportContext.Table(
            "Capacity conditions", words.Of("load.conditions"), [context.Text("col.condition"), context.Text("col.found"), context.Text("col.state")],
            existing.Conditions.Select(condition => TableRow.Of(condition.Says, condition.Found, new TableCell(words.Of($"condition.{condition.State.ToString().ToLowerInvariant()}")) { IsStrong = condition.State != ConditionState.Met })),
            words.Of("load.conditions.note"));
    }

    private static IEnumerable<Block> Bill(ReportContext context, LoadStudy load)
    {
        if (load.Bill.IsEmpty) yield break;
        var words = context.Words;
        yield return new HeadingBlock(words.Of("load.bill"));
        yield return ReportContext.Table(
            "Bill", "", [context.Text("col.figure"), context.Number("col.recorded"), context.Number("col.billed"), context.Number("col.ratio"), context.Text("col.says")],
            load.Bill.Select(line => TableRow.Of(
                $"{line.Quantity} ({(line.Quantity == "energy" ? "kWh" : "kW")})", context.Cell(line.Recorded / 1000, 5), context.Cell(line.Billed / 1000, 5), context.Fixed(line.Ratio, "0.000"),
                line.Agrees ? words.Of("load.bill.agrees") : string.Join(' ', line.Suggestions.Select(ratio => words.Of("load.bill.ratio", ("ratio", words.Digits(ratio.Value, 3)), ("says", ratio.Suggests)))))),
            words.Of("load.bill.note"));
    }
}
