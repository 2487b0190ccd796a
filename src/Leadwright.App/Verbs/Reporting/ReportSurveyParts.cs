using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Leadwright.App.Verbs.Surveying;
using Leadwright.Core.Wording;
using Leadwright.Documents.Model;
using Leadwright.Documents.Words;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Verbs.Reporting;

/// <summary>What people wrote and signed in a survey, laid into the parts of its report: the customer's questions, notes, the check before leaving, corrections that were
/// switched off, the papers that are kept.</summary>
internal static class ReportSurveyParts
{
    /// <summary>A document with them.</summary>
    /// <param name="document">The document as built.</param>
    /// <param name="survey">The survey; null for a file as named.</param>
    /// <param name="recording">Name of the recording; null for none.</param>
    public static ReportDocument AddTo(ReportDocument document, SurveyState? survey, string? recording)
    {
        if (survey is null) return document;
        ImmutableArray<ReportPart> parts = [.. document.Parts.Select((part, index) => part with { Blocks = [.. Before(part, index == 0, survey), .. part.Blocks, .. After(part, survey, recording).Select(TableNames.Said)] })];
        if (parts.Zip(document.Parts).All(pair => pair.First.Blocks.Length == pair.Second.Blocks.Length)) return document;
        return document with { Parts = parts, Identity = IdentityOf(document, parts) };
    }

    private static IEnumerable<Block> Before(ReportPart part, bool isFirst, SurveyState survey)
    {
        var words = survey.ReportWords;
        if (isFirst && words.TryGetValue("questions", out var questions))
        {
            yield return new HeadingBlock(Say.Of("kept.what-the-customer-asked", "What the customer asked"));
            yield return new AnswersBlock([.. ReportPlaces.LinesOf(questions).Select(ReportPlaces.QuestionOf).Select(pair =>
                new QuestionAnswer(pair.Question, "", pair.Answer.Length > 0 ? pair.Answer : Say.Of("kept.no-answer-was-written", "No answer was written."), pair.Answer.Length > 0 ? AnswerMood.Plain : AnswerMood.Open))]);
        }

        if (words.TryGetValue(ReportPlaces.NotePrefix + part.Id, out var note)) yield return new NoticeBlock(Say.Of("kept.note-of-the-author", "Note of the author"), ReportPlaces.LinesOf(note));
    }

    private static IEnumerable<Block> After(ReportPart part, SurveyState survey, string? recording) => part.Id switch
    {
        "hook-up" => Departure(survey),
        "mended" => SwitchedOff(survey, recording),
        "data" => Papers(survey),
        _ => [],
    };

    private static IEnumerable<Block> Departure(SurveyState survey)
    {
        if (survey.Departure is not { } signed) yield break;
        yield return new HeadingBlock(Say.Of("kept.check-before-leaving-the-site", "Check before leaving the site"));
        yield return new ParagraphBlock(Say.Of("kept.signed-by", "Signed by {who}, {at}.", ("who", signed.Who), ("at", Time(signed.At))) + (signed.Note.Length > 0 ? $" {signed.Note}" : ""));
        yield return new TableBlock(
            "Check before leaving", "", [new TableColumn(Say.Of("kept.looked-at", "Looked at")), new TableColumn(Say.Of("kept.answer", "Answer")), new TableColumn(Say.Of("kept.remark", "Remark"))],
            [.. signed.Items.Select(item => TableRow.Of(item.Text, AnswerOf(item), item.Remark ?? "–"))]);
    }

    private static string AnswerOf(DepartureItem item) => DepartingItems.AnswerText(item) switch
    {
        DepartingItems.Yes => Say.Of("kept.yes", "yes"),
        DepartingItems.No => Say.Of("kept.no", "no"),
        _ when item.Answer == DepartingItems.NotPossible => Say.Of("kept.not-possible", "not possible"),
        var answer => answer,
    };

    private static IEnumerable<Block> SwitchedOff(SurveyState survey, string? recording)
    {
        var off = survey.Corrections.Where(layer => !layer.IsOn && string.Equals(layer.Recording, recording, StringComparison.OrdinalIgnoreCase)).ToList();
        if (off.Count == 0) yield break;
        yield return new HeadingBlock(Say.Of("kept.corrections-that-were-found-and", "Corrections that were found and switched off"));
        yield return new ListBlock([.. off.Select(layer => Say.Of("kept.reason", "{says} Reason: {why} ({who}, {at})", ("says", SaysOf(layer)), ("why", layer.Why), ("who", layer.Who), ("at", Time(layer.At))))]);
    }

    private static IEnumerable<Block> Papers(SurveyState survey)
    {
        if (survey.Photos.IsEmpty) yield break;
        yield return new HeadingBlock(Say.Of("kept.photos-and-papers-kept-with", "Photos and papers kept with the survey"));
        yield return new TableBlock(
            "Photos and papers", "", [new TableColumn(Say.Of("kept.file", "File")), new TableColumn(Say.Of("kept.shows", "Shows")), new TableColumn("SHA-256")],
            [.. survey.Photos.Select(photo => TableRow.Of(photo.File.Name, photo.Caption.Length > 0 ? photo.Caption : "–", photo.File.Sha256))]);
    }

    private static string SaysOf(KeptCorrection layer) =>
        layer.Correction.ValueKind == System.Text.Json.JsonValueKind.Object && layer.Correction.TryGetProperty("says", out var says) ? says.GetString() ?? layer.Id : layer.Id;

    private static string Time(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd HH:mm 'UTC'", CultureInfo.InvariantCulture);

    // Two reports that read differently must not bear the same mark.
    private static ImmutableArray<byte> IdentityOf(ReportDocument document, ImmutableArray<ReportPart> parts)
    {
        var added = new StringBuilder();
        foreach (var (part, before) in parts.Zip(document.Parts))
        {
            foreach (var block in part.Blocks.Except(before.Blocks)) added.Append(part.Id).Append('\n').AppendJoin('\n', TextsOf(block)).Append('\n');
        }

        return [.. SHA256.HashData([.. document.Identity, .. Encoding.UTF8.GetBytes(added.ToString())]).AsSpan(0, document.Identity.Length)];
    }

    private static IEnumerable<string> TextsOf(Block block) => block switch
    {
        HeadingBlock heading => [heading.Text],
        ParagraphBlock paragraph => [paragraph.Text],
        ListBlock list => list.Items,
        NoticeBlock notice => notice.Lines,
        AnswersBlock answers => answers.Answers.SelectMany(answer => new[] { answer.Question, answer.Text }),
        TableBlock table => table.Rows.SelectMany(row => row.Cells).Select(cell => cell.Text),
        _ => [],
    };
}
