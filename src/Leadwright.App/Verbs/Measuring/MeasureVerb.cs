using System.CommandLine;
using Leadwright.App.Verbs.Surveying;
using Leadwright.Formats;
using Leadwright.Reports.Measuring;
using Leadwright.Surveys;
using Leadwright.Surveys.Storage;

namespace Leadwright.App.Verbs.Measuring;

/// <summary>The verb <c>measure</c>: computes the standard parameters from a sampled recording into a table.</summary>
public sealed class MeasureVerb
{
    private readonly MeasureVerbOptions _options = new();

    /// <summary>The command with its options.</summary>
    /// <param name="output">Receives the answers.</param>
    /// <param name="error">Receives progress and what can't be used.</param>
    public Command Command(TextWriter output, TextWriter error)
    {
        var command = new Command("measure", "Computes the standard parameters from a sampled recording, into a table with -o.\n"
            + "Exit codes: 0 measured, 1 an input can't be used, 2 wrong usage, 130 interrupted.");
        _options.AddTo(command);
        command.SetAction((parsed, cancellation) => Task.Run(() => RunAsync(parsed, output, error, cancellation), cancellation));
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        var request = _options.RequestOf(parsed);
        var isJson = _options.IsJson(parsed);
        var codes = new List<ExitCode>();
        void Refuse(InputRefusedException refusal)
        {
            error.WriteLine(refusal.Message);
            codes.Add(refusal.ExitCode);
        }

        var inputs = SurveyInput.Of(InputPaths.WithoutCompanions(_options.FilesOf(parsed)), request.Recording, Refuse, "samples");
        if (inputs.Count > 1 && request.Output is not null)
        {
            await error.WriteLineAsync($"-o names one table: measure the files one by one, of a survey with --recording.{SurveyInput.NamesOf(inputs)}");
            return (int)ExitCode.WrongUsage;
        }

        foreach (var input in inputs)
        {
            var path = input.Path;
            try
            {
                var completed = input.Complete(request);
                using var kept = _options.Keeps(parsed) ? KeptMeasure.For(input, completed) : null;
                if (kept is not null) completed = kept.Request;
                var document = MeasureRun.Measure(MeasureInput.Open(path, completed, cancellation), completed, MeasureProgress.Of(path, error), cancellation);
                if (kept is not null) document = await kept.KeepAsync(document, cancellation);
                if (!isJson && codes.Count > 0) await output.WriteLineAsync($"\n{new string('=', 80)}\n");
                await output.WriteAsync(isJson ? MeasureJson.Line(document) + "\n" : MeasureText.Write(document));
                codes.Add(ExitCode.NothingWrong);
            }
            catch (OperationCanceledException)
            {
                await error.WriteLineAsync(request.Output is null
                    ? "Interrupted."
                    : $"Interrupted. Nothing is written to '{request.Output}' yet; the same command with --resume goes on where it stopped.");
                return (int)ExitCode.Interrupted;
            }
            catch (InputRefusedException refusal)
            {
                Refuse(refusal);
            }
            catch (FormatReadException failure)
            {
                await error.WriteLineAsync(failure.Message);
                codes.Add(ExitCode.InputUnusable);
            }
            catch (IOException failure)
            {
                await error.WriteLineAsync(StorageFailure.ProblemOf(failure) is SurveyProblem.DiskFull
                    ? InputRefusedException.CannotWrite($"what is measured of '{path}'", failure).Message : $"Cannot go on with '{path}': {failure.Message}");
                codes.Add(ExitCode.InputUnusable);
            }
        }

        return (int)ExitCodes.WorstOf(codes);
    }
}
