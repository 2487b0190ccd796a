using System.CommandLine;
using Leadwright.Core.Hookups;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs.Guarding;

/// <summary>The options of <c>guard</c>, each defined once; help and errors derive from it.</summary>
internal sealed class GuardVerbOptions
{
    private readonly Argument<string[]> _files = new("FILE")
    {
        Description = "A log of intervals (.csv, .tsv, .xlsx, .parquet, .pqd) or a sampled recording (.cfg with .dat, .cff, .pqd, .csv), or a survey's folder; with --follow one growing file, "
            + "a folder into which the recorder drops files, or the folder of a survey to which recordings are added.",
        Arity = ArgumentArity.OneOrMore,
    };

    private readonly RecordingOptions _recording = new("as the columns of the file look.");
    private readonly SiteOptions _site = new();
    private readonly Option<string?> _format = VerbOptions.Format();

    private readonly Option<bool> _follow = new("--follow")
    {
        Description = "Keeps watching: each alarm is raised once, within an interval of its evidence, and cleared when it is cured.",
    };

    private readonly Option<double> _every = new("--every")
    {
        Description = "With --follow: seconds between two looks at the file.", HelpName = "SECONDS", DefaultValueFactory = _ => 1,
    };

    private readonly Option<double?> _idle = new("--until-idle")
    {
        Description = "With --follow: ends when nothing came for so many seconds. Without it the watch goes on until it is stopped.", HelpName = "SECONDS",
    };

    private readonly Option<bool> _untilAlarm = new("--until-alarm") { Description = "With --follow: ends at the first alarm, with exit code 10." };

    private readonly Option<string?> _hook = new("--hook")
    {
        Description = "With --follow: an http address that every alarm is posted to as JSON. Nothing is sent anywhere without it.", HelpName = "URL",
    };

    private readonly Option<bool> _keep = VerbOptions.Keep();

    public GuardVerbOptions()
    {
        _hook.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string?>() is { } text && UriOf(text) is null) result.AddError($"--hook: '{text}' is no http or https address.");
        });
        _every.Validators.Add(result =>
        {
            if (!(result.GetValueOrDefault<double>() is >= 0.05 and <= 3600)) result.AddError("--every: expected seconds from 0.05 to 3600.");
        });
        _idle.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<double?>() is { } seconds && !(seconds > 0)) result.AddError("--until-idle: expected seconds above zero.");
        });
    }

    public void AddTo(Command command)
    {
        VerbOptions.RefuseUnknownOptions(_files, "guard");
        command.Validators.Add(result =>
        {
            if (result.GetValue(_follow) && result.GetResult(_files)?.Tokens.Count > 1) result.AddError("--follow watches one file, one folder or one survey at a time.");
            if (result.GetValue(_follow)) return;
            foreach (var option in (Option[])[_idle, _untilAlarm, _hook])
            {
                if (result.GetResult(option) is { Implicit: false }) result.AddError($"{option.Name} belongs to --follow.");
            }
        });
        command.Add(_files);
        foreach (var option in (Option[])[.. _recording.OfPanel, .. _site.All, _format, _follow, _every, _idle, _untilAlarm, _hook, .. _recording.OfSurvey, _keep, .. _recording.OfFile]) command.Add(option);
    }

    /// <summary>What the site is, said here or in the survey.</summary>
    public CheckOptions KnownOf(ParseResult parsed, SurveyState? survey) => _site.KnownOf(parsed, survey);

    public bool Keeps(ParseResult parsed) => parsed.GetValue(_keep);

    public IReadOnlyList<string> FilesOf(ParseResult parsed) => parsed.GetValue(_files) ?? [];

    public GuardRequest RequestOf(ParseResult parsed) => new(_recording.RequestOf(parsed), _site.KnownOf(parsed))
    {
        Follows = parsed.GetValue(_follow),
        EverySeconds = parsed.GetValue(_every),
        IdleSeconds = parsed.GetValue(_idle),
        EndsAtAlarm = parsed.GetValue(_untilAlarm),
        Hook = UriOf(parsed.GetValue(_hook)),
        IsJson = parsed.GetValue(_format) == "json",
    };

    private static Uri? UriOf(string? text) =>
        Uri.TryCreate(text, UriKind.Absolute, out var uri) && uri.Scheme is "http" or "https" ? uri : null;
}
