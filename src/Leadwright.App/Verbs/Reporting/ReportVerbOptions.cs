using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Leadwright.App.Verbs.Studying;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Model;
using Leadwright.Documents.Reports;
using Leadwright.Documents.Words;
using Leadwright.Formats;
using Leadwright.Reports.Hookups;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs.Reporting;

/// <summary>The options of <c>report</c>, each defined once; those of the study are the study's own.</summary>
internal sealed class ReportVerbOptions
{
    private static readonly string[] s_endings = [".pdf", ".html", ".xlsx"];

    private readonly Argument<string[]> _files = new("FILE|SURVEY")
    {
        Description = "A log of intervals (.csv, .xlsx, .parquet, .pqd), a sampled recording (.cfg with .dat, .cff, .pqd, .csv), or a survey's folder. It is never changed.",
        Arity = ArgumentArity.ZeroOrMore,
    };

    private readonly StudyVerbOptions _study = new();
    private readonly SiteOptions _site = new();
    private readonly Option<string?> _format = VerbOptions.Format();

    private readonly Option<string[]> _output = new("--output", "-o")
    {
        Description = "The document to write: .pdf, .html (one file that needs no other) or .xlsx (the tables). Name it again for another format.",
        HelpName = "FILE",
        Arity = ArgumentArity.OneOrMore,
    };

    private readonly Option<string?> _paper = VerbOptions.Among("--paper", "Paper of a PDF; a4 without it.", null, "a4", "letter");

    private readonly Option<string?> _figures = new("--figures") { Description = "Writes every chart and drawing of the report into a folder, each as .svg with its fonts in it and as .png.", HelpName = "DIR" };

    private readonly Option<string?> _parts = new("--parts")
    {
        Description = $"The parts that are wanted, by commas; all without it: {string.Join(", ", ReportBuilder.PartNames)}.",
        HelpName = "NAMES",
    };

    private readonly Option<string?> _letterhead = new("--letterhead")
    {
        Description = $"Firm, logo, author, customer, site, purpose and instruments ({LetterheadReader.Schema}).",
        HelpName = "FILE",
    };

    private readonly Option<string?> _words = new("--words")
    {
        Description = $"Words of your own or of another language in place of the shipped ones ({ReportWords.Schema}).",
        HelpName = "FILE",
    };

    private readonly Option<bool> _showWords = new("--show-words") { Description = "Prints the shipped words, to start a file of your own from." };

    private readonly Option<string?> _date = new("--date")
    {
        Description = "Date of the report, such as 2026-03-16. Without it the file bears the date on which the data ends: the clock is never asked, so that the same data gives the same file.",
        HelpName = "DATE",
    };

    private readonly Option<double> _accuracy = new("--accuracy")
    {
        Description = "Accuracy of recorder and clamps together, percent of the energy; added to its interval. Left out without it.",
        HelpName = "PERCENT",
    };

    private readonly Option<string?> _colours = new("--colours")
    {
        Description = $"The site's conductor colours: {string.Join(", ", ConductorColours.All.Select(scheme => scheme.Id))}.",
        HelpName = "SCHEME",
    };

    public ReportVerbOptions()
    {
        _output.Validators.Add(result =>
        {
            foreach (var path in result.GetValueOrDefault<string[]>() ?? [])
            {
                if (!s_endings.Contains(Path.GetExtension(path).ToLowerInvariant(), StringComparer.Ordinal)) result.AddError($"-o: '{path}' must end in {string.Join(", ", s_endings)}.");
            }
        });
        _parts.Validators.Add(result =>
        {
            var wrong = PartsOf(result.GetValueOrDefault<string?>()).Except(ReportBuilder.PartNames, StringComparer.Ordinal).FirstOrDefault();
            if (wrong is not null) result.AddError($"--parts: '{wrong}' is not one of {string.Join(", ", ReportBuilder.PartNames)}.");
        });
        _date.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string?>() is { } text && DateOf(text) is null) result.AddError($"--date: '{text}' is no date such as 2026-03-16.");
        });
        _accuracy.Validators.Add(result =>
        {
            if (!(result.GetValueOrDefault<double>() is >= 0 and <= 50)) result.AddError("--accuracy: expected percent from 0 to 50.");
        });
        _colours.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string?>() is { } id && ConductorColours.WithId(id) is null)
                result.AddError($"--colours: no scheme '{id}'. Schemes: {string.Join(", ", ConductorColours.All.Select(scheme => scheme.Id))}.");
        });
    }

    public void AddTo(Command command)
    {
        VerbOptions.RefuseUnknownOptions(_files, "report");
        command.Validators.Add(result =>
        {
            if (result.GetValue(_showWords)) return;
            if (result.GetResult(_files)?.Tokens.Count is not > 0) result.AddError("Name the recording to report on.");
            if (result.GetResult(_output) is not { Tokens.Count: > 0 } && result.GetValue(_figures) is null) result.AddError("Name the document to write with -o: report.pdf, report.html or report.xlsx.");
        });
        command.Add(_files);
        foreach (var option in (Option[])
            [.. _study.OfPanel, .. _site.All, _output, _figures, _paper, _parts, _letterhead, _words, _showWords, _date, _accuracy, _colours, _format, .. _study.OfStudy, .. _study.OfSurvey, .. _study.OfFile])
            command.Add(option);
    }

    public bool ShowsWords(ParseResult parsed) => parsed.GetValue(_showWords);

    /// <summary>True when the command line says what is to be worked out of the load.</summary>
    public bool SaysLoad(ParseResult parsed) => _study.SaysLoad(parsed);

    /// <summary>What the site is, said here or in the survey.</summary>
    public CheckOptions KnownOf(ParseResult parsed, SurveyState? survey) => _site.KnownOf(parsed, survey);

    public IReadOnlyList<string> FilesOf(ParseResult parsed) => parsed.GetValue(_files) ?? [];

    /// <exception cref="InputRefusedException">A file that is named can't be used.</exception>
    public ReportRequest RequestOf(ParseResult parsed, string program) => new(
        _study.RequestOf(parsed), _site.KnownOf(parsed),
        new ReportSettings
        {
            Words = parsed.GetValue(_words) is { } words ? Used(() => ReportWords.Read(new InputFile(words, Bytes(words)))) : ReportWords.English,
            Letterhead = parsed.GetValue(_letterhead) is { } letterhead ? LetterheadOf(letterhead) : Letterhead.None,
            Parts = PartsOf(parsed.GetValue(_parts)),
            Date = DateOf(parsed.GetValue(_date)),
            Program = program,
        })
    {
        Outputs = [.. (parsed.GetValue(_output) ?? []).Distinct(StringComparer.Ordinal)],
        Paper = parsed.GetValue(_paper) switch { "letter" => PaperSize.Letter, "a4" => PaperSize.A4, _ => null },
        Figures = parsed.GetValue(_figures),
        AccuracyPercent = parsed.GetValue(_accuracy),
        Naming = ConductorColours.WithId(parsed.GetValue(_colours)) is { } scheme ? ConductorNaming.Of(scheme) : null,
        IsJson = parsed.GetValue(_format) == "json",
    };

    // The logo stands beside the file that names it.
    private static Letterhead LetterheadOf(string path) => Used(() => LetterheadReader.Read(
        new InputFile(path, Bytes(path)), logo => Bytes(Path.Combine(Path.GetDirectoryName(Path.GetFullPath(path))!, logo))));

    private static byte[] Bytes(string path)
    {
        try
        {
            return File.ReadAllBytes(path);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw InputRefusedException.CannotRead(path, failure);
        }
    }

    private static T Used<T>(Func<T> read)
    {
        try
        {
            return read();
        }
        catch (FormatReadException failure)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, failure.Message, failure);
        }
    }

    private static ImmutableArray<string> PartsOf(string? text) => [.. (text ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];

    private static DateOnly? DateOf(string? text) => DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date) ? date : null;
}
