using System.CommandLine;
using Leadwright.App.Hosting.Surveys;
using Leadwright.App.Verbs.Matching;
using Leadwright.App.Verbs.Surveying;
using Leadwright.Core.Mending;
using Leadwright.Reports.Mending;

namespace Leadwright.App.Verbs.Mending;

/// <summary>The verb <c>mend</c>: undoes what can honestly be undone, and says with what uncertainty.</summary>
public sealed class MendVerb
{
    private readonly MendVerbOptions _options = new();

    /// <summary>The command with its options.</summary>
    /// <param name="output">Receives the answers.</param>
    /// <param name="error">Receives what can't be used.</param>
    public Command Command(TextWriter output, TextWriter error)
    {
        var command = new Command("mend", "Undoes what can honestly be undone in a log of intervals, and says with what uncertainty.\n"
            + "Exit codes: 0 nothing to mend, 10 mended, or something found that can't be, 11 cannot decide, 1 an input can't be used, 2 wrong usage.");
        _options.AddTo(command);
        command.SetAction((parsed, cancellation) => Task.Run(() => RunAsync(parsed, output, error, cancellation), cancellation));
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        var request = _options.RequestOf(parsed);
        var codes = new List<ExitCode>();
        void Refuse(InputRefusedException refusal)
        {
            error.WriteLine(refusal.Message);
            codes.Add(refusal.ExitCode);
        }

        var inputs = SurveyInput.Of(InputPaths.WithoutCompanions(_options.FilesOf(parsed)), request.Recording.Recording, Refuse, "log");
        if (inputs.Count > 1 && request.Output is not null)
        {
            await error.WriteLineAsync($"-o names one table: mend the recordings one by one, of a survey with --recording.{SurveyInput.NamesOf(inputs)}");
            return (int)ExitCode.WrongUsage;
        }

        foreach (var input in inputs)
        {
            try
            {
                var completed = request with { Recording = input.Complete(request.Recording), Known = _options.KnownOf(parsed, input.State) };
                if (input is { State: { } state, Recording: { } recording }) completed = completed with { Withdrawn = CorrectionLayers.OffOf(state, recording) };
                var document = await MendRun.MendAsync(input.Path, completed, cancellation);
                if (!request.IsJson && codes.Count > 0) await output.WriteLineAsync();
                await output.WriteAsync(request.IsJson ? MendJson.Line(document) + "\n" : MendText.Of(document with { Notes = AskedQuestions.WithoutThem(document.Notes) }));
                if (!request.IsJson) await AskedQuestions.WriteAsync(output, document.Notes, input.NameForColumns);
                codes.Add(CodeOf(document.Report));
                if (_options.Keeps(parsed)) await KeepAsync(input, document.Report, cancellation);
            }
            catch (InputRefusedException refusal)
            {
                Refuse(refusal);
            }
        }

        return (int)ExitCodes.WorstOf(codes);
    }

    private static Task KeepAsync(SurveyInput input, MendReport report, CancellationToken cancellation) => input.KeepTableAsync(
        (folder, survey, part) => MendedTable.WriteAsync(folder, survey, part, input.Recording!, report, cancellation));

    private static ExitCode CodeOf(MendReport report) =>
        !report.Corrections.IsEmpty || report.HasUnmendableFault ? ExitCode.FaultsFound : report.IsUndecided ? ExitCode.CannotDecide : ExitCode.NothingWrong;
}
