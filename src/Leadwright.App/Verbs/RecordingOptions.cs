using System.CommandLine;
using Leadwright.Core.Hookups;

namespace Leadwright.App.Verbs;

/// <summary>The options that every verb on recordings has: what the panel is, and how to read the file.</summary>
internal sealed class RecordingOptions
{
    private readonly Option<string> _service;

    private readonly Option<string?> _nominal = new("--nominal")
    {
        Description = "Nominal voltage as on the nameplate: 230/400, 120/208, 277/480, 120/240, 480. Goes over what the file says.",
        HelpName = "VOLTS",
    };

    private readonly Option<string?> _frequency = VerbOptions.Among("--frequency", "Nominal frequency in hertz.", null, "50", "60");

    private readonly Option<string?> _channels = new("--channels")
    {
        Description = "Which channel of a recording is which, where its names don't tell: V1=NAME,I1=NAME,…",
        HelpName = "MATCH",
    };

    private readonly Option<string?> _scaling = VerbOptions.Among(
        "--scaling", "Which side of the instrument transformers a COMTRADE recording is read for.",
        "as-recorded", "as-recorded", "primary", "secondary");

    private readonly Option<double?> _rate = new("--rate")
    {
        Description = "Samples per second of a table of samples without a time column.",
        HelpName = "HERTZ",
    };

    private readonly Option<string?> _columns = new("--columns")
    {
        Description = "Headings of a table of samples that has none: \"V1 (V),I1 (A)\".",
        HelpName = "HEADINGS",
    };

    private readonly Option<string?> _decimalMark = VerbOptions.Among(
        "--decimal-mark", "Decimal mark of a table, where it can't be found out.", null, "point", "comma");

    private readonly LogOptions _log = new();

    private readonly Option<string?> _name = new("--recording")
    {
        Description = "Which recording of a survey, where its folder is named; all of them without it.",
        HelpName = "NAME",
    };

    /// <summary>Makes the options.</summary>
    /// <param name="auto">What <c>--service auto</c> does.</param>
    public RecordingOptions(string auto)
    {
        _service = new("--service")
        {
            Description = $"The service: {ServiceNames}; or auto: {auto}",
            HelpName = "SERVICE",
            DefaultValueFactory = _ => "auto",
        };
        _service.CompletionSources.Add([.. ServiceNames.Split(", "), "auto"]);
        _service.Validators.Add(result =>
        {
            var name = result.GetValueOrDefault<string>();
            if (string.Equals(name?.Trim(), "auto", StringComparison.OrdinalIgnoreCase) || Service.Named(name) is not null) return;
            result.AddError($"--service: no service '{name}'. Services: {ServiceNames}; or auto.");
        });
        _rate.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<double?>() is { } rate && !(rate > 0 && double.IsFinite(rate)))
                result.AddError("--rate: expected samples per second above zero, such as 10240.");
        });
        OfPanel = [_service, _nominal, _frequency];
        OfFile = [_channels, _scaling, _rate, _columns, _decimalMark, .. _log.All];
        OfSurvey = [_name];
    }

    /// <summary>The names of all services, for messages.</summary>
    public static string ServiceNames { get; } = string.Join(", ", Service.All.Select(service => service.Name));

    /// <summary>Options that say what the panel is, in the order of the help.</summary>
    public IReadOnlyList<Option> OfPanel { get; }

    /// <summary>Options that say how to read the file, in the order of the help.</summary>
    public IReadOnlyList<Option> OfFile { get; }

    /// <summary>Options that say what is wanted of a survey folder.</summary>
    public IReadOnlyList<Option> OfSurvey { get; }

    public RecordingRequest RequestOf(ParseResult parsed) => _log.Apply(parsed, new()
    {
        Service = Service.Named(parsed.GetValue(_service)),
        Nominal = parsed.GetValue(_nominal),
        FrequencyHertz = parsed.GetValue(_frequency) switch { "50" => 50, "60" => 60, _ => null },
        Channels = parsed.GetValue(_channels),
        Scaling = parsed.GetValue(_scaling) switch
        {
            "primary" => Scaling.Primary,
            "secondary" => Scaling.Secondary,
            _ => Scaling.AsRecorded,
        },
        RateHertz = parsed.GetValue(_rate),
        DecimalMark = parsed.GetValue(_decimalMark) switch { "point" => '.', "comma" => ',', _ => null },
        Columns = parsed.GetValue(_columns),
        Recording = parsed.GetValue(_name),
    });
}
