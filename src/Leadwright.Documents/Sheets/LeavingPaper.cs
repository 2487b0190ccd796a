using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Planning;
using Leadwright.Core.Wording;
using Leadwright.Documents.Model;
using Leadwright.Documents.Reports;
using Leadwright.Documents.Words;
using Leadwright.Reports.Hookups;
using Leadwright.Reports.Planning;

namespace Leadwright.Documents.Sheets;

/// <summary>Makes the check before leaving the site: a form to fill by hand, or as it was signed.</summary>
public static class LeavingPaper
{
    // More proofs than these belong in the report.
    private const int MostProofs = 5;

    /// <summary>Builds it.</summary>
    /// <param name="subject">What is known.</param>
    /// <param name="program">The program with its version.</param>
    /// <param name="words">The words; null for the shipped ones.</param>
    public static ReportDocument Build(LeavingSubject subject, string program, ReportWords? words = null)
    {
        ArgumentNullException.ThrowIfNull(subject);
        words ??= ReportWords.English;
        using var spoken = Say.By(words.Spoken);
        var parts = ImmutableArray.CreateBuilder<ReportPart>();
        parts.Add(new ReportPart("go-through", words.Of("sheet.leaving.go-through"), [.. GoThrough(subject, words)]));
        if (subject.IsOfSurvey) parts.Add(new ReportPart("proofs", words.Of("sheet.leaving.proofs"), [.. Proofs(subject, words)]));
        var isOpen = subject.At is null && subject.Plan is not null;
        parts.Add(new ReportPart(isOpen ? "readings" : "note", words.Of(isOpen ? "sheet.leaving.readings" : "sheet.leaving.note"), [.. isOpen ? Form(subject.Plan!, words) : Note(subject, words)]));
        return new ReportDocument
        {
            Title = words.Of("sheet.leaving"),
            Subtitle = subject.Site,
            Language = words.Language,
            HasTitlePage = false,
            Parts = parts.ToImmutable(),
            Date = subject.At?.DateTime ?? default,
            Identity = PlanPaper.IdentityOf(
                program, words.Language, subject.Site, subject.Plan is { } known ? PlanJson.Line(known) : "", string.Join('\n', subject.Items), subject.Note, subject.Who,
                subject.At?.ToString("O", CultureInfo.InvariantCulture) ?? "", string.Join('\n', subject.Proofs.Select(proof => $"{proof.At:O} {proof.Verdict}"))),
            Producer = program,
            Words = PlanPaper.FrameOf(words),
        };
    }

    private static IEnumerable<Block> GoThrough(LeavingSubject subject, ReportWords words)
    {
        if (subject.Plan is { } sheet) yield return new ParagraphBlock(PlanPaper.ServiceLine(sheet.Plan, words), ParagraphStyle.Lead);
        yield return new NoticeBlock("", [Cautions.Line]);
        if (subject.At is { } at)
        {
            var open = subject.Items.Count(item => !item.IsDone);
            var all = $"{subject.Items.Length}";
            yield return new ParagraphBlock($"{words.Of("sheet.leaving.signed", ("who", subject.Who), ("time", words.Time(at.DateTime.AddTicks(-(at.Ticks % TimeSpan.TicksPerMinute)))))} "
                + (open == 0 ? words.Of("sheet.leaving.all", ("all", all)) : words.Of("sheet.leaving.open", ("count", $"{open}"), ("all", all))));
            yield return new TicksBlock([.. subject.Items.Select(item => new TickItem(item.Text, item.IsDone, item.Said.Length > 0 ? item.Said : item.IsDone ? "" : words.Of("sheet.leaving.not-done")))]);
            yield break;
        }

        yield return new TicksBlock([.. subject.Items.IsEmpty ? DepartingWording.Of(subject.Plan?.Plan.Service).Select(item => new TickItem(item.Text)) : subject.Items.Select(item => new TickItem(item.Text))]);
    }

    private static IEnumerable<Block> Proofs(LeavingSubject subject, ReportWords words)
    {
        if (subject.Proofs.IsEmpty)
        {
            yield return new ParagraphBlock(words.Of("sheet.leaving.no-proof"));
            yield break;
        }

        yield return new TableBlock(
            Say.Of("list.checks-at-the-panel", "Checks at the panel"), "",
            [new(words.Of("col.at")), new(words.Of("col.by")), new(words.Of("col.verdict")), new(words.Of("col.probability"), IsNumber: true), new(words.Of("col.what"))],
            [.. subject.Proofs.TakeLast(MostProofs).Select(proof => RowOf(proof, words))]);
    }

    private static TableRow RowOf(PanelProof proof, ReportWords words) => TableRow.Of(
        proof.At.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture), proof.Who, words.Of($"proof.{(proof.Verdict is "correct" or "faulty" ? proof.Verdict : "undecided")}"),
        double.IsFinite(proof.Confidence) ? ConfidenceWording.Percent(proof.Confidence) : "–", proof.Faults.IsEmpty ? "–" : string.Join(' ', proof.Faults));

    private static IEnumerable<Block> Form(PlanSheet plan, ReportWords words)
    {
        yield return new ColumnsBlock(
            [PlanPaper.Readings(plan, words), new ParagraphBlock(words.Of("sheet.plan.angles"), ParagraphStyle.Small)], [new RuledBlock(words.Of("sheet.leaving.note"), 9)], 0.66);
        yield return Signature(new LeavingSubject(), words);
    }

    private static IEnumerable<Block> Note(LeavingSubject subject, ReportWords words)
    {
        if (subject.Note.Length > 0) yield return new ParagraphBlock(subject.Note);
        yield return new RuledBlock("", subject.At is null ? 3 : 2);
        yield return Signature(subject, words);
    }

    private static SignatureBlock Signature(LeavingSubject subject, ReportWords words)
    {
        var labels = (words.Of("sign.signature"), words.Of("sign.name"), words.Of("sheet.plan.date"));
        return new SignatureBlock("", [new Signer(words.Of("sheet.leaving.checked"), subject.Who, labels)]);
    }
}
