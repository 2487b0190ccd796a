using System.Globalization;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Load;
using Leadwright.Documents.Model;
using Leadwright.Reports.Hookups;

namespace Leadwright.Documents.Reports;

/// <summary>The site; the method with its standards; the data with its digests; cautions; the lines to sign on.</summary>
internal static class DataPart
{
    public static IEnumerable<Block> Site(ReportContext context)
    {
        var words = context.Words;
        yield return new TableBlock("Site", "", [new TableColumn(words.Of("col.figure")), new TableColumn(words.Of("col.says"))],
            [.. context.Facts(isShort: false).Where(fact => fact.Value.Length > 0).Select(fact => TableRow.Of(fact.Label, fact.Value))])
        { IsFacts = true };
        if (context.Settings.Letterhead.Purpose.Length == 0) yield return new ParagraphBlock(words.Of("site.no-purpose"), ParagraphStyle.Small);
    }

    public static IEnumerable<Block> Method(ReportContext context)
    {
        var (words, study) = (context.Words, context.Subject.Study);
        yield return new ParagraphBlock(words.Of("method.hookup"));
        yield return new ParagraphBlock(words.Of("method.guard"));
        if (context.IsMended) yield return new ParagraphBlock(words.Of("method.mend"));
        yield return new ParagraphBlock(words.Of(context.Subject.IsSampled ? "method.sampled" : "method.logged", ("length", words.Length(context.Log.IntervalSeconds))));
        yield return ReportContext.Table(
            "Standings", words.Of("method.standings"), [context.Text("col.standing"), context.Text("col.means"), context.Text("col.drawn")],
            Enum.GetValues<Standing>().Select(standing =>
            {
                var name = standing.ToString().ToLowerInvariant();
                return TableRow.Of(new TableCell(context.Standing(standing)) { IsStrong = true }, words.Of($"standing.{name}.means"), words.Of($"standing.{name}.drawn"));
            }));
        var rows = study.Limits.Select(report => TableRow.Of(LimitWords.Title(report.Table), LimitWords.Edition(report.Table), words.Of("method.for.limits"))).ToList();
        if (context.Subject.IsSampled)
        {
            rows.Add(TableRow.Of("IEC 61000-4-30", "2015", words.Of("method.for.measuring")));
            rows.Add(TableRow.Of("IEC 61000-4-7", "2002 + A1:2008", words.Of("method.for.harmonics")));
            rows.Add(TableRow.Of("IEC 61000-4-15", "2010", words.Of("method.for.flicker")));
        }

        if (study.Load is not null) rows.Add(TableRow.Of("IEEE 1459", "2010", words.Of("method.for.power")));
        if (study.Events is { IsEmpty: false }) rows.Add(TableRow.Of("ITI (CBEMA), SEMI F47", "2000, 0706", words.Of("method.for.curves")));
        if (study.Load?.ExistingLoad is not null) rows.Add(TableRow.Of("NFPA 70 (NEC), 220.87", "2014 – 2023", words.Of("method.for.capacity")));
        if (study.Load?.DesignCurrent is not null) rows.Add(TableRow.Of("IEC 60364-4-43, 433.1", "2008", words.Of("method.for.design")));
        if (context.IsMended || study.Comparison is not null) rows.Add(TableRow.Of("JCGM 100", "2008", words.Of("method.for.uncertainty")));
        yield return ReportContext.Table("Standards", words.Of("method.standards"), [context.Text("col.standard"), context.Text("col.edition"), context.Text("col.for")], rows, words.Of("method.standards.note"));
    }

    public static IEnumerable<Block> Data(ReportContext context)
    {
        var (words, subject, letterhead) = (context.Words, context.Subject, context.Settings.Letterhead);
        yield return ReportContext.Table(
            "Files", words.Of("data.files"), [context.Text("col.file"), context.Number("col.bytes"), context.Text("col.digest")],
            subject.Files.Select(file => TableRow.Of(file.Name, new TableCell(file.Length.ToString(CultureInfo.InvariantCulture)) { Number = file.Length }, file.Sha256)), words.Of("data.files.note"));
        yield return new HeadingBlock(words.Of("data.instruments"));
        if (letterhead.Instruments.IsEmpty) yield return new ParagraphBlock(words.Of("data.instruments.none"));
        else
        {
            yield return new TableBlock("Instruments", "", [new TableColumn(words.Of("col.figure")), new TableColumn(words.Of("col.says"))],
                [.. letterhead.Instruments.Select(pair => TableRow.Of(pair.Label, pair.Value))])
            { IsFacts = true, Note = words.Of("data.instruments.note") };
        }

        yield return new HeadingBlock(words.Of("data.read"));
        yield return new TableBlock("Reading", "", [new TableColumn(words.Of("col.figure")), new TableColumn(words.Of("col.says"))],
        [
            TableRow.Of(words.Of("data.program"), context.Settings.Program),
            TableRow.Of(words.Of("data.service"), context.ServiceName),
            TableRow.Of(words.Of("data.nominal"), subject.Study.Data.Nominal is { } nominal ? $"{ServiceWording.Nominal(subject.Study.Service, nominal)} V" : words.Of("data.not-stated")),
            TableRow.Of(words.Of("data.accuracy"), subject.AccuracyPercent > 0 ? $"{words.Number(subject.AccuracyPercent, "0.##")} %" : words.Of("data.not-stated")),
            TableRow.Of(words.Of("data.rows"), words.Of("fact.intervals.says", ("count", context.Log.Count.ToString(CultureInfo.InvariantCulture)), ("length", words.Length(context.Log.IntervalSeconds)))),
        ])
        { IsFacts = true };
        if (!subject.Channels.IsEmpty)
        {
            yield return ReportContext.Table(
                "Channels", words.Of("data.channels"), [context.Text("col.channel"), context.Text("col.column"), context.Text("col.why")],
                subject.Channels.Select(channel => TableRow.Of(channel.Channel, channel.Name, channel.Why.Length > 0 ? channel.Why : "–")));
        }

        var notes = subject.Notes.Concat(subject.Study.Notes).Where(note => note.Length > 0).Distinct().ToList();
        if (notes.Count == 0) yield break;
        yield return new HeadingBlock(words.Of("data.notes"));
        yield return new ListBlock([.. notes]);
    }

    public static IEnumerable<Block> Cautions(ReportContext context)
    {
        var words = context.Words;
        yield return new NoticeBlock(words.Of("cautions.title"), Leadwright.Reports.Hookups.Cautions.Full);
        yield return new HeadingBlock(words.Of("cautions.limits"));
        yield return new ListBlock([words.Of("cautions.period"), words.Of("cautions.points"), words.Of("cautions.instrument"), words.Of("cautions.standards"), words.Of("cautions.estimates")]);
    }

    public static IEnumerable<Block> Signature(ReportContext context)
    {
        var words = context.Words;
        var labels = (words.Of("sign.signature"), words.Of("sign.name"), words.Of("sign.date"));
        yield return new SignatureBlock(words.Of("sign.statement"), [new Signer(words.Of("sign.prepared"), context.Settings.Letterhead.Author, labels), new Signer(words.Of("sign.reviewed"), "", labels)]);
    }

    /// <summary>Tables that are too long for paper: energy by hour, demand, the values themselves with their standings.</summary>
    public static IEnumerable<TableBlock> LongTables(ReportContext context)
    {
        var (words, study) = (context.Words, context.Subject.Study);
        if (study.Load is { } load)
        {
            yield return ReportContext.Table(
                "Energy by hour", "", [context.Text("col.from"), context.Number("col.import", "kWh"), context.Number("col.export", "kWh"), context.Number("col.modelled", "kWh"), context.Number("col.known", "%"), context.Text("col.standing")],
                load.Hours.Select(row => TableRow.Of(
                    ReportContext.Cell(row.From), context.Cell(row.ImportWattHours / 1000, 6), context.Cell(row.ExportWattHours / 1000, 6), context.Cell(row.ModelledWattHours / 1000, 6), context.Fixed(100 * row.KnownSeconds / row.Seconds, "0.#"), context.Standing(row.Weakest))));
            if (!load.Peaks.IsEmpty && Demand.Series(load.Power, load.Peaks[0].Kind, load.Peaks[0].Minutes) is { } demand)
            {
                yield return ReportContext.Table(
                    "Demand by window", "", [context.Text("col.from"), context.Number("col.demand", "kW"), context.Text("col.standing")],
                    Enumerable.Range(0, demand.Count).Select(row => TableRow.Of(ReportContext.Cell(demand.StartOf(row)), context.Cell(demand.Values[row] / 1000, 6), context.Standing(demand.StandingOf(row)))));
            }
        }

        foreach (var (name, series) in ReportContext.Voltages(study.Data))
        {
            var means = series.IntervalSeconds < 600 ? series.Aggregate(600, isRms: true) ?? series : series;
            yield return Values(context, $"{name} 10 min", "V", means);
        }
    }

    private static TableBlock Values(ReportContext context, string name, string unit, StudySeries series) => ReportContext.Table(
        name, "", [context.Text("col.from"), context.Number("col.mean", unit), context.Text("col.standing")],
        Enumerable.Range(0, series.Count).Select(row => TableRow.Of(ReportContext.Cell(series.StartOf(row)), context.Cell(series.Values[row], 6), context.Standing(series.StandingOf(row)))));
}
