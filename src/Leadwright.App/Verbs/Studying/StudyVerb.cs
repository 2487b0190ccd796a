using System.CommandLine;
using System.Text;
using Leadwright.App.Verbs.Measuring;
using Leadwright.App.Verbs.Surveying;
using Leadwright.Formats.Limits;
using Leadwright.Reports.Studies;

namespace Leadwright.App.Verbs.Studying;

/// <summary>The verb <c>study</c>: load study and voltage-quality study with limits.</summary>
public sealed class StudyVerb
{
    private readonly StudyVerbOptions _options = new();

    /// <summary>The command with its options.</summary>
    /// <param name="output">Receives the answers.</param>
    /// <param name="error">Receives progress and what can't be used.</param>
    public Command Command(TextWriter output, TextWriter error)
    {
        var command = new Command("study", "Load study and voltage-quality study of a log of intervals or a recording, with limits.\n"
            + "Exit codes: 0 no limit failed, 10 a limit failed, 11 limits were asked for and none could be judged, 1 an input can't be used, 2 wrong usage.");
        _options.AddTo(command);
        command.SetAction((parsed, cancellation) => Task.Run(() => Run(parsed, output, error, cancellation), cancellation));
        return command;
    }

    private int Run(ParseResult parsed, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        if (_options.ShownLimits(parsed) is { } shown)
        {
            output.Write(Encoding.UTF8.GetString(LimitTableReader.ShippedFile(shown)!.Bytes.Span));
            return (int)ExitCode.NothingWrong;
        }

        StudyRequest request;
        try
        {
            request = _options.RequestOf(parsed);
        }
        catch (InputRefusedException refusal)
        {
            error.WriteLine(refusal.Message);
            return (int)refusal.ExitCode;
        }

        var isJson = _options.IsJson(parsed);
        var paths = InputPaths.WithoutCompanions(_options.FilesOf(parsed));
        if (paths.Count == 0)
        {
            error.WriteLine("Name the files to study.");
            return (int)ExitCode.WrongUsage;
        }

        var codes = new List<ExitCode>();
        void Refuse(InputRefusedException refusal)
        {
            error.WriteLine(refusal.Message);
            codes.Add(refusal.ExitCode);
        }

        var inputs = SurveyInput.Of(paths, request.Recording, Refuse, "log", "samples");
        foreach (var input in inputs)
        {
            try
            {
                var path = input.Path;
                var mine = _options.SaysLoad(parsed) || StudyChoices.Of(input.State) is not { } chosen ? request : request with { Load = chosen };
                var subject = Read(input, input.Complete(mine), error, cancellation);
                var before = request.Before is { } other ? ReadBefore(other, request, error, cancellation) : null;
                var document = StudyRun.Study(subject, mine, FolderOf(request.Output, path, inputs.Count), before);
                if (!isJson && codes.Count > 0) output.WriteLine($"\n{new string('=', 80)}\n");
                output.Write(isJson ? StudyJson.Line(document) + "\n" : StudyText.Write(document));
                codes.Add(StudyRun.CodeOf(document));
            }
            catch (InputRefusedException refusal)
            {
                Refuse(refusal);
            }
        }

        return (int)ExitCodes.WorstOf(codes);
    }

    // A survey stands for its recording where it has one; which of several is meant can't be guessed.
    private static StudySubject ReadBefore(string path, StudyRequest request, TextWriter error, CancellationToken cancellation)
    {
        var inputs = SurveyInput.Of([path], null, refusal => throw refusal, "log", "samples");
        if (inputs.Count > 1)
        {
            throw new InputRefusedException(
                ExitCode.WrongUsage,
                $"--before: the survey '{path}' has {inputs.Count} recordings: {string.Join(", ", inputs.Select(input => $"'{input.Recording}'"))}. Name the file of the one that is meant, such as {inputs[0].Path}");
        }

        return Read(inputs[0], inputs[0].Complete(request), error, cancellation);
    }

    // Mending needs the rows as a whole; a file that belongs to no survey is studied column by column.
    private static StudySubject Read(SurveyInput input, StudyRequest request, TextWriter error, CancellationToken cancellation)
    {
        var progress = MeasureProgress.Of(input.Path, error);
        if (input.State is null || request.IsUnmended) return StudyInput.ReadColumns(input.Path, request, progress, cancellation);
        return StudyMending.Mend(StudyInput.Read(input.Path, request, progress, cancellation), input, request, cancellation);
    }

    // Several files have a folder each.
    private static string? FolderOf(string? output, string path, int count) =>
        output is null || count == 1 ? output : Path.Combine(output, Path.GetFileNameWithoutExtension(path));
}
