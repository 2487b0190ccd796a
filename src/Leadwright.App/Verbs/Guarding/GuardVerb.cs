using System.CommandLine;
using Leadwright.App.Verbs.Matching;
using Leadwright.App.Verbs.Measuring;
using Leadwright.App.Verbs.Surveying;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Reports.Guarding;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Tables;

namespace Leadwright.App.Verbs.Guarding;

/// <summary>The verb <c>guard</c>: tells, over a whole recording, when each lead, clamp and the recorder itself stopped telling the truth.</summary>
public sealed class GuardVerb
{
    private readonly GuardVerbOptions _options = new();
    private readonly TimeProvider _clock;

    /// <summary>Makes the verb.</summary>
    /// <param name="clock">The clock of a watch; null for the system's.</param>
    public GuardVerb(TimeProvider? clock = null) => _clock = clock ?? TimeProvider.System;

    /// <summary>The command with its options.</summary>
    /// <param name="output">Receives the answers.</param>
    /// <param name="error">Receives what can't be used, and how a file was read.</param>
    public Command Command(TextWriter output, TextWriter error)
    {
        var command = new Command("guard", "Tells when each lead, each clamp and the recorder itself stopped telling the truth.\n" + ExitCodes.Help);
        _options.AddTo(command);
        command.SetAction((parsed, cancellation) => Task.Run(() => RunAsync(parsed, output, error, cancellation), cancellation));
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        var request = _options.RequestOf(parsed);
        var paths = InputPaths.WithoutCompanions(_options.FilesOf(parsed));
        var codes = new List<ExitCode>();
        void Refuse(InputRefusedException refusal)
        {
            error.WriteLine(refusal.Message);
            codes.Add(refusal.ExitCode);
        }

        if (request.Follows) return await FollowAsync(paths[0], request, state => _options.KnownOf(parsed, state), output, error, cancellation);
        foreach (var input in SurveyInput.Of(paths, request.Recording.Recording, Refuse, "log", "samples"))
        {
            try
            {
                var path = input.Path;
                var completed = request with { Recording = input.Complete(request.Recording) with { Progress = new(MeasureProgress.Of(path, error)) }, Known = _options.KnownOf(parsed, input.State) };
                var (report, notes, clock) = GuardRun.Judge(path, completed, cancellation);
                var json = GuardJson.Line(path, report, clock, notes.OfSite, notes.OfReading);
                if (!request.IsJson && codes.Count > 0) await output.WriteLineAsync();
                await output.WriteAsync(request.IsJson ? json + "\n" : GuardText.Of(path, report));
                if (!request.IsJson)
                {
                    foreach (var note in AskedQuestions.WithoutThem(notes.All)) await output.WriteLineAsync($"  {note}");
                    await AskedQuestions.WriteAsync(output, notes.All, input.NameForColumns);
                }

                codes.Add(CodeOf(report));
                if (!_options.Keeps(parsed)) continue;
                input.Keep((recording, answer) => new GuardKept(recording, answer), json, _clock);
                await input.KeepTableAsync((folder, survey, part) => SurveyTables.WriteSpansAsync(folder, survey, report.Spans, part, cancellation));
            }
            catch (InputRefusedException refusal)
            {
                Refuse(refusal);
            }
        }

        return (int)ExitCodes.WorstOf(codes);
    }

    private async Task<int> FollowAsync(
        string path, GuardRequest request, Func<SurveyState, CheckOptions> knownOf, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        try
        {
            if (SurveyFolder.IsSurvey(path))
            {
                using var survey = SurveyRun.Refusing(() => SurveyFolder.Open(path));
                request = request with { Recording = FollowedSurvey.Completed(request.Recording, survey.State.Panel), Known = knownOf(survey.State) };
            }

            using var alarms = new AlarmSink(request, output, error);
            return (int)await new GuardFollow(request, alarms, _clock).RunAsync(path, cancellation);
        }
        catch (InputRefusedException refusal)
        {
            await error.WriteLineAsync(refusal.Message);
            return (int)refusal.ExitCode;
        }
    }

    /// <summary>An outage is no fault of the recording; a span that is doubtful is no finding yet; where there was nothing to judge, nothing is proved.</summary>
    private static ExitCode CodeOf(GuardReport report)
    {
        if (report.Spans.Any(span => !span.IsDoubtful && span.Kind != SpanKind.Outage)) return ExitCode.FaultsFound;
        return report.Spans.Any(span => span.IsDoubtful) || report.Notes.Contains(GuardNoteKind.HookupUndecided)
            || report.Notes.Contains(GuardNoteKind.TooFewIntervals) || report.Usable.IsEmpty ? ExitCode.CannotDecide : ExitCode.NothingWrong;
    }
}
