using System.CommandLine;
using System.Globalization;
using Leadwright.App.Verbs.Reporting;
using Leadwright.Core.Planning;
using Leadwright.Documents.Html;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Pdf;
using Leadwright.Documents.Sheets;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>The part <c>departing</c> of the verb <c>survey</c>: the check before leaving the site, signed.</summary>
internal static class SurveyDepartingVerb
{
    /// <summary>The command.</summary>
    /// <param name="output">Receives the answers.</param>
    /// <param name="error">Receives what can't be done.</param>
    /// <param name="clock">The clock of the entries.</param>
    public static Command Command(TextWriter output, TextWriter error, TimeProvider clock)
    {
        var folder = new Argument<string>("FOLDER") { Description = "The survey's folder." };
        var answers = new Argument<string[]>("ITEM=ANSWER")
        {
            Description = $"For each item one of {string.Join(", ", DepartingItems.Answers)}, and a remark after a colon: clock=yes:\"3 s slow\". All of them sign the check; none lists the items and what was signed.",
            Arity = ArgumentArity.ZeroOrMore,
        };
        answers.Validators.Add(result =>
        {
            foreach (var token in result.Tokens)
            {
                if (token.Value.IndexOf('=', StringComparison.Ordinal) <= 0) result.AddError($"'{token.Value}' is no ITEM=ANSWER such as clock=yes.");
            }
        });
        var who = SurveyOptions.Text("--who", "Who signs; the account's name without it.", "NAME");
        var note = SurveyOptions.Text("--note", "What else is to be known.", "TEXT");
        var sheet = new Option<string?>("--output", "-o") { Description = "The sheet to write, .pdf or .html: a form to fill by hand, or as it was signed.", HelpName = "FILE" };
        sheet.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string>() is { } path && !IsSheet(path)) result.AddError($"-o: '{path}' does not end in .pdf or .html.");
        });
        var paper = VerbOptions.Among("--paper", "Paper of a PDF.", "a4", "a4", "letter");
        var command = new Command("departing", "Signs the check before leaving the site, and prints it: clock, range, memory, supply, one switched load for each phase, covers.") { folder, answers, note, who, sheet, paper };
        command.SetAction((parsed, _) => SurveyRun.RunAsync(error, () =>
        {
            var path = parsed.GetValue(folder)!;
            var given = parsed.GetValue(answers) ?? [];
            if (given.Length == 0)
            {
                using var shown = SurveyFolder.Open(path);
                Write(output, shown.State);
                Print(output, shown.State, parsed.GetValue(sheet), parsed.GetValue(paper));
                return Task.FromResult(ExitCode.NothingWrong);
            }

            using var survey = SurveyFolder.Open(path, SurveyAccess.Write, new SurveyAuthor(parsed.GetValue(who) ?? Environment.UserName, clock));
            var items = DepartingItems.Of(survey.State.Panel);
            var said = given.Select(AnswerOf).GroupBy(pair => pair.Key, StringComparer.Ordinal).ToDictionary(group => group.Key, group => group.Last().Said, StringComparer.Ordinal);
            var name = parsed.GetValue(who) ?? Environment.UserName;
            var more = (parsed.GetValue(note) ?? "").Trim();
            if (DepartingItems.Problem(items, said, name, more) is { Length: > 0 } problem) throw new InputRefusedException(ExitCode.WrongUsage, problem);
            survey.Append(DepartingItems.Signed(items, said, more));
            Write(output, survey.State);
            Print(output, survey.State, parsed.GetValue(sheet), parsed.GetValue(paper));
            return Task.FromResult(ExitCode.NothingWrong);
        }));
        return command;
    }

    private static bool IsSheet(string path) => path.EndsWith(".pdf", StringComparison.OrdinalIgnoreCase) || path.EndsWith(".html", StringComparison.OrdinalIgnoreCase);

    private static void Print(TextWriter output, SurveyState state, string? path, string? paper)
    {
        if (path is null) return;
        var document = LeavingPaper.Build(SubjectOf(state), ProgramName.WithVersion());
        WholeFile.Write(path, path.EndsWith(".html", StringComparison.OrdinalIgnoreCase)
            ? System.Text.Encoding.UTF8.GetBytes(HtmlReport.Write(document)) : PdfReport.Write(document, paper == "letter" ? PaperSize.Letter : PaperSize.A4));
        output.WriteLine($"Written: {path}");
    }

    private static LeavingSubject SubjectOf(SurveyState state)
    {
        var site = state.Site.Name.Length > 0 ? state.Site.Name : state.Title;
        var known = state.Panel.Known();
        return new LeavingSubject
        {
            Site = state.Site.Place.Length > 0 ? $"{site}, {state.Site.Place}" : site,
            Plan = state.Panel.KnownService() is { } service && state.Panel.KnownNominal() is { } nominal
                ? PlanMaker.Of(new Core.Planning.SurveyPlan { Service = service.Kind, Nominal = nominal, FrequencyHertz = state.Panel.FrequencyHertz ?? 50, Load = known.Load, MayExport = known.MayExport }) : null,
            Items = state.Departure is { } signed
                ? [.. signed.Items.Select(item => (item.Text, item.IsDone, item.Remark ?? (item.Answer == DepartingItems.NotPossible ? DepartingItems.AnswerText(item) : "")))]
                : [.. DepartingItems.Of(state.Panel).Select(item => (item.Text, false, ""))],
            Note = state.Departure?.Note ?? "",
            Who = state.Departure?.Who ?? "",
            At = state.Departure?.At,
            Proofs = [.. state.Proofs.Select(ReportSurvey.ProofOf)],
            IsOfSurvey = true,
        };
    }

    private static (string Key, (string Answer, string Remark) Said) AnswerOf(string text)
    {
        var sign = text.IndexOf('=', StringComparison.Ordinal);
        var answer = text[(sign + 1)..];
        var colon = answer.IndexOf(':', StringComparison.Ordinal);
        return (text[..sign].Trim(), colon < 0 ? (answer.Trim(), "") : (answer[..colon].Trim(), answer[(colon + 1)..].Trim()));
    }

    private static void Write(TextWriter output, SurveyState state)
    {
        if (state.Departure is not { } signed)
        {
            output.WriteLine("Not signed yet. Items:");
            foreach (var item in DepartingItems.Of(state.Panel)) output.WriteLine($"  {item.Key}: {item.Text} ({item.Hint})");
            return;
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Signed by {signed.Who}, {signed.At.UtcDateTime:yyyy-MM-dd HH:mm'Z'}:"));
        foreach (var item in signed.Items) output.WriteLine($"  {item.Key ?? "item"}: {DepartingItems.AnswerText(item)}. {item.Text}{(item.Remark is { } remark ? $" ({remark})" : "")}");
        if (signed.Note.Length > 0) output.WriteLine($"  {signed.Note}");
    }
}
