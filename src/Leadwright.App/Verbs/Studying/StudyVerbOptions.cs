using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Leadwright.Core.Measuring;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Limits;
using Leadwright.Core.Studies.Load;
using Leadwright.Formats;
using Leadwright.Formats.Limits;

namespace Leadwright.App.Verbs.Studying;

/// <summary>The options of <c>study</c>, each defined once; help and errors derive from it.</summary>
internal sealed class StudyVerbOptions
{
    private static readonly string[] s_statements = ["year", "occupied", "seasonal", "no-generation", "no-peak-shaving", "protected"];

    private readonly Argument<string[]> _files = new("FILE")
    {
        Description = "A log of intervals (.csv, .tsv, .xlsx, .parquet, .pqd), a sampled recording (.cfg with .dat, .cff, .pqd, .csv), which is measured first, or a survey's folder.",
        Arity = ArgumentArity.ZeroOrMore,
    };

    private readonly RecordingOptions _recording = new("by the columns or channels that are there.");
    private readonly Option<string?> _format = VerbOptions.Format();

    private readonly Option<string[]> _limits = new("--limits")
    {
        Description = $"Tables of limits: {string.Join(", ", LimitTableReader.Shipped)}, or a file of your own ({LimitTableReader.Schema}). Several by commas or by naming the option again.",
        HelpName = "NAME|FILE",
        Arity = ArgumentArity.OneOrMore,
    };

    private readonly Option<string[]> _curves = new("--curves")
    {
        Description = $"Voltage-tolerance curves: {string.Join(", ", ToleranceCurveReader.Shipped)}, or a file of your own ({ToleranceCurveReader.Schema}); those that come with the program when not given.",
        HelpName = "NAME|FILE",
        Arity = ArgumentArity.OneOrMore,
    };

    private readonly Option<string?> _showLimits = VerbOptions.Among(
        "--show-limits", "Prints a table of limits or a tolerance curve, to start one of your own from.", null, [.. LimitTableReader.Shipped, .. ToleranceCurveReader.Shipped]);

    private readonly Option<string> _demand = new("--demand")
    {
        Description = "Lengths of demand windows in minutes; the first is the one that counts: 15 or 15,30,60.",
        HelpName = "MINUTES",
        DefaultValueFactory = _ => "15,30,60",
    };

    private readonly Option<string?> _kind = VerbOptions.Among("--demand-kind", "Which demand counts: fixed blocks of the clock or a sliding window.", "block", "block", "sliding");
    private readonly Option<string?> _tariff = Text("--tariff", $"Calendar of tariff periods ({TariffReader.Schema}).", "FILE");
    private readonly Option<string?> _hours = Text("--hours", "Opening hours, for what flows outside them: \"mon-fri 07:00-18:00, sat 08:00-12:00\".", "HOURS");
    private readonly Option<double?> _target = Positive("--target-pf", "Wanted power factor; 0.95 when not given.", "FACTOR");
    private readonly Option<double?> _rating = Positive("--rating", "Ampacity of the feeder or rating of service, breaker or transformer, for spare capacity.", "AMPERES");
    private readonly Option<double?> _cable = Positive("--cable", "Current-carrying capacity of the cable as laid.", "AMPERES");
    private readonly Option<double?> _newLoad = Positive("--new-load", "Load to be added.", "KW");
    private readonly Option<double?> _factor = Positive("--pf", "Power factor by which kilowatts become amperes; 1 when not given.", "FACTOR");

    private readonly Option<string?> _stated = Text(
        "--stated", $"What you state of the existing load, by commas: {string.Join(", ", s_statements)}. What is not stated counts as not shown.", "WORDS");

    private readonly Option<double?> _shortCircuit = Positive("--short-circuit", "Short-circuit power at the place, for resonance.", "MVA");
    private readonly Option<double?> _eddy = Positive("--eddy-loss", "Winding eddy-current loss of the transformer, percent of its I2R loss, for derating.", "PERCENT");
    private readonly Option<double?> _billKwh = Positive("--bill-kwh", "Billed energy, to compare with.", "KWH");
    private readonly Option<double?> _billDays = Positive("--bill-days", "Days of the bill; those of the record when not given.", "DAYS");
    private readonly Option<double?> _billKw = Positive("--bill-kw", "Billed peak demand, to compare with.", "KW");
    private readonly Option<double?> _demandCurrent = Positive("--demand-current", "Maximum demand current, for limits on current harmonics.", "AMPERES");
    private readonly Option<double?> _ratio = Positive("--isc-ratio", "Short-circuit over demand current, for limits on current harmonics.", "RATIO");
    private readonly Option<string?> _point = VerbOptions.Among("--point", "Where the recorder hung, for ANSI C84.1.", "service", "service", "utilization");

    private readonly Option<string?> _before = Text("--before", "A record of the time before a change, to compare with: a file, or the folder of a survey with one recording.", "FILE");
    private readonly Option<string?> _split = Text("--split", "Time of a change within the record: what is before it is compared with what is after it.", "TIME");
    private readonly Option<double?> _instrument = Positive("--instrument", "Standard uncertainty of the instrument between two spans; 0.5 when not given (common practice, no source).", "PERCENT");

    private readonly Option<string> _interval = new("--interval")
    {
        Description = "Length of the rows that a sampled recording is measured into: 10s, 1min, 10min, 15min.",
        HelpName = "TIME",
        DefaultValueFactory = _ => "1min",
    };

    private readonly Option<string?> _output = new("--output", "-o")
    {
        Description = "Writes tables (.csv) and plots (.svg) into this folder.",
        HelpName = "DIR",
    };

    private readonly Option<bool> _unmended = new("--unmended")
    {
        Description = "Studies a survey's recording as the recorder wrote it. Without it the survey's corrections are made first, and what is modelled is said to be so.",
    };

    public StudyVerbOptions()
    {
        _limits.CompletionSources.Add([.. LimitTableReader.Shipped]);
        _curves.CompletionSources.Add([.. ToleranceCurveReader.Shipped]);
        _demand.Validators.Add(result =>
        {
            if (MinutesOf(result.GetValueOrDefault<string>()) is null) result.AddError($"--demand: '{result.GetValueOrDefault<string>()}' is no list of minutes such as 15 or 15,30.");
        });
        _hours.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string?>() is { } text && TariffReader.ParseHours(text) is null)
                result.AddError($"--hours: '{text}' is not of the form \"mon-fri 07:00-18:00, sat 08:00-12:00\".");
        });
        _stated.Validators.Add(result =>
        {
            var wrong = WordsOf(result.GetValueOrDefault<string?>()).Except(s_statements, StringComparer.Ordinal).FirstOrDefault();
            if (wrong is not null) result.AddError($"--stated: '{wrong}' is not one of {string.Join(", ", s_statements)}.");
        });
        _interval.Validators.Add(result =>
        {
            if (!MeasuringInterval.TryParse(result.GetValueOrDefault<string>(), out var interval) || interval.Windows == 1)
                result.AddError($"--interval: '{result.GetValueOrDefault<string>()}' is no time such as 10s, 1min or 10min.");
        });
        _split.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<string?>() is { } text && TimeOf(text) is null) result.AddError($"--split: '{text}' is no time such as 2026-03-05T12:00.");
        });
        foreach (var option in (Option<double?>[])[_target, _factor])
        {
            option.Validators.Add(result =>
            {
                if (result.GetValueOrDefault<double?>() > 1) result.AddError($"{option.Name}: a power factor is 1 at most.");
            });
        }
    }

    /// <summary>What says what is to be worked out; other verbs that study have it too.</summary>
    public IReadOnlyList<Option> OfStudy =>
    [
        _limits, _curves, _demand, _kind, _tariff, _hours, _target, _rating, _cable, _newLoad, _factor, _stated, _shortCircuit, _eddy, _billKwh, _billDays, _billKw, _demandCurrent,
        _ratio, _point, _before, _split, _instrument, _interval,
    ];

    /// <summary>What says what the panel is.</summary>
    public IReadOnlyList<Option> OfPanel => _recording.OfPanel;

    /// <summary>What says which recording of a survey is meant.</summary>
    public IReadOnlyList<Option> OfSurvey => _recording.OfSurvey;

    /// <summary>What says how to read a file.</summary>
    public IReadOnlyList<Option> OfFile => _recording.OfFile;

    public void AddTo(Command command)
    {
        VerbOptions.RefuseUnknownOptions(_files, "study");
        command.Add(_files);
        foreach (var option in (Option[])[.. _recording.OfPanel, _format, _output, _showLimits, .. OfStudy, .. _recording.OfSurvey, _unmended, .. _recording.OfFile]) command.Add(option);
    }

    public IReadOnlyList<string> FilesOf(ParseResult parsed) => parsed.GetValue(_files) ?? [];

    public bool IsJson(ParseResult parsed) => parsed.GetValue(_format) == "json";

    /// <summary>True when the command line says something of what is to be worked out of the load; a survey's choices then count for nothing.</summary>
    public bool SaysLoad(ParseResult parsed) => ((Option[])[_demand, _kind, _tariff, _hours, _target, _rating, _cable, _newLoad, _factor, _stated, _shortCircuit, _eddy, _billKwh, _billDays, _billKw])
        .Any(option => parsed.GetResult(option) is { Implicit: false });

    public string? ShownLimits(ParseResult parsed) => parsed.GetValue(_showLimits);

    /// <exception cref="InputRefusedException">A file that is named can't be used.</exception>
    public StudyRequest RequestOf(ParseResult parsed) => new(_recording.RequestOf(parsed))
    {
        IsUnmended = parsed.GetValue(_unmended),
        Limits = [.. (parsed.GetValue(_limits) ?? []).SelectMany(WordsOf).Select(TableOf)],
        Curves = parsed.GetValue(_curves) is { Length: > 0 } words ? [.. words.SelectMany(WordsOf).Select(CurveOf)] : ToleranceCurveReader.ReadShipped(),
        Site = new LimitSite
        {
            DemandAmperes = parsed.GetValue(_demandCurrent) ?? double.NaN,
            CurrentRatio = parsed.GetValue(_ratio) ?? double.NaN,
            Point = parsed.GetValue(_point)!,
        },
        Load = new LoadStudyOptions
        {
            DemandMinutes = MinutesOf(parsed.GetValue(_demand))!.Value,
            Kind = parsed.GetValue(_kind) == "sliding" ? DemandKind.Sliding : DemandKind.Block,
            Tariff = parsed.GetValue(_tariff) is { } tariff ? Used(() => TariffReader.Read(FileOf(tariff))) : null,
            Opening = TariffReader.ParseHours(parsed.GetValue(_hours)),
            TargetFactor = parsed.GetValue(_target) ?? 0.95,
            Rating = RatingOf(parsed),
            CableAmperes = parsed.GetValue(_cable) ?? double.NaN,
            ShortCircuitVoltAmperes = 1e6 * (parsed.GetValue(_shortCircuit) ?? double.NaN),
            EddyLoss = (parsed.GetValue(_eddy) ?? double.NaN) / 100,
            BilledWattHours = 1000 * (parsed.GetValue(_billKwh) ?? double.NaN),
            BilledDays = parsed.GetValue(_billDays) ?? double.NaN,
            BilledWatts = 1000 * (parsed.GetValue(_billKw) ?? double.NaN),
        },
        Interval = MeasuringInterval.TryParse(parsed.GetValue(_interval), out var interval) ? interval : new(0, 60),
        Before = parsed.GetValue(_before),
        Split = TimeOf(parsed.GetValue(_split)),
        InstrumentPercent = parsed.GetValue(_instrument) ?? 0.5,
        Output = parsed.GetValue(_output),
    };

    private FeederRating? RatingOf(ParseResult parsed)
    {
        if (parsed.GetValue(_rating) is not { } amperes) return null;
        var stated = WordsOf(parsed.GetValue(_stated)).ToHashSet(StringComparer.Ordinal);
        return new FeederRating(amperes)
        {
            NewWatts = 1000 * (parsed.GetValue(_newLoad) ?? 0),
            PowerFactor = parsed.GetValue(_factor),
            HasYearOfDemand = stated.Contains("year"),
            IsOccupied = stated.Contains("occupied") ? true : null,
            IncludesSeasonalLoads = stated.Contains("seasonal") ? true : null,
            HasGeneration = stated.Contains("no-generation") ? false : null,
            HasPeakShaving = stated.Contains("no-peak-shaving") ? false : null,
            HasOvercurrentProtection = stated.Contains("protected") ? true : null,
        };
    }

    /// <summary>A table of limits by its name or file.</summary>
    /// <exception cref="InputRefusedException">There is none.</exception>
    public static LimitTable TableOf(string word) => Used(() =>
        LimitTableReader.ShippedFile(word.ToLowerInvariant()) is { } shipped ? LimitTableReader.Read(shipped)
        : word.Contains('.', StringComparison.Ordinal) || File.Exists(word) ? LimitTableReader.Read(FileOf(word))
        : throw new InputRefusedException(ExitCode.WrongUsage, $"--limits: there is no table '{word}'. Tables: {string.Join(", ", LimitTableReader.Shipped)}; or name a file."));

    private static ToleranceCurve CurveOf(string word) => Used(() =>
        ToleranceCurveReader.Shipped.Contains(word.ToLowerInvariant()) ? ToleranceCurveReader.Read(LimitTableReader.ShippedFile(word.ToLowerInvariant())!)
        : word.Contains('.', StringComparison.Ordinal) || File.Exists(word) ? ToleranceCurveReader.Read(FileOf(word))
        : throw new InputRefusedException(ExitCode.WrongUsage, $"--curves: there is no curve '{word}'. Curves: {string.Join(", ", ToleranceCurveReader.Shipped)}; or name a file."));

    private static InputFile FileOf(string path)
    {
        try
        {
            return new InputFile(path, File.ReadAllBytes(path));
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

    private static ImmutableArray<double>? MinutesOf(string? text)
    {
        var minutes = ImmutableArray.CreateBuilder<double>();
        foreach (var word in WordsOf(text))
        {
            if (!double.TryParse(word, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value) || !(value > 0)) return null;
            minutes.Add(value);
        }

        return minutes.Count > 0 ? minutes.ToImmutable() : null;
    }

    private static DateTime? TimeOf(string? text) => DateTime.TryParseExact(
        text, ["yyyy-MM-dd", "yyyy-MM-ddTHH:mm", "yyyy-MM-dd HH:mm", "yyyy-MM-ddTHH:mm:ss", "yyyy-MM-dd HH:mm:ss"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var time) ? time : null;

    private static string[] WordsOf(string? text) => (text ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static Option<string?> Text(string name, string description, string help) => new(name) { Description = description, HelpName = help };

    private static Option<double?> Positive(string name, string description, string help)
    {
        var option = new Option<double?>(name) { Description = description, HelpName = help };
        option.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<double?>() is { } value && !(value > 0 && double.IsFinite(value))) result.AddError($"{name}: expected a number above zero.");
        });
        return option;
    }
}
