using System.Collections.Immutable;
using System.CommandLine;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Settling;
using Leadwright.Reports.Hookups;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs;

/// <summary>The options of <c>check</c>, each defined once; help and errors derive from it.</summary>
internal sealed class CheckVerbOptions
{
    private readonly Argument<string[]> _files = new("FILE")
    {
        Description = "Readings (.json), a sampled recording (COMTRADE .cfg with .dat, .cff; PQDIF .pqd; .csv), a log of intervals (.csv, .tsv, .xlsx, .parquet, .pqd), or a survey's folder. "
            + "A .cfg finds its .dat beside it, and the other way round.",
        Arity = ArgumentArity.ZeroOrMore,
    };

    private readonly RecordingOptions _recording = new("as the file states it, else found from the readings. Goes over what the file says.");

    private readonly SiteOptions _site = new();

    private readonly Option<string[]> _told = new("--told")
    {
        Description = "What was found at the panel when asked, as ACTION=ANSWER: rotation=abc, arrow:I1=source, clamp:I3=C, lead:V2=B, "
            + "contact:VN=yes, meter:V2-B=0, hand-clamp:B=41.3, switched:A=I2,up, motor=down, export=no, watts=load-positive, "
            + "angles=lag-positive. May be repeated; goes over what a file says for the same action. Leave it out to withdraw it.",
        HelpName = "ACTION=ANSWER",
        DefaultValueFactory = _ => [],
    };

    private readonly Option<string?> _format = VerbOptions.Format();

    private readonly Option<string?> _colours = new("--colours")
    {
        Description = $"The site's conductor colours, named in the remedies: {string.Join(", ", ConductorColours.All.Select(scheme => scheme.Id))}.",
        HelpName = "ID",
    };

    private readonly Option<string?> _angles = VerbOptions.Among(
        "--angles", "Whether positive angles lead or lag, for readings that don't state it.", null, "lead-positive", "lag-positive");

    private readonly Option<string?> _priors = new("--priors")
    {
        Description = "Beliefs to use in place of the shipped ones: how often slips happen, what displacement loads have (leadwright.priors/1).",
        HelpName = "FILE",
    };

    private readonly Option<bool> _showPriors = new("--show-priors")
    {
        Description = "Prints the shipped beliefs, to be changed and used by --priors, and checks nothing.",
    };

    private readonly Option<bool> _bold = new("--bold")
    {
        Description = "Sets the verdict and headings in bold (ANSI sequences), unless NO_COLOR is set.",
    };

    private readonly Option<bool> _keep = VerbOptions.Keep();

    public CheckVerbOptions()
    {
        _told.Validators.Add(result =>
        {
            var seen = new Dictionary<string, string>(StringComparer.Ordinal);
            foreach (var text in result.GetValueOrDefault<string[]>() ?? [])
            {
                if (!ToldAnswer.TryParse(text, out var told, out var problem)) result.AddError($"--told: {problem}");
                else if (!seen.TryAdd(told!.Action.Id, told.Answer) && seen[told.Action.Id] != told.Answer)
                    result.AddError($"--told: {told.Action.Id} is answered both {seen[told.Action.Id]} and {told.Answer}. Keep the one that holds.");
            }
        });
        _colours.Validators.Add(result =>
        {
            var id = result.GetValueOrDefault<string>();
            if (id is not null && ConductorColours.WithId(id) is null)
                result.AddError($"--colours: no scheme '{id}'. Schemes: {string.Join(", ", ConductorColours.All.Select(scheme => scheme.Id))}.");
        });
    }

    public void AddTo(Command command)
    {
        command.Validators.Add(result =>
        {
            if (result.GetResult(_files) is not { Tokens.Count: > 0 } && !result.GetValue(_showPriors))
                result.AddError("Name a file: readings (.json) or a recording (.cfg with .dat, .cff, .pqd, .csv).");
        });

        VerbOptions.RefuseUnknownOptions(_files, "check");
        command.Add(_files);
        foreach (var option in (Option[])
            [.. _recording.OfPanel, .. _site.All, _told, _format, .. _recording.OfSurvey, _keep, .. _recording.OfFile, _colours, _angles, _priors, _showPriors, _bold])
            command.Add(option);
    }

    public IReadOnlyList<string> FilesOf(ParseResult parsed) => parsed.GetValue(_files) ?? [];

    public bool ShowsPriors(ParseResult parsed) => parsed.GetValue(_showPriors);

    public string? PriorsOf(ParseResult parsed) => parsed.GetValue(_priors);

    public bool Keeps(ParseResult parsed) => parsed.GetValue(_keep);

    public bool IsJson(ParseResult parsed) => parsed.GetValue(_format) == "json";

    public bool IsBold(ParseResult parsed) =>
        parsed.GetValue(_bold) && string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"));

    public CheckRequest RequestOf(ParseResult parsed) => new(_recording.RequestOf(parsed))
    {
        AngleSign = parsed.GetValue(_angles) switch
        {
            "lead-positive" => AngleSign.LeadPositive,
            "lag-positive" => AngleSign.LagPositive,
            _ => AngleSign.NotStated,
        },
    };

    /// <summary>What is known of the site: said here, or in the survey.</summary>
    public CheckOptions KnownOf(ParseResult parsed, SurveyState? survey) => _site.KnownOf(parsed, survey) with { Told = ToldOf(parsed.GetValue(_told) ?? [], survey) };

    // What is told here goes over what the survey was told for the same action.
    private static ImmutableArray<ToldAnswer> ToldOf(IEnumerable<string> said, SurveyState? survey)
    {
        var here = ToldAnswersOf(said);
        return survey is null ? here : ToldAnswer.Merge(ToldAnswersOf(survey.Told), here);
    }

    private static ImmutableArray<ToldAnswer> ToldAnswersOf(IEnumerable<string> texts)
    {
        var all = new List<ToldAnswer>();
        foreach (var text in texts)
        {
            if (ToldAnswer.TryParse(text, out var told, out _) && !all.Contains(told!)) all.Add(told!);
        }

        return [.. all];
    }

    public ConductorNaming? NamingOf(ParseResult parsed) =>
        ConductorColours.WithId(parsed.GetValue(_colours)) is { } scheme ? ConductorNaming.Of(scheme) : null;
}
