using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Limits;
using Leadwright.Documents.Charts;
using Leadwright.Documents.Model;
using Leadwright.Reports.Guarding;
using Leadwright.Reports.Studies;

namespace Leadwright.Documents.Reports;

/// <summary>Voltage quality: levels, limits, events.</summary>
internal static class VoltagePart
{
    private const int MostEvents = 60, MostCurves = 3;

    public static IEnumerable<Block> Blocks(ReportContext context)
    {
        var (words, study) = (context.Words, context.Subject.Study);
        var voltages = ReportContext.Voltages(study.Data);
        if (voltages.Count == 0)
        {
            yield return new ParagraphBlock(words.Of("voltage.none"));
            yield break;
        }

        var isToNeutral = voltages[0].Name.Length == 2;
        var nominal = study.Data.Nominal is not { } stated ? double.NaN : isToNeutral ? stated.LineToNeutralVolts : stated.LineToLineVolts;
        if (voltages[0].Series.Count > 2) yield return new FigureBlock(
            VoltageCharts.Panels(voltages, study.Data.Service == ServiceKind.HighLeg ? double.NaN : nominal, Bounds(study, isToNeutral), words), words.Of("voltage.figure"));
        if (!study.Voltages.IsEmpty)
        {
            yield return ReportContext.Table(
                "Voltages", words.Of("voltage.levels"),
                [context.Text("col.lead"), context.Number("col.mean", "V"), context.Number("col.p5", "V"), context.Number("col.p95", "V"), context.Number("col.least", "V"), context.Text("col.at"), context.Number("col.most", "V"), context.Text("col.at")],
                study.Voltages.Select(level => TableRow.Of(
                    $"V{level.Place.Suffix()}", context.Fixed(level.MeanVolts, "0.0"), context.Fixed(level.Percentile5Volts, "0.0"), context.Fixed(level.Percentile95Volts, "0.0"),
                    context.Fixed(level.LeastVolts, "0.0"), ReportContext.Cell(level.LeastAt), context.Fixed(level.MostVolts, "0.0"), ReportContext.Cell(level.MostAt))),
                double.IsFinite(study.UnbalancePercent) ? words.Of("voltage.unbalance", ("percent", words.Number(study.UnbalancePercent, "0.00"))) : "");
        }

        if (study.Limits.IsEmpty) yield return new ParagraphBlock(words.Of("voltage.no-limits"));
        foreach (var report in study.Limits)
        {
            yield return new HeadingBlock(words.Of("voltage.limits", ("title", report.Table.Title)));
            yield return Limits(context, report);
            if (!report.Table.Notes.IsEmpty) yield return new ParagraphBlock(string.Join(' ', report.Table.Notes), ParagraphStyle.Small);
        }
    }

    public static IEnumerable<Block> Events(ReportContext context)
    {
        var (words, study) = (context.Words, context.Subject.Study);
        var outages = context.Subject.Guard?.Spans.Where(span => span.Kind == SpanKind.Outage).ToList() ?? [];
        if (outages.Count > 0)
        {
            yield return ReportContext.Table(
                "Outages", words.Of("events.outages"), [context.Text("col.from"), context.Text("col.to"), context.Text("col.length"), context.Text("col.says")],
                outages.Select(span => TableRow.Of(ReportContext.Cell(span.From), ReportContext.Cell(span.To), words.Length(span.Length.TotalSeconds), SpanWording.Of(span))));
        }

        if (study.Events is not { } events)
        {
            yield return new ParagraphBlock(words.Of("events.unseen", ("length", words.Length(context.Log.IntervalSeconds))));
            yield break;
        }

        if (events.IsEmpty)
        {
            yield return new ParagraphBlock(words.Of("events.none"), ParagraphStyle.Lead);
            yield break;
        }

        yield return new ParagraphBlock(words.Of("events.count", ("count", $"{events.Length}"), ("list", string.Join(", ", events.GroupBy(found => found.Kind).Select(group => $"{group.Count()} × {words.Of($"event.{group.Key}")}")))), ParagraphStyle.Lead);
        if (events.Any(found => found.HasMagnitude)) yield return new FigureBlock(VoltageCharts.Events(events, study.Curves, words), words.Of("events.figure"));
        yield return ReportContext.Table(
            "Events", words.Of("events.caption"),
            [context.Text("col.start"), context.Text("col.kind"), context.Text("col.channels"), context.Text("col.length"), context.Number("col.extreme", "%"), .. CurveColumns(context), context.Text("col.origin")],
            events.Take(MostEvents).Select(found => TableRow.Of([
                new TableCell(RecordTime.Text(found.Start, "yyyy-MM-dd HH:mm:ss.fff")) { Time = found.Start }, words.Of($"event.{found.Kind}") + (found.IsCutShort ? $" ({words.Of("event.cut-short")})" : ""), string.Join(' ', found.Channels),
                words.Length(found.Seconds), context.Fixed(found.ExtremePercent, "0.0"), .. Regions(context, found),
                found.Origin is { } origin ? words.Of($"side.{origin.Side.ToString().ToLowerInvariant()}") : "–"])),
            events.Length > MostEvents ? words.Of("events.more", ("count", $"{events.Length - MostEvents}")) : "");
    }

    // A column for each curve, as far as the paper has room; of more, those are named that an event lies outside of.
    private static IEnumerable<TableColumn> CurveColumns(ReportContext context) => context.Subject.Study.Curves is { Length: <= MostCurves } curves
        ? curves.Select(curve => new TableColumn(curve.Name)) : [context.Text("col.outside")];

    private static IEnumerable<TableCell> Regions(ReportContext context, StudyEvent found)
    {
        var curves = context.Subject.Study.Curves;
        if (curves.Length <= MostCurves) return curves.Select(curve => new TableCell(Region(context, found, curve)));
        var outside = curves.Where(curve => found.RegionOf(curve) is ToleranceRegion.Below or ToleranceRegion.Above).Select(curve => $"{curve.Name} ({Region(context, found, curve)})").ToList();
        return [new TableCell(outside.Count > 0 ? string.Join(", ", outside) : "–")];
    }

    private static string Region(ReportContext context, StudyEvent found, ToleranceCurve curve) =>
        found.HasMagnitude ? context.Words.Of($"region.{found.RegionOf(curve).ToString().ToLowerInvariant()}") : "–";

    private static TableBlock Limits(ReportContext context, LimitReport report)
    {
        var words = context.Words;
        var rows = new List<TableRow>();
        // Limits of which nothing can be said for one and the same reason stand together.
        foreach (var group in report.Lines.GroupBy(line => line.Count == 0 && line.Why.Length > 0 ? $"{line.Rule.Quantity} {line.Why}" : $"{line.Rule.Id} {line.Place} {line.Order}"))
        {
            var line = group.First();
            var verdict = new TableCell(words.Of($"verdict.{line.Verdict.ToString().ToLowerInvariant()}")) { IsStrong = line.Verdict != LimitVerdict.Pass };
            if (line.Count == 0)
            {
                var name = group.Count() > 1 ? words.Of("limit.several", ("name", line.Rule.Quantity switch
                {
                    LimitQuantity.VoltageHarmonic => words.Of("limit.voltageharmonics"),
                    LimitQuantity.CurrentHarmonic => words.Of("limit.currentharmonics"),
                    _ => LimitWords.Quantity(line.Rule, line.Order, words),
                }), ("count", $"{group.Count()}")) : LimitWords.Quantity(line.Rule, line.Order, words);
                rows.Add(TableRow.Of(name, "", group.Count() > 1 ? "" : LimitWords.Bounds(line, words), group.Count() > 1 ? "" : Share(words, line.Rule), "–", "–", verdict, line.Why));
                continue;
            }

            var remarks = new List<string> { context.Standing(line.Weakest) };
            if (line.FlaggedCount > 0) remarks.Add(words.Of("limit.flagged", ("count", $"{line.FlaggedCount}")));
            if (line.Why.Length > 0) remarks.Add(line.Why);
            rows.Add(TableRow.Of(
                LimitWords.Quantity(line.Rule, line.Order, words), LimitWords.Channel(line.Rule.Quantity, line.Place), LimitWords.Bounds(line, words), Share(words, line.Rule),
                new TableCell($"{words.Digits(line.Measured, 4)}{(line.Unit.Length > 0 ? " " + line.Unit : "")}") { Number = line.Measured }, new TableCell($"{words.Number(line.WithinPercent, "0.##")} %") { Number = line.WithinPercent },
                verdict, string.Join("; ", remarks)));
        }

        return ReportContext.Table(
            report.Table.Name, words.Of("voltage.limits.caption", ("title", report.Table.Title), ("edition", report.Table.Edition)),
            [context.Text("col.quantity"), context.Text("col.channel"), context.Text("col.allowed"), context.Text("col.share"), context.Number("col.measured"), context.Number("col.within"), context.Text("col.result"), context.Text("col.remark")],
            rows, words.Of("voltage.limits.note"));
    }

    private static string Share(Words.ReportWords words, LimitRule rule) =>
        $"{words.Number(rule.SharePercent, "0.##")} %" + (rule.PerSeconds > 0 ? $", {words.Length(rule.PerSeconds)}" : "") + (rule.Clause.Length > 0 ? $" ({rule.Clause})" : "");

    // The bounds of the voltage that most of the time must keep, for the chart.
    private static (double Least, double Most) Bounds(StudyDocument study, bool isToNeutral)
    {
        foreach (var line in study.Limits.SelectMany(report => report.Lines))
        {
            var isVoltage = line.Rule.Quantity == LimitQuantity.Voltage || line.Rule.Quantity == (isToNeutral ? LimitQuantity.VoltageToNeutral : LimitQuantity.VoltageBetweenLines);
            if (!isVoltage || line.Count == 0) continue;
            if (line.Unit == "V") return (line.Least, line.Most);
            if (line.Unit == "%" && study.Data.Nominal is { } nominal)
            {
                var volts = isToNeutral ? nominal.LineToNeutralVolts : nominal.LineToLineVolts;
                return (volts * line.Least / 100, volts * line.Most / 100);
            }
        }

        return (double.NaN, double.NaN);
    }
}
