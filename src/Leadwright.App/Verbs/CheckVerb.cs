using System.CommandLine;
using System.Text;
using Leadwright.App.Verbs.Measuring;
using Leadwright.App.Verbs.Surveying;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Priors;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Formats.Priors;
using Leadwright.Reports.Hookups;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Verbs;

/// <summary>The verb <c>check</c>: names how every lead and clamp is connected, and what to move.</summary>
public sealed class CheckVerb
{
    private readonly CheckVerbOptions _options = new();
    private readonly ICheckInput _input;
    private readonly Func<PanelReadings, CheckOptions, CheckPriors, HookupVerdict> _judge;

    /// <summary>Makes the verb.</summary>
    /// <param name="input">Reads the files.</param>
    /// <param name="judge">Weighs the hook-ups.</param>
    public CheckVerb(ICheckInput input, Func<PanelReadings, CheckOptions, CheckPriors, HookupVerdict> judge)
    {
        _input = input;
        _judge = judge;
    }

    /// <summary>Makes the verb with an engine that has its own beliefs.</summary>
    /// <param name="input">Reads the files.</param>
    /// <param name="judge">Weighs the hook-ups.</param>
    public CheckVerb(ICheckInput input, Func<PanelReadings, CheckOptions, HookupVerdict> judge)
        : this(input, (readings, known, _) => judge(readings, known))
    {
    }

    /// <summary>The command with its options.</summary>
    /// <param name="output">Receives the answers.</param>
    /// <param name="error">Receives what can't be used.</param>
    public Command Command(TextWriter output, TextWriter error)
    {
        var command = new Command("check", "Names how every lead and clamp is connected, and what to move.\n" + ExitCodes.Help);
        _options.AddTo(command);
        command.SetAction((parsed, cancellation) => RunAsync(parsed, output, error, cancellation));
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        if (_options.ShowsPriors(parsed))
        {
            await output.WriteAsync(Encoding.UTF8.GetString(PriorsWriter.Write(CheckPriors.Default)));
            return (int)ExitCode.NothingWrong;
        }

        CheckPriors priors;
        try
        {
            priors = await PriorsFile.ReadAsync(_options.PriorsOf(parsed), cancellation);
        }
        catch (InputRefusedException refusal)
        {
            await error.WriteLineAsync(refusal.Message);
            return (int)refusal.ExitCode;
        }

        var request = _options.RequestOf(parsed);
        var naming = _options.NamingOf(parsed);
        var isJson = _options.IsJson(parsed);
        var isStyled = _options.IsBold(parsed);
        var codes = new List<ExitCode>();
        var isFirst = true;
        void Refuse(InputRefusedException refusal)
        {
            error.WriteLine(refusal.Message);
            codes.Add(refusal.ExitCode);
        }

        foreach (var input in SurveyInput.Of(InputPaths.WithoutCompanions(_options.FilesOf(parsed)), request.Recording, Refuse, "readings", "log", "samples"))
        {
            try
            {
                var (path, known) = (input.Path, _options.KnownOf(parsed, input.State));
                var subject = await _input.ReadAsync(path, input.Complete(request) with { Progress = new(MeasureProgress.Of(path, error)) }, cancellation);
                var verdict = _judge(subject.Readings, known with { Told = ToldAnswer.Merge(subject.Told, known.Told) }, priors);
                var misfit = NominalNote.Of(subject.Readings.Channels, subject.Readings.Service, subject.Readings.Nominal);
                // Said once, of all voltages together.
                if (misfit is not null) verdict = verdict with { Notes = verdict.Notes.RemoveAll(note => note.Kind == NoteKind.VoltageOffNominal) };
                var document = CheckDocument.Of(path, verdict, naming, subject.Channels, [.. NominalNote.Of(misfit), .. subject.Notes]);
                if (!isJson && !isFirst) await output.WriteLineAsync($"\n{new string('=', CheckText.Width)}\n");
                await output.WriteAsync(isJson ? CheckJson.Line(document) + "\n" : CheckText.Write(document, isStyled));
                codes.Add(ExitCodes.Of(verdict.Verdict));
                if (_options.Keeps(parsed)) input.Keep((recording, answer) => new HookupProved(answer, null, recording), CheckJson.Line(document), TimeProvider.System);
                isFirst = false;
            }
            catch (InputRefusedException refusal)
            {
                Refuse(refusal);
            }
        }

        return (int)ExitCodes.WorstOf(codes);
    }
}
