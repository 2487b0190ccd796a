using Leadwright.Core.Integrity;
using Leadwright.Documents.Charts;
using Leadwright.Documents.Model;
using Leadwright.Reports.Guarding;
using Leadwright.Reports.Hookups;

namespace Leadwright.Documents.Reports;

/// <summary>What the leads, the clamps and the recorder did over the whole recording.</summary>
internal static class WatchPart
{
    private const int MostSpans = 60;

    public static IEnumerable<Block> Blocks(ReportContext context)
    {
        var words = context.Words;
        if (context.Subject.Guard is not { } guard || guard.Usable.IsEmpty)
        {
            yield return new ParagraphBlock(words.Of("watch.none"));
            yield break;
        }

        var spans = guard.Spans;
        yield return new ParagraphBlock(spans.IsEmpty ? words.Of("watch.sound") : words.Of(spans.Length == 1 ? "watch.count.one" : "watch.count", ("count", $"{spans.Length}")), ParagraphStyle.Lead);
        yield return new FigureBlock(WatchStrip.Draw(guard, words), words.Of("watch.figure"));
        if (!spans.IsEmpty)
        {
            yield return ReportContext.Table(
                "Watch", words.Of("watch.caption"),
                [context.Text("col.from"), context.Text("col.to"), context.Text("col.channels"), context.Text("col.what"), context.Number("col.confidence")],
                spans.Take(MostSpans).Select(span => TableRow.Of(
                    ReportContext.Cell(span.From), ReportContext.Cell(span.To), Channels(span), SpanWording.Of(span, guard.Timeline), new TableCell(ConfidenceWording.Percent(span.Confidence)) { Number = span.Confidence })),
                spans.Length > MostSpans ? words.Of("watch.more", ("count", $"{spans.Length - MostSpans}")) : words.Of("watch.confidence"));
        }

        if (guard.Timeline.Pieces.Length > 0)
        {
            yield return new HeadingBlock(words.Of("watch.timeline"));
            yield return ReportContext.Table(
                "Hook-ups", "", [context.Text("col.from"), context.Text("col.to"), context.Text("col.hookup"), context.Number("col.probability")],
                guard.Timeline.Pieces.Take(MostSpans).Select(piece => TableRow.Of(
                    ReportContext.Cell(piece.From), ReportContext.Cell(piece.To), HookupPart.Brief(context, piece.Hookup), new TableCell(ConfidenceWording.Percent(piece.Confidence)) { Number = piece.Confidence })));
        }

        yield return new HeadingBlock(words.Of("watch.usable"));
        yield return new ParagraphBlock(words.Of("watch.usable.how"));
        yield return ReportContext.Table(
            "Usable", "", [context.Text("col.channel"), .. guard.Usable.Select(pair => new TableColumn(pair.Key.ToString(), "%", IsNumber: true))],
            [new TableRow([words.Of("watch.usable.row"), .. guard.Usable.Select(pair => new TableCell(context.Percent(pair.Value)[..^2]) { Number = 100 * pair.Value })])]);
        if (!guard.Notes.IsEmpty) yield return new ListBlock([.. guard.Notes.Select(GuardWords.Of)]);
    }

    private static string Channels(GuardSpan span)
    {
        var names = span.Leads.Select(lead => lead.ToString()).Concat(span.Clamps.Select(clamp => clamp.ToString())).ToList();
        return names.Count == 0 ? "–" : string.Join(' ', names);
    }
}
