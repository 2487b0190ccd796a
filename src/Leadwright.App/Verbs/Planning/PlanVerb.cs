using System.CommandLine;
using Leadwright.Core.Planning;
using Leadwright.Documents.Pdf;
using Leadwright.Documents.Sheets;
using Leadwright.Reports.Planning;

namespace Leadwright.App.Verbs.Planning;

/// <summary>The verb <c>plan</c>: what to take along, how to connect, what to expect, how long and how fine to record.</summary>
public sealed class PlanVerb
{
    private readonly PlanVerbOptions _options = new();

    /// <summary>The command with its options.</summary>
    /// <param name="output">Receives the plan.</param>
    /// <param name="error">Receives what can't be used.</param>
    public Command Command(TextWriter output, TextWriter error)
    {
        var command = new Command("plan", "Works out a survey before it is hung: expected readings, clamps, interval, length, memory, and a sheet to print.\n"
            + "Exit codes: 0 everything fits, 10 something does not fit, 1 the sheet can't be written, 2 wrong usage.");
        _options.AddTo(command);
        command.SetAction((parsed, _) => RunAsync(parsed, output, error));
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, TextWriter output, TextWriter error)
    {
        try
        {
            var sheet = Make(_options.PlanOf(parsed));
            var (site, naming) = (_options.NameOf(parsed), _options.NamingOf(parsed));
            foreach (var path in _options.OutputsOf(parsed))
            {
                if (path.EndsWith(".html", StringComparison.OrdinalIgnoreCase)) WholeFile.Write(path, PlanHtml.Of(sheet, naming, site));
                else WholeFile.Write(path, PdfReport.Write(PlanPaper.Build(sheet, naming, site, ProgramName.WithVersion()), _options.PaperOf(parsed)));
            }

            if (_options.LeavingOf(parsed) is { } leaving)
                WholeFile.Write(leaving, PdfReport.Write(LeavingPaper.Build(new LeavingSubject { Site = site, Plan = sheet }, ProgramName.WithVersion()), _options.PaperOf(parsed)));
            await output.WriteAsync(_options.IsJson(parsed) ? PlanJson.Line(sheet, site) + "\n" : PlanText.Of(sheet, naming, site));
            return (int)(sheet.Warnings.IsEmpty ? ExitCode.NothingWrong : ExitCode.FaultsFound);
        }
        catch (InputRefusedException refusal)
        {
            await error.WriteLineAsync(refusal.Message);
            return (int)refusal.ExitCode;
        }
    }

    private static PlanSheet Make(SurveyPlan plan)
    {
        try
        {
            return PlanMaker.Of(plan);
        }
        catch (ArgumentException failure)
        {
            throw new InputRefusedException(ExitCode.WrongUsage, failure.Message.Split(" (Parameter", 2)[0], failure);
        }
    }
}
