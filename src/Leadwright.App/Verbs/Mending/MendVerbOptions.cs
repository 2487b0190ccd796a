using System.CommandLine;
using Leadwright.Core.Hookups;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs.Mending;

/// <summary>The options of <c>mend</c>, each defined once; help and errors derive from it.</summary>
internal sealed class MendVerbOptions
{
    private readonly Argument<string[]> _files = new("FILE")
    {
        Description = "A log of intervals (.csv, .tsv, .xlsx, .parquet, .pqd), or a survey's folder. It is never changed.",
        Arity = ArgumentArity.OneOrMore,
    };

    private readonly RecordingOptions _recording = new("as the columns of the file look.");
    private readonly SiteOptions _site = new();
    private readonly Option<string?> _format = VerbOptions.Format();

    private readonly Option<string?> _output = new("--output", "-o")
    {
        Description = "Writes the mended table, each value with its standing (measured, mended, modelled, lost), to a .csv or .parquet file.",
        HelpName = "TABLE",
    };

    private readonly Option<double> _accuracy = new("--accuracy")
    {
        Description = "Accuracy of recorder and clamps together, percent of the energy; added to the interval. Left out without it.",
        HelpName = "PERCENT",
    };

    private readonly Option<double> _demand = new("--demand")
    {
        Description = "Length of a demand interval for the peak, minutes.", HelpName = "MINUTES", DefaultValueFactory = _ => 15,
    };

    private readonly Option<bool> _keep = new("--keep") { Description = "Keeps the mended table in the survey whose folder is named, beside the recorder's own, for charts and queries." };

    public MendVerbOptions()
    {
        _output.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string?>() is { } path && Path.GetExtension(path).ToLowerInvariant() is not (".csv" or ".parquet"))
                result.AddError($"-o: '{path}' must end in .csv or .parquet.");
        });
        _accuracy.Validators.Add(result =>
        {
            if (!(result.GetValueOrDefault<double>() is >= 0 and <= 50)) result.AddError("--accuracy: expected percent from 0 to 50.");
        });
        _demand.Validators.Add(result =>
        {
            if (!(result.GetValueOrDefault<double>() is >= 1 and <= 1440)) result.AddError("--demand: expected minutes from 1 to 1440.");
        });
    }

    public void AddTo(Command command)
    {
        VerbOptions.RefuseUnknownOptions(_files, "mend");
        command.Validators.Add(result =>
        {
            if (result.GetValue(_output) is not null && result.GetResult(_files)?.Tokens.Count > 1) result.AddError("-o names one table: mend the files one by one.");
        });
        command.Add(_files);
        foreach (var option in (Option[])[.. _recording.OfPanel, .. _site.All, _format, _output, _accuracy, _demand, _keep, .. _recording.OfSurvey, .. _recording.OfFile]) command.Add(option);
    }

    /// <summary>True to keep the mended table in the survey.</summary>
    public bool Keeps(ParseResult parsed) => parsed.GetValue(_keep);

    /// <summary>What the site is, said here or in the survey.</summary>
    public CheckOptions KnownOf(ParseResult parsed, SurveyState? survey) => _site.KnownOf(parsed, survey);

    public IReadOnlyList<string> FilesOf(ParseResult parsed) => parsed.GetValue(_files) ?? [];

    public MendRequest RequestOf(ParseResult parsed) => new(_recording.RequestOf(parsed), _site.KnownOf(parsed))
    {
        Output = parsed.GetValue(_output),
        AccuracyPercent = parsed.GetValue(_accuracy),
        DemandMinutes = parsed.GetValue(_demand),
        IsJson = parsed.GetValue(_format) == "json",
    };
}
