using System.Collections.Immutable;
using System.CommandLine;
using Leadwright.Core.Hookups;
using Leadwright.Core.Practice;
using Leadwright.Formats;
using Leadwright.Formats.Practice;
using Leadwright.Reports.Practice;

namespace Leadwright.App.Verbs.Practising;

/// <summary>The verb <c>practice</c>: makes an exercise panel with hidden faults, and marks an answer.</summary>
/// <param name="judge">Weighs the hook-ups, for what could be known.</param>
public sealed class PracticeVerb(Func<PanelReadings, CheckOptions, HookupVerdict> judge)
{
    private const string DefaultFolder = "exercise";
    private readonly PracticeVerbOptions _options = new();

    /// <summary>The command with its options.</summary>
    /// <param name="output">Receives the exercise and the marks.</param>
    /// <param name="error">Receives what can't be used.</param>
    public Command Command(TextWriter output, TextWriter error)
    {
        var command = new Command("practice", "Makes an exercise panel with hidden faults as a folder of files, and marks an answer.\n"
            + "Exit codes: 0 made, or all answers right; 10 an answer is wrong; 11 wrong, and nobody could have known; 1 an input can't be used; 2 wrong usage.");
        _options.AddTo(command);
        command.SetAction((parsed, cancellation) => RunAsync(parsed, output, error, cancellation));
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        var request = _options.RequestOf(parsed);
        try
        {
            return (int)(request.Task switch
            {
                PracticeTask.Make => await MakeAsync(request, output),
                PracticeTask.Take => await TakeAsync(request, output, error),
                PracticeTask.Class => await AddUpAsync(request, output, error, cancellation),
                _ => await MarkAsync(request, output, error, cancellation),
            });
        }
        catch (InputRefusedException refusal)
        {
            await error.WriteLineAsync(refusal.Message);
            return (int)refusal.ExitCode;
        }
    }

    private static async Task<ExitCode> MakeAsync(PracticeRequest request, TextWriter output)
    {
        if (!request.Key.TakesSite && (request.Key.Service is not null || request.Key.Load is not null))
        {
            throw new InputRefusedException(
                ExitCode.WrongUsage, $"The form {ExerciseKey.WordOf(request.Key.Form)} has a service and a load of its own: leave out --service and --load.");
        }

        var folder = request.Output ?? DefaultFolder;
        var exercise = Exercise.Of(request.Key);
        ExerciseFolder.Write(folder, exercise, request.Trainee);
        if (request.IsJson)
        {
            await output.WriteLineAsync(PracticeJson.Of(exercise));
            return ExitCode.NothingWrong;
        }

        await output.WriteAsync(PracticeText.Of(exercise));
        var answer = Path.Combine(folder, "answer.json");
        await output.WriteLineAsync($"\nFill in {answer}, then: leadwright practice --mark {answer}");
        if (!exercise.Actions.IsEmpty) await output.WriteLineAsync($"One more reading: leadwright practice --take {exercise.Actions[0].Id} {answer}");
        return ExitCode.NothingWrong;
    }

    private static async Task<ExitCode> TakeAsync(PracticeRequest request, TextWriter output, TextWriter error)
    {
        if (request.Files.Count > 1) throw new InputRefusedException(ExitCode.WrongUsage, "--take is for one answer at a time.");
        var file = ExerciseFolder.Open(request.Files[0]);
        try
        {
            var exercise = Exercise.Of(AnswerReader.ReadBegun(file, out _, out var taken));
            if (!exercise.Actions.Contains(request.Action!))
            {
                throw new InputRefusedException(ExitCode.WrongUsage, exercise.Actions.IsEmpty
                    ? "--take: nothing more can be read in this exercise."
                    : $"--take: '{request.Action!.Id}' can't be done in this exercise. It has {string.Join(", ", exercise.Actions.Select(action => action.Id))}.");
            }

            var reading = exercise.Take(request.Action!);
            ExerciseFolder.Note(file, taken, request.Action!);
            if (request.IsJson) await output.WriteLineAsync(PracticeJson.Of(reading));
            else await output.WriteAsync(PracticeText.Of(reading));
            return ExitCode.NothingWrong;
        }
        catch (FormatReadException failure)
        {
            await error.WriteLineAsync(failure.Message);
            return ExitCode.InputUnusable;
        }
    }

    private async Task<ExitCode> MarkAsync(PracticeRequest request, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        var codes = new List<ExitCode>();
        foreach (var path in request.Files)
        {
            cancellation.ThrowIfCancellationRequested();
            try
            {
                var mark = MarkOf(ExerciseFolder.Open(path));
                var opinion = Marking.Ask(mark, judge);
                var document = MarkDocument.Of(mark, opinion);
                if (!request.IsJson && codes.Count > 0) await output.WriteLineAsync();
                await output.WriteAsync(request.IsJson ? PracticeJson.Of(document, path) + "\n" : PracticeText.Of(document, path));
                codes.Add(mark.IsRight ? ExitCode.NothingWrong : opinion is { CouldBeKnown: false } ? ExitCode.CannotDecide : ExitCode.FaultsFound);
            }
            catch (InputRefusedException refusal)
            {
                await error.WriteLineAsync(refusal.Message);
                codes.Add(refusal.ExitCode);
            }
        }

        return ExitCodes.WorstOf(codes);
    }

    private static async Task<ExitCode> AddUpAsync(PracticeRequest request, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        var entries = ImmutableArray.CreateBuilder<ClassEntry>();
        var code = ExitCode.NothingWrong;
        foreach (var path in request.Files.SelectMany(AnswersIn))
        {
            cancellation.ThrowIfCancellationRequested();
            try
            {
                entries.Add(ClassEntry.Of(MarkOf(ExerciseFolder.Open(path))));
            }
            catch (InputRefusedException refusal)
            {
                // One answer that is not filled in must not hide the others.
                await error.WriteLineAsync(refusal.Message);
                code = refusal.ExitCode;
            }
        }

        var sheet = new ClassSheet(entries.ToImmutable());
        if (request.Output is { } csv) WholeFile.Write(csv, ClassSheetCsv.Of(sheet));
        if (request.IsJson) await output.WriteLineAsync(PracticeJson.Of(sheet));
        else await output.WriteAsync(PracticeText.Of(sheet));
        return code;
    }

    private static PracticeMark MarkOf(InputFile file)
    {
        try
        {
            var answer = AnswerReader.Read(file);
            return Marking.Mark(Exercise.Of(answer.Exercise), answer.Answer);
        }
        catch (FormatReadException failure)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, failure.Message, failure);
        }
        catch (ArgumentException failure)
        {
            var message = failure.Message.Split(" (Parameter", 2)[0];
            throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot mark '{file.Name}': {message} Look at exercise.json beside it.", failure);
        }
    }

    private static IEnumerable<string> AnswersIn(string folder)
    {
        if (File.Exists(folder)) return [folder];
        if (!Directory.Exists(folder)) throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot read '{folder}': there is no such folder. Look at its name.");
        return Directory.EnumerateFiles(folder, "*.json", SearchOption.AllDirectories)
            .Where(path => File.ReadAllText(path).Contains(AnswerWriter.Schema, StringComparison.Ordinal)).Order(StringComparer.Ordinal);
    }
}
