using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Leadwright.App.Verbs.Reporting;
using Leadwright.Core.Planning;
using Leadwright.Documents.Html;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Model;
using Leadwright.Documents.Pdf;
using Leadwright.Documents.Sheets;
using Leadwright.Reports.Planning;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Verbs.Surveying;

/// <summary>The part <c>leave</c> of the verb <c>survey</c>: the check before leaving, to fill by hand, to sign, or as it was signed.</summary>
internal sealed class SurveyLeave
{
    private readonly Argument<string> _folder;
    private readonly Option<string?> _who;
    private readonly Func<ParseResult, Option<string?>, SurveyAuthor> _author;
    private readonly Option<string?> _output = new("--output", "-o") { Description = "The sheet to write: .pdf or .html.", HelpName = "FILE" };
    private readonly Option<string?> _paper = VerbOptions.Among("--paper", "Paper of a PDF.", "a4", "a4", "letter");
    private readonly Option<bool> _sign = new("--sign") { Description = "Signs it: every line was gone through and is in order, but those of --except." };
    private readonly Option<string?> _except = SurveyOptions.Text("--except", "Numbers of lines that are not in order, with commas, counted from the top of the sheet.", "N,…");
    private readonly Option<string?> _note = SurveyOptions.Text("--note", "What else is to be said.", "TEXT");

    /// <summary>Makes it.</summary>
    /// <param name="folder">The survey's folder.</param>
    /// <param name="who">Who signs.</param>
    /// <param name="author">How the one who signs is read.</param>
    public SurveyLeave(Argument<string> folder, Option<string?> who, Func<ParseResult, Option<string?>, SurveyAuthor> author) => (_folder, _who, _author) = (folder, who, author);

    /// <summary>The command.</summary>
    /// <param name="output">Receives the answers.</param>
    /// <param name="error">Receives what can't be done.</param>
    public Command Command(TextWriter output, TextWriter error)
    {
        var command = new Command("leave", "Prints the check before leaving the site: a form to fill by hand, or as it was signed; signs it with --sign.") { _folder, _output, _paper, _sign, _except, _note, _who };
        _output.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string>() is { } path && !IsSheet(path)) result.AddError($"-o: '{path}' does not end in .pdf or .html.");
        });
        _except.Validators.Add(result =>
        {
            if (NumbersOf(result.GetValueOrDefault<string>()) is null) result.AddError($"--except: expected numbers from 1 to {PlanWording.Panel.Length} with commas, such as 3,5.");
        });
        command.Validators.Add(result =>
        {
            var signs = result.GetValue(_sign);
            if (!signs && result.GetValue(_output) is null) result.AddError("Name the sheet to write with -o, such as leaving.pdf, or sign it with --sign.");
            if (!signs && (result.GetValue(_except) is not null || result.GetValue(_note) is not null)) result.AddError("--except and --note belong to --sign.");
        });
        command.SetAction((parsed, _) => SurveyRun.RunAsync(error, () => Task.FromResult(Run(parsed, output))));
        return command;
    }

    private ExitCode Run(ParseResult parsed, TextWriter output)
    {
        var path = parsed.GetValue(_folder)!;
        var signs = parsed.GetValue(_sign);
        using var survey = signs ? SurveyFolder.Open(path, SurveyAccess.Write, _author(parsed, _who)) : SurveyFolder.Open(path);
        if (signs)
        {
            var open = NumbersOf(parsed.GetValue(_except))!;
            survey.Append(new DepartureSigned([.. PlanWording.Panel.Select((text, index) => new DepartureItem(text, !open.Contains(index + 1)))], parsed.GetValue(_note) ?? ""));
            output.WriteLine(open.Count == 0 ? "Signed." : $"Signed, with {open.Count} not in order.");
        }

        if (parsed.GetValue(_output) is { } file)
        {
            var document = LeavingPaper.Build(SubjectOf(survey.State), ProgramName.WithVersion());
            WholeFile.Write(file, BytesOf(document, file, parsed.GetValue(_paper) == "letter" ? PaperSize.Letter : PaperSize.A4));
            output.WriteLine($"Written: {file}");
        }

        return survey.State.Departure is { } departure && departure.Items.Any(item => !item.IsDone) ? ExitCode.FaultsFound : ExitCode.NothingWrong;
    }

    /// <summary>The bytes of a sheet in the format that its file's name ends in.</summary>
    public static byte[] BytesOf(ReportDocument document, string path, PaperSize paper) => path.EndsWith(".html", StringComparison.OrdinalIgnoreCase)
        ? System.Text.Encoding.UTF8.GetBytes(HtmlReport.Write(document)) : PdfReport.Write(document, paper);

    private static bool IsSheet(string path) => path.EndsWith(".pdf", StringComparison.OrdinalIgnoreCase) || path.EndsWith(".html", StringComparison.OrdinalIgnoreCase);

    private static LeavingSubject SubjectOf(SurveyState state)
    {
        var site = state.Site.Name.Length > 0 ? state.Site.Name : state.Title;
        var known = state.Panel.Known();
        return new LeavingSubject
        {
            Site = state.Site.Place.Length > 0 ? $"{site}, {state.Site.Place}" : site,
            Plan = state.Panel.KnownService() is { } service && state.Panel.KnownNominal() is { } nominal
                ? PlanMaker.Of(new Core.Planning.SurveyPlan { Service = service.Kind, Nominal = nominal, FrequencyHertz = state.Panel.FrequencyHertz ?? 50, Load = known.Load, MayExport = known.MayExport }) : null,
            Items = state.Departure is { } departure ? [.. departure.Items.Select(item => (item.Text, item.IsDone))] : [],
            Note = state.Departure?.Note ?? "",
            Who = state.Departure?.Who ?? "",
            At = state.Departure?.At,
            Proofs = [.. state.Proofs.Select(ReportSurvey.ProofOf)],
            IsOfSurvey = true,
        };
    }

    private static HashSet<int>? NumbersOf(string? text)
    {
        var numbers = new HashSet<int>();
        foreach (var part in (text ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (!int.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out var number) || number < 1 || number > PlanWording.Panel.Length) return null;
            numbers.Add(number);
        }

        return numbers;
    }
}
