using System.Collections.Immutable;
using System.CommandLine;
using Leadwright.App.Verbs.Surveying;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs.Matching;

/// <summary>The verb <c>columns</c>: shows what each column of a log is taken for and why, takes corrections, and remembers what a person confirmed.</summary>
public sealed class ColumnsVerb
{
    private readonly TimeProvider _clock;
    private readonly RecordingOptions _recording = new("as the columns say.");
    private readonly Argument<string> _file = new("FILE") { Description = "A log of intervals (.csv, .tsv, .txt, .xlsx, .parquet), or a survey's folder." };
    private readonly Option<string[]> _set = new("--set")
    {
        Description = "What a column holds: HEADING=active-power,1,mean,kW; HEADING=out leaves it out. A number from 1 will do for the heading; may be repeated.",
        HelpName = "HEADING=WORDS",
        DefaultValueFactory = _ => [],
    };

    private readonly Option<string?> _output = new("-o", "--output") { Description = "Writes the match as a file for --match (leadwright.columns/1).", HelpName = "FILE" };
    private readonly Option<bool> _keep = new("--keep") { Description = "Remembers the match: every table with these headings is read so from now on, and the survey whose folder is named." };
    private readonly Option<bool> _forget = new("--forget") { Description = "Forgets what was remembered for tables with these headings." };
    private readonly Option<string?> _format = VerbOptions.Format();

    /// <summary>Makes the verb.</summary>
    /// <param name="clock">The clock of a survey's entries; null for the system's.</param>
    public ColumnsVerb(TimeProvider? clock = null)
    {
        _clock = clock ?? TimeProvider.System;
        _set.Validators.Add(result =>
        {
            foreach (var token in result.Tokens)
            {
                if (!ColumnStatementText.TryParse(token.Value, out _, out var problem)) result.AddError($"--set: {problem}");
            }
        });
    }

    /// <summary>The command with its options.</summary>
    /// <param name="output">Receives the answers.</param>
    /// <param name="error">Receives what can't be used.</param>
    public Command Command(TextWriter output, TextWriter error)
    {
        var command = new Command(
            "columns", "Shows what each column of a log is taken for, why, and what only a person can know; remembers what a person confirms.\nExit codes: 0 done, 11 something is asked, 1 the file can't be read, 2 wrong usage.")
        {
            _file, _set,
        };
        foreach (var option in (Option[])[.. _recording.OfPanel, .. _recording.OfFile, .. _recording.OfSurvey, _output, _keep, _forget, _format]) command.Add(option);
        command.Validators.Add(result =>
        {
            if (result.GetValue(_keep) && result.GetValue(_forget)) result.AddError("--keep and --forget: say one of them.");
        });
        command.SetAction((parsed, cancellation) => SurveyRun.RunAsync(error, () => RunAsync(parsed, output, cancellation)));
        return command;
    }

    private async Task<ExitCode> RunAsync(ParseResult parsed, TextWriter output, CancellationToken cancellation)
    {
        var request = _recording.RequestOf(parsed) with { Statements = [.. parsed.GetValue(_set)!.Select(StatementOf)] };
        ImmutableArray<InputRefusedException> refused = [];
        var inputs = SurveyInput.Of([parsed.GetValue(_file)!], request.Recording, refusal => refused = refused.Add(refusal), "log");
        if (!refused.IsEmpty) throw refused[0];
        if (inputs.Count > 1) throw new InputRefusedException(ExitCode.WrongUsage, $"The survey has {inputs.Count} logs: name one with --recording.");
        var input = inputs[0];
        var completed = input.Complete(request);
        var read = RecordingFile.Read(input.Path, completed, prefersSamples: false, cancellation);
        if (read.Log is not { Columns.IsEmpty: false } log)
            throw new InputRefusedException(ExitCode.InputUnusable, read.Samples is null
                ? $"'{input.Path}' is no table: its format says itself what its columns are."
                : $"'{input.Path}' holds samples of waves: say which channel is which with --channels, to check, guard and measure.");
        var profile = ConfirmedColumns.ProfileOf(log);
        if (parsed.GetValue(_output) is { } path) WholeFile.Write(path, ColumnProfileWriter.Write(profile));
        var done = parsed.GetValue(_keep) ? await KeepAsync(input, profile, log.Log, completed, cancellation) : parsed.GetValue(_forget) ? Forget(log) : "";
        if (parsed.GetValue(_format) == "json") await output.WriteAsync(ColumnsText.JsonLine(parsed.GetValue(_file)!, log));
        else ColumnsText.Write(output, parsed.GetValue(_file)!, log, parsed.GetValue(_keep) || parsed.GetValue(_forget));
        if (parsed.GetValue(_format) != "json" && done.Length > 0) await output.WriteLineAsync(done);
        return log.Questions.IsEmpty || parsed.GetValue(_keep) ? ExitCode.NothingWrong : ExitCode.CannotDecide;
    }

    private static ColumnStatement StatementOf(string text) => ColumnStatementText.TryParse(text, out var statement, out _) ? statement : throw new ArgumentException(text, nameof(text));

    private async Task<string> KeepAsync(SurveyInput input, ColumnProfile profile, IntervalLog log, RecordingRequest request, CancellationToken cancellation)
    {
        var known = KnownColumns.Keep(profile);
        if (input.Folder is not { } folder) return $"Remembered in {known}.";
        using var survey = SurveyFolder.Open(folder, SurveyAccess.Write, new SurveyAuthor(Environment.UserName, _clock));
        await ConfirmedColumns.ConfirmAsync(survey, input.Recording!, profile, log, request, cancellation);
        return $"Confirmed for '{input.Recording}', whose table was computed anew; remembered in {known}.";
    }

    private static string Forget(LogFile log) =>
        KnownColumns.Forget(log.Columns.Select(column => column.Heading)) is { } path ? $"Forgotten: {path} was taken away." : "Nothing was remembered for these headings.";
}
