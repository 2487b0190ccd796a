using System.CommandLine;
using Leadwright.Core.Measuring;
using Leadwright.Core.Signals.Events;
using Leadwright.Core.Signals.Flicker;
using Leadwright.Reports.Measuring;

namespace Leadwright.App.Verbs.Measuring;

/// <summary>The options of <c>measure</c>, each defined once; help and errors derive from it.</summary>
internal sealed class MeasureVerbOptions
{
    private readonly Argument<string[]> _files = new("FILE")
    {
        Description = "A sampled recording: COMTRADE (.cfg with .dat, .cff), PQDIF (.pqd) or a table of samples (.csv, .xlsx, .parquet); or a survey's folder.",
        Arity = ArgumentArity.OneOrMore,
    };

    private readonly RecordingOptions _recording = new("by the channels that are there.");

    private readonly Option<string?> _format = VerbOptions.Format();

    private readonly Option<string?> _output = new("--output", "-o")
    {
        Description = "Writes one row per interval to a .csv or .parquet table or a PQDIF value log (.pqd), and events to a table beside it (…-events).",
        HelpName = "TABLE",
    };

    private readonly Option<bool> _resume = new("--resume")
    {
        Description = "Goes on where an interrupted run of the same command stopped, by the checkpoint beside the table (-o).",
    };

    private readonly Option<string> _interval = new("--interval")
    {
        Description = "Length of a row: cycles (every 10/12-cycle window), 3s (150/180 cycles), or a time such as 10s, 1min, 10min, 15min, 2h.",
        HelpName = "TIME",
        DefaultValueFactory = _ => "10min",
    };

    private readonly Option<string?> _ticks = VerbOptions.Among(
        "--ticks", "Whether intervals follow the clock, as the standard asks, or the recording's start.", "clock", "clock", "start");

    private readonly Option<string?> _spectra = VerbOptions.Among(
        "--spectra", "What of the spectra goes into the table; all adds interharmonics.", "harmonics", "none", "harmonics", "all");

    private readonly Option<string?> _lamp = VerbOptions.Among(
        "--lamp", "Lamp of the flickermeter; by the nominal voltage when not given.", null, "230", "120");

    private readonly Option<double> _signalling = new("--signalling")
    {
        Description = "Measures mains signalling at this frequency.",
        HelpName = "HERTZ",
    };

    private readonly Option<double> _demand = new("--demand-current")
    {
        Description = "Maximum demand load current, for total demand distortion.",
        HelpName = "AMPERES",
    };

    private readonly Option<double> _dip = Threshold("--dip", "A dip begins below this percentage of nominal.", 90);
    private readonly Option<double> _swell = Threshold("--swell", "A swell begins above this percentage of nominal.", 110);
    private readonly Option<double> _interruption = Threshold("--interruption", "An interruption begins below this percentage, on all channels.", 5);
    private readonly Option<double> _change = Threshold("--rapid-change", "A rapid voltage change begins this far from the steady level; 0 for none.", 5);
    private readonly Option<double> _transient = Threshold("--transient", "A transient deviates from the cycle before by this percentage of the peak; 0 for none.", 15);

    private readonly Option<string?> _waveforms = new("--waveforms")
    {
        Description = "Writes the waveform around each event into this folder, as tables of samples.",
        HelpName = "DIR",
    };

    private readonly Option<bool> _keep = new("--keep") { Description = "Keeps the table and its events in the survey whose folder is named, for charts and queries." };

    public MeasureVerbOptions()
    {
        _interval.Validators.Add(result =>
        {
            if (!MeasuringInterval.TryParse(result.GetValueOrDefault<string>(), out _))
                result.AddError($"--interval: '{result.GetValueOrDefault<string>()}' is none of cycles, 3s, or a time from 10s on that divides a day evenly, such as 1min, 10min, 2h.");
        });
        _output.Validators.Add(result =>
        {
            var path = result.GetValueOrDefault<string?>();
            if (path is not null && Path.GetExtension(path).ToLowerInvariant() is not (".csv" or ".parquet" or ".pqd"))
                result.AddError($"-o: '{path}' must end in .csv, .parquet or .pqd.");
        });
        foreach (var option in (Option<double>[])[_signalling, _demand])
        {
            option.Validators.Add(result =>
            {
                if (!(result.GetValueOrDefault<double>() >= 0)) result.AddError($"{option.Name}: expected a number above zero.");
            });
        }
    }

    public void AddTo(Command command)
    {
        VerbOptions.RefuseUnknownOptions(_files, "measure");
        command.Validators.Add(result =>
        {
            if (result.GetValue(_resume) && result.GetValue(_output) is null) result.AddError("--resume: name the table of the interrupted run with -o.");
            if (result.GetValue(_resume) && result.GetValue(_output) is { } named && !MeasureTables.MayResume(named))
                result.AddError("--resume: a PQDIF file is written in one go: measure anew, or into .csv or .parquet.");
        });
        command.Validators.Add(result =>
        {
            if (result.GetValue(_keep) && result.GetValue(_output) is { } named && !named.EndsWith(".parquet", StringComparison.OrdinalIgnoreCase))
                result.AddError("--keep: the table of a survey is Parquet: name a .parquet file with -o, or none.");
        });
        command.Add(_files);
        foreach (var option in (Option[])
            [.. _recording.OfPanel, _format, _output, _resume, _interval, _ticks, _spectra, _lamp, _signalling, _demand, _dip, _swell, _interruption,
                _change, _transient, _waveforms, _keep, .. _recording.OfSurvey, .. _recording.OfFile])
            command.Add(option);
    }

    public IReadOnlyList<string> FilesOf(ParseResult parsed) => parsed.GetValue(_files) ?? [];

    /// <summary>True to keep the table in the survey.</summary>
    public bool Keeps(ParseResult parsed) => parsed.GetValue(_keep);

    public bool IsJson(ParseResult parsed) => parsed.GetValue(_format) == "json";

    public MeasureRequest RequestOf(ParseResult parsed) => new(_recording.RequestOf(parsed))
    {
        Interval = MeasuringInterval.TryParse(parsed.GetValue(_interval), out var interval) ? interval : MeasuringInterval.TenMinutes,
        IsByClock = parsed.GetValue(_ticks) != "start",
        Output = parsed.GetValue(_output),
        IsResumed = parsed.GetValue(_resume),
        Spectra = Enum.Parse<SpectrumDetail>(parsed.GetValue(_spectra)!, ignoreCase: true),
        Lamp = parsed.GetValue(_lamp) switch { "230" => FlickerLamp.Volts230, "120" => FlickerLamp.Volts120, _ => null },
        SignallingHertz = parsed.GetValue(_signalling),
        DemandAmperes = parsed.GetValue(_demand),
        Events = new EventThresholds
        {
            Dip = parsed.GetValue(_dip) / 100,
            Swell = parsed.GetValue(_swell) / 100,
            Interruption = parsed.GetValue(_interruption) / 100,
            RapidChange = parsed.GetValue(_change) / 100,
            Transient = parsed.GetValue(_transient) / 100,
        },
        Waveforms = parsed.GetValue(_waveforms),
    };

    private static Option<double> Threshold(string name, string description, double standard)
    {
        var option = new Option<double>(name) { Description = description, HelpName = "PERCENT", DefaultValueFactory = _ => standard };
        option.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<double>() is not (>= 0 and <= 1000)) result.AddError($"{name}: expected a percentage.");
        });
        return option;
    }
}
