using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Model;
using Leadwright.Reports.Hookups;

namespace Leadwright.Documents.Reports;

/// <summary>How the recorder was connected, and how we know.</summary>
internal static class HookupPart
{
    public static IEnumerable<Block> Blocks(ReportContext context)
    {
        var (words, check) = (context.Words, context.Subject.Check);
        if (check is null) yield return new ParagraphBlock(words.Of("hookup.none"));
        foreach (var block in check is null ? [] : Judged(context, check)) yield return block;
        if (context.Subject.Proofs.IsEmpty) yield break;
        yield return new HeadingBlock(words.Of("hookup.proofs"));
        yield return ReportContext.Table(
            "Checks at the panel", "", [context.Text("col.at"), context.Text("col.by"), context.Text("col.verdict"), context.Number("col.probability"), context.Text("col.what")],
            context.Subject.Proofs.Select(proof => TableRow.Of(
                new TableCell(proof.At.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture)) { Time = proof.At.DateTime }, proof.Who, words.Of($"proof.{(proof.Verdict is "correct" or "faulty" ? proof.Verdict : "undecided")}"),
                double.IsFinite(proof.Confidence) ? new TableCell(ConfidenceWording.Percent(proof.Confidence)) { Number = proof.Confidence } : "–", proof.Faults.IsEmpty ? "–" : string.Join(' ', proof.Faults))));
    }

    private static IEnumerable<Block> Judged(ReportContext context, CheckDocument check)
    {
        var words = context.Words;

        var verdict = check.Verdict;
        var (from, to) = context.Subject.CheckSpan;
        yield return new ParagraphBlock(check.Headline, ParagraphStyle.Lead);
        var isWhole = from <= context.Log.From && to >= context.Log.To;
        yield return new ParagraphBlock($"{check.Confidence} {words.Of(isWhole ? "hookup.of-all" : "hookup.of-stretch", ("from", words.Time(from)), ("to", words.Time(to)))} {check.PhaseOrder}");
        var drawing = new FigureBlock(SvgDrawing.Read(HookupDrawing.Svg(verdict, context.Subject.Naming)), words.Of("hookup.figure"));
        if (verdict.Phasors.Keys.Count(channel => channel < Channel.I1) < 2) yield return drawing with { WidthShare = 0.42, Beside = [.. check.Places.Select(place => place.IsRight ? place.Says : $"**{place.Says}**")] };
        else yield return new FigurePairBlock(drawing, new FigureBlock(SvgDrawing.Read(VectorDiagram.Svg(verdict)), words.Of("hookup.vectors", ("says", VectorDiagram.Description(verdict)))));
        if (!check.Faults.IsEmpty)
        {
            yield return new HeadingBlock(words.Of("hookup.faults"));
            yield return ReportContext.Table("Hook-up faults", "", [context.Text("col.fault"), context.Text("col.remedy")], check.Faults.Select(fault => TableRow.Of(fault.Says, fault.Remedy)));
        }

        yield return new HeadingBlock(words.Of("hookup.evidence"));
        yield return new ParagraphBlock(words.Of("hookup.evidence.how"));
        yield return ReportContext.Table(
            "Evidence", words.Of("hookup.evidence.caption"), [context.Text("col.evidence"), context.Text("col.direction"), context.Text("col.says")],
            check.Evidence.Select(entry => TableRow.Of(entry.Title, words.Of(entry.IsFor ? "evidence.for" : "evidence.against"), entry.Says)));
        if (check.EvidenceTotal.Length > 0) yield return new ParagraphBlock(check.EvidenceTotal);
        if (!check.Rivals.IsEmpty)
        {
            yield return new HeadingBlock(words.Of("hookup.rivals"));
            yield return ReportContext.Table(
                "Other answers", "", [context.Text("col.other"), context.Number("col.probability"), context.Text("col.settle")],
                check.Rivals.Select(rival => TableRow.Of(
                    rival.Says, new TableCell(ConfidenceWording.Percent(rival.Answer.Probability)) { Number = rival.Answer.Probability }, rival.Settle)));
        }

        if (!check.SameReading.IsEmpty)
        {
            yield return new HeadingBlock(words.Of("hookup.alike"));
            yield return new ListBlock(check.SameReading);
        }

        if (!check.Notes.IsEmpty)
        {
            yield return new HeadingBlock(words.Of("hookup.notes"));
            yield return new ListBlock(check.Notes);
        }
    }

    /// <summary>A hook-up in a few words: what is not where it belongs.</summary>
    public static string Brief(ReportContext context, Hookup hookup)
    {
        var words = context.Words;
        var parts = hookup.Leads.Where(lead => lead.Value != Service.HomeOf(lead.Key))
            .Select(lead => lead.Value is { } on ? words.Of("place.on", ("channel", lead.Key.ToString()), ("conductor", Name(on))) : words.Of("place.lead-off", ("channel", lead.Key.ToString())))
            .Concat(hookup.Clamps.Where(clamp => clamp.Value != ClampPlace.Right(Service.HomeOf(clamp.Key))).Select(clamp => Clamp(context, clamp.Key, clamp.Value)));
        var list = string.Join("; ", parts);
        return list.Length == 0 ? words.Of("place.right") : list;
    }

    private static string Clamp(ReportContext context, Clamp clamp, ClampPlace place)
    {
        var words = context.Words;
        if (place.On is not { } on) return words.Of("place.clamp-off", ("channel", clamp.ToString()));
        var says = new List<string>();
        if (on != Service.HomeOf(clamp)) says.Add(words.Of("place.on", ("channel", clamp.ToString()), ("conductor", Name(on))));
        if (place.Reversed) says.Add(words.Of("place.reversed", ("channel", clamp.ToString())));
        if (Math.Abs(place.Scale - 1) > 1e-9) says.Add(words.Of("place.ratio", ("channel", clamp.ToString()), ("factor", words.Digits(place.Scale, 3))));
        return string.Join(", ", says);
    }

    private static string Name(Conductor conductor) => conductor.ToString();
}
