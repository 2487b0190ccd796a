using Leadwright.Documents.Model;

namespace Leadwright.Documents.Reports;

/// <summary>What was found, with its consequence and the next step; and what this record can't show.</summary>
internal static class FindingsPart
{
    public static IEnumerable<Block> Blocks(ReportContext context)
    {
        var (words, study) = (context.Words, context.Subject.Study);
        if (SummaryPart.Repeat(context) is { } repeat) yield return new NoticeBlock(words.Of("findings.recording"), [repeat]);
        if (study.Findings.IsEmpty)
        {
            yield return new ParagraphBlock(words.Of("findings.none"));
            yield break;
        }

        yield return new ParagraphBlock(words.Of("findings.order"));
        var rows = new List<TableRow>();
        foreach (var (finding, index) in study.Findings.DistinctBy(finding => finding.Says).Select((finding, index) => (finding, index)))
        {
            rows.Add(new TableRow([words.Of("findings.number", ("number", $"{index + 1}"), ("says", finding.Says))]) { IsGroup = true });
            rows.Add(TableRow.Of(words.Of("findings.can-mean"), finding.CanMean));
            rows.Add(TableRow.Of(words.Of("findings.check-next"), finding.CheckNext));
            rows.Add(TableRow.Of(words.Of("findings.how-sure"), $"{finding.HowSure} ({finding.Source})"));
        }

        yield return new TableBlock("Findings", "", [new TableColumn(words.Of("col.finding")), new TableColumn(words.Of("col.says"))], [.. rows]) { IsFacts = true };
        if (study.Comparison is not { } comparison) yield break;
        yield return new HeadingBlock(words.Of("findings.comparison"));
        yield return ReportContext.Table(
            "Comparison", words.Of(comparison.IsByDay ? "findings.by-day" : "findings.by-hour"),
            [context.Text("col.figure"), context.Text("col.unit"), context.Number("col.before"), context.Number("col.after"), context.Number("col.difference"), context.Number("col.uncertainty"), context.Text("col.result")],
            comparison.Measures.Select(measure => TableRow.Of(
                measure.Name, measure.Unit, context.Cell(measure.Before, 4), context.Cell(measure.After, 4), context.Cell(measure.Difference, 3), context.Cell(measure.Uncertainty, 2),
                words.Of(measure.IsBeyondUncertainty switch { true => "findings.beyond", false => "findings.within", _ => "findings.too-few" }))));
    }

    public static IEnumerable<Block> NotShown(ReportContext context)
    {
        var study = context.Subject.Study;
        if (!study.CannotShow.IsEmpty) yield return new ListBlock(study.CannotShow);
        else yield return new ParagraphBlock(context.Words.Of("not-shown.none"));
    }
}
