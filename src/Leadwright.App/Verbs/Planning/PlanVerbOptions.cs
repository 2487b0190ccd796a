using System.Collections.Immutable;
using System.CommandLine;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Planning;
using Leadwright.Documents.Layout;
using Leadwright.Reports.Hookups;

namespace Leadwright.App.Verbs.Planning;

/// <summary>The options of <c>plan</c>, each defined once; help and errors derive from it.</summary>
internal sealed class PlanVerbOptions
{
    private readonly Option<string?> _service = VerbOptions.Among(
        "--service", "The service.", null, [.. Service.All.Select(service => service.Name)]);

    private readonly Option<string?> _nominal = new("--nominal") { Description = "Nominal voltage as on the nameplate, such as 230/400 or 480.", HelpName = "V" };

    private readonly Option<double> _frequency = new("--frequency") { Description = "50 or 60.", HelpName = "HZ", DefaultValueFactory = _ => 50 };

    private readonly Option<string> _purposes = new("--for")
    {
        Description = $"What is to be learnt, several with commas: {string.Join(", ", Enum.GetValues<SurveyPurpose>().Select(PlanMaker.WordOf))}.",
        HelpName = "PURPOSE,…", DefaultValueFactory = _ => "load",
    };

    private readonly SiteOptions _site = new();

    private readonly Option<string> _name = new("--site") { Description = "The site's name, for the sheet.", HelpName = "NAME", DefaultValueFactory = _ => "" };

    private readonly Option<double?> _kilowatts = new("--kw") { Description = "Expected power of all phases together.", HelpName = "KW" };

    private readonly Option<double?> _amperes = new("--amps") { Description = "Expected current of a line; goes before --kw.", HelpName = "A" };

    private readonly Option<double> _peak = new("--peak-factor")
    {
        Description = "How many times the expected load the highest may be.", HelpName = "TIMES", DefaultValueFactory = _ => 1.5,
    };

    private readonly Option<double?> _range = new("--clamp-range") { Description = "The clamps' range.", HelpName = "A" };

    private readonly Option<double> _readingError = new("--clamp-error")
    {
        Description = "Their error, percent of the reading.", HelpName = "PERCENT", DefaultValueFactory = _ => 1,
    };

    private readonly Option<double> _rangeError = new("--clamp-range-error")
    {
        Description = "The rest of their error, percent of the range.", HelpName = "PERCENT", DefaultValueFactory = _ => 0.1,
    };

    private readonly Option<double> _angleError = new("--clamp-angle")
    {
        Description = "Their angle error, degrees.", HelpName = "DEGREES", DefaultValueFactory = _ => 1,
    };

    private readonly Option<double?> _interval = new("--interval") { Description = "The interval, where it is decided already: seconds.", HelpName = "S" };

    private readonly Option<double?> _days = new("--days") { Description = "The length, where it is decided already.", HelpName = "DAYS" };

    private readonly Option<double?> _memory = new("--memory") { Description = "The recorder's free memory.", HelpName = "MB" };

    private readonly Option<int> _quantities = new("--quantities")
    {
        Description = "Quantities that it stores: volts, amperes, watts and vars of three phases are 12.", HelpName = "N", DefaultValueFactory = _ => 12,
    };

    private readonly Option<int> _statistics = new("--statistics")
    {
        Description = "Values of each: 3 for mean, lowest and highest.", HelpName = "N", DefaultValueFactory = _ => 3,
    };

    private readonly Option<double> _bytes = new("--bytes") { Description = "Bytes that a value takes.", HelpName = "N", DefaultValueFactory = _ => 4 };

    private readonly Option<double?> _battery = new("--battery") { Description = "How long it runs without its supply.", HelpName = "HOURS" };

    private readonly Option<double> _outage = new("--outage") { Description = "How long its supply may be gone.", HelpName = "HOURS", DefaultValueFactory = _ => 0 };

    private readonly Option<string?> _colours = new("--colours")
    {
        Description = $"The site's conductor colours: {string.Join(", ", ConductorColours.All.Select(scheme => scheme.Id))}.", HelpName = "ID",
    };

    private readonly Option<string[]> _output = new("-o", "--output")
    {
        Description = "Writes the sheet to print, with the connection drawing: .pdf or .html. Name it again for another format.", HelpName = "FILE", Arity = ArgumentArity.OneOrMore,
    };

    private readonly Option<string?> _leaving = new("--leaving") { Description = "Writes the check before leaving the site, a form to fill by hand: .pdf.", HelpName = "FILE" };

    private readonly Option<string?> _paper = VerbOptions.Among("--paper", "Paper of a PDF.", "a4", "a4", "letter");

    private readonly Option<string?> _format = VerbOptions.Format();

    public PlanVerbOptions()
    {
        _purposes.Validators.Add(result =>
        {
            foreach (var word in Words(result.GetValueOrDefault<string>()))
            {
                if (PlanMaker.PurposeOf(word) is null)
                    result.AddError($"--for: '{word}' is none of {string.Join(", ", Enum.GetValues<SurveyPurpose>().Select(PlanMaker.WordOf))}.");
            }
        });
        _colours.Validators.Add(result =>
        {
            var id = result.GetValueOrDefault<string>();
            if (id is not null && ConductorColours.WithId(id) is null)
                result.AddError($"--colours: no scheme '{id}'. Schemes: {string.Join(", ", ConductorColours.All.Select(scheme => scheme.Id))}.");
        });
        _output.Validators.Add(result =>
        {
            foreach (var path in result.GetValueOrDefault<string[]>() ?? [])
            {
                if (!EndsIn(path, ".pdf") && !EndsIn(path, ".html")) result.AddError($"-o: '{path}' does not end in .pdf or .html.");
            }
        });
        _leaving.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string>() is { } path && !EndsIn(path, ".pdf")) result.AddError($"--leaving: '{path}' does not end in .pdf.");
        });
    }

    public void AddTo(Command command)
    {
        command.Validators.Add(result =>
        {
            if (result.GetValue(_service) is null) result.AddError("State the service: --service wye, for example.");
            if (result.GetValue(_nominal) is null) result.AddError("State the nominal voltage: --nominal 230/400, for example.");
        });
        foreach (var option in (Option[])
            [_service, _nominal, _frequency, _purposes, _site.All[0], _site.All[1], _name, _kilowatts, _amperes, _peak, _range, _readingError, _rangeError, _angleError,
                _interval, _days, _memory, _quantities, _statistics, _bytes, _battery, _outage, _colours, _output, _leaving, _paper, _format])
            command.Add(option);
    }

    public SurveyPlan PlanOf(ParseResult parsed)
    {
        var service = Service.Named(parsed.GetValue(_service))!.Kind;
        var known = _site.KnownOf(parsed);
        var memory = parsed.GetValue(_memory);
        var battery = parsed.GetValue(_battery);
        var hasRecorder = memory is not null || battery is not null
            || new Option[] { _quantities, _statistics, _bytes }.Any(option => parsed.GetResult(option) is { Implicit: false });
        return new SurveyPlan
        {
            Service = service,
            Nominal = NominalText.Parse(parsed.GetValue(_nominal), service)!,
            FrequencyHertz = parsed.GetValue(_frequency),
            Purposes = [.. Words(parsed.GetValue(_purposes)).Select(word => PlanMaker.PurposeOf(word)!.Value)],
            Load = known.Load,
            MayExport = known.MayExport,
            ExpectedWatts = 1000 * parsed.GetValue(_kilowatts),
            ExpectedAmperes = parsed.GetValue(_amperes),
            PeakFactor = parsed.GetValue(_peak),
            Clamp = parsed.GetValue(_range) is { } range
                ? new ClampFigures(range, parsed.GetValue(_readingError), parsed.GetValue(_rangeError), parsed.GetValue(_angleError)) : null,
            Recorder = hasRecorder ? new RecorderFigures
            {
                MemoryBytes = 1e6 * memory,
                Quantities = parsed.GetValue(_quantities),
                Statistics = parsed.GetValue(_statistics),
                BytesPerValue = parsed.GetValue(_bytes),
                BatteryHours = battery,
                OutageHours = parsed.GetValue(_outage),
            } : null,
            IntervalSeconds = parsed.GetValue(_interval),
            Days = parsed.GetValue(_days),
        };
    }

    public string NameOf(ParseResult parsed) => parsed.GetValue(_name)!;

    public IReadOnlyList<string> OutputsOf(ParseResult parsed) => parsed.GetValue(_output) ?? [];

    public string? LeavingOf(ParseResult parsed) => parsed.GetValue(_leaving);

    public PaperSize PaperOf(ParseResult parsed) => parsed.GetValue(_paper) == "letter" ? PaperSize.Letter : PaperSize.A4;

    public bool IsJson(ParseResult parsed) => parsed.GetValue(_format) == "json";

    public ConductorNaming NamingOf(ParseResult parsed) => ConductorColours.WithId(parsed.GetValue(_colours)) is { } scheme
        ? ConductorNaming.Of(scheme) : ConductorNaming.Letters;

    private static bool EndsIn(string path, string ending) => path.EndsWith(ending, StringComparison.OrdinalIgnoreCase);

    private static ImmutableArray<string> Words(string? text) =>
        [.. (text ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];
}
