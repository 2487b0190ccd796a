using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Measuring;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Flicker;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Matching;
using Leadwright.Formats.Pqdif;
using Leadwright.Formats.Sampling;

namespace Leadwright.App.Verbs.Measuring;

/// <summary>Opens a recording and works out what is to be measured in it.</summary>
public static class MeasureInput
{
    private const int MostLeftOver = 12;
    private const int HeadBytes = 1 << 16;
    private const double PreviewSeconds = 2;

    // Nominal voltages that are common on nameplates, line to neutral and line to line (common practice, no source).
    private static readonly double[] s_usualVolts = [100, 110, 115, 120, 127, 200, 208, 220, 230, 240, 277, 347, 380, 400, 415, 480, 600, 690];

    /// <summary>Opens a recording.</summary>
    /// <param name="path">The file.</param>
    /// <param name="request">What is asked.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <exception cref="InputRefusedException">It can't be used.</exception>
    public static MeasureSubject Open(string path, MeasureRequest request, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(request);
        SampleSource? source = null;
        try
        {
            var open = Opener(path, request, cancellation);
            source = open();
            var choice = ChooseLanes(source, path, request);
            source.Choose(choice.Lanes);
            var subject = Plan(path, source, choice, request);
            source.Dispose();
            source = open();
            source.Choose(choice.Lanes);
            return subject with { Source = source };
        }
        catch (FormatReadException failure)
        {
            source?.Dispose();
            var code = failure.Source == "--channels" ? ExitCode.WrongUsage : ExitCode.InputUnusable;
            throw new InputRefusedException(code, failure.Message, failure);
        }
        catch (InputRefusedException)
        {
            source?.Dispose();
            throw;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            source?.Dispose();
            throw InputRefusedException.CannotRead(path, failure);
        }
    }

    private static Func<SampleSource> Opener(string path, MeasureRequest request, CancellationToken cancellation)
    {
        var ending = Path.GetExtension(path).ToLowerInvariant();
        var scaling = request.ToComtradeOptions();
        switch (ending)
        {
            case ".cfg" or ".dat":
                var configuration = ending == ".cfg" ? path : Beside(path, ".cfg");
                var data = ending == ".cfg" ? Beside(path, ".dat") : path;
                return () => OpenComtrade(configuration, data, scaling);
            case ".cff":
                return () => OpenCombined(path, scaling);
            case ".pqd" or ".pqdif":
                return () => OpenPqdif(path, request.ToPqdifOptions(), cancellation);
            case ".csv" or ".txt" or ".tsv":
                if (request.RateHertz is null && InputSniffer.KindOf(HeadOf(path)) == InputKind.LogTable) throw NoSamples(path);
                CsvLayout layout;
                using (var table = StreamOf(path)) layout = CsvLayout.Of(path, table, request.ToCsvOptions(), cancellation);
                return () => new CsvSampleSource(layout, StreamOf(path));
            case ".parquet":
                var open = SampleFiles.Opener([new SampleFile(path, () => StreamOf(path))], request.ToReadOptions(), cancellation) ?? throw NoSamples(path);
                return () => open()!;
            case ".xlsx" or ".xls":
                var text = SampleSheets.TextOf(InputOf(path), request.RateHertz) ?? throw NoSamples(path);
                var bytes = text.Bytes.ToArray();
                CsvLayout sheet;
                using (var table = new MemoryStream(bytes, writable: false)) sheet = CsvLayout.Of(path, table, request.ToCsvOptions(), cancellation);
                return () => new CsvSampleSource(sheet, new MemoryStream(bytes, writable: false));
            default:
                throw new InputRefusedException(
                    ExitCode.InputUnusable, $"Cannot read '{path}': expected a recording (.cfg with .dat, .cff, .pqd, .csv), found the ending '{ending}'.");
        }
    }

    private static InputRefusedException NoSamples(string path) => new(
        ExitCode.InputUnusable, $"Cannot measure '{path}': it holds no samples. A log of intervals is studied as it is: leadwright study {path}");

    private static InputFile HeadOf(string path)
    {
        using var stream = File.OpenRead(path);
        var head = new byte[HeadBytes];
        return new InputFile(path, head.AsMemory(0, stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false)));
    }

    private static SampleSource OpenComtrade(string configuration, string data, ComtradeReadOptions options)
    {
        var cfg = InputOf(configuration);
        if (OpenOr(StreamOf(data), stream => ComtradeFiles.TryOpen(cfg, data, stream, options)) is { } source) return source;
        var record = ComtradeReader.Read(cfg, InputOf(data), options);
        return new RecordingSource(configuration, record.Recording, record.Warnings);
    }

    private static SampleSource OpenCombined(string path, ComtradeReadOptions options)
    {
        if (OpenOr(StreamOf(path), stream => ComtradeFiles.TryOpenCombined(path, stream, options)) is { } source) return source;
        var record = ComtradeReader.ReadCombined(InputOf(path), options);
        return new RecordingSource(path, record.Recording, record.Warnings);
    }

    // A stream that no source took over is closed.
    private static SampleSource? OpenOr(FileStream stream, Func<Stream, SampleSource?> open)
    {
        SampleSource? source = null;
        try
        {
            return source = open(stream);
        }
        finally
        {
            if (source is null) stream.Dispose();
        }
    }

    private static FileStream StreamOf(string path) => new(path, new FileStreamOptions { BufferSize = 0, Options = FileOptions.SequentialScan });

    private static SampleSource OpenPqdif(string path, PqdifReadOptions options, CancellationToken cancellation) =>
        OpenOr(StreamOf(path), stream => PqdifSource.TryOpen(path, stream, options, cancellation)) ?? throw new InputRefusedException(
            ExitCode.InputUnusable, $"Cannot measure '{path}': it holds logged values and no waveform. What a recorder logged is measured already.");

    private static InputFile InputOf(string path) => new(path, File.ReadAllBytes(path));

    private static string Beside(string path, string ending) => InputPaths.Beside(path, ending) ?? throw new InputRefusedException(
        ExitCode.InputUnusable,
        $"Cannot read '{path}': its other half '{Path.GetFileNameWithoutExtension(path) + ending}' is not beside it. Put both files of the recording into one folder.");

    private sealed record Choice(
        ServiceKind Service, LaneChoice Lanes, int Bits, ImmutableArray<string> Names, ImmutableArray<DerivedLane> Derived, ImmutableArray<string> Notes);

    private static Choice ChooseLanes(SampleSource source, string path, MeasureRequest request)
    {
        var recording = new SampledRecording(source.Channels, [], source.LineFrequencyHertz, source.Start);
        var matching = ChannelMatcher.Match(recording, request.Service?.Kind ?? ServiceKind.Wye, request.Channels, path);
        var matches = matching.Matches.ToDictionary(match => match.Channel);
        var service = request.Service?.Kind ?? ServiceOf(matches);
        var notes = request.Service is null ? [] : matching.Notes.ToList();
        // Leads against the star point of the inputs measure a three-wire service as they measure a four-wire one.
        var isLineToLine = service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp && !matches.ContainsKey(Channel.V1);
        if (!matches.ContainsKey(Channel.V1) && (matches.ContainsKey(Channel.V12) || matches.ContainsKey(Channel.V23))
            && service is ServiceKind.Wye)
        {
            (service, isLineToLine) = (ServiceKind.Delta, true);
            notes.Add("The recording holds voltages between lines only: it is measured as a three-wire service.");
        }

        var lanes = LaneChoice.Empty;
        var names = Enumerable.Repeat("", Lane.Count).ToArray();
        var bits = 0;
        Channel[] voltages = isLineToLine ? [Channel.V12, Channel.V23, Channel.V31] : [Channel.V1, Channel.V2, Channel.V3];
        for (var lane = 0; lane < 3; lane++) Put(lane, voltages[lane]);
        Channel[] currents = [Channel.I1, Channel.I2, Channel.I3, Channel.IN];
        for (var lane = 0; lane < 4; lane++) Put(Lane.VoltageCount + lane, currents[lane]);
        var derived = ImmutableArray.CreateBuilder<DerivedLane>();
        if (isLineToLine) Derive(0, "V");
        if (service == ServiceKind.DeltaTwoClamp && (bits & 0x20) == 0) Derive(Lane.VoltageCount, "I");
        var kept = service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp && !isLineToLine ? ServiceKind.Wye : service;
        var unused = matching.Unmatched.Where(channel => channel.SourceName.Length > 0).Select(channel => channel.SourceName).ToList();
        if (unused.Count > 0)
            notes.Add($"Channels of the file that were not used: {string.Join(", ", unused.Take(MostLeftOver))}{(unused.Count > MostLeftOver ? " …" : "")}.");
        return new Choice(kept, lanes, bits, [.. names], derived.ToImmutable(), [.. notes]);

        void Put(int lane, Channel channel)
        {
            if (!matches.TryGetValue(channel, out var match)) return;
            lanes = lanes.With(lane, match.SourceIndex, match.IsTurned);
            names[lane] = channel.ToString();
            bits |= 1 << lane;
        }

        // The one of three that is missing is minus the sum of the others.
        void Derive(int first, string kind)
        {
            var missing = Enumerable.Range(first, 3).Where(lane => (bits & (1 << lane)) == 0).ToList();
            if (missing.Count != 1) return;
            var target = missing[0];
            derived.Add(new DerivedLane(target, first + ((target - first + 1) % 3), first + ((target - first + 2) % 3)));
            names[target] = kind == "V" ? voltages[target].ToString() : currents[target - first].ToString();
            bits |= 1 << target;
            notes.Add($"{names[target]} is worked out from the other two: on three wires the three add up to zero.");
        }
    }

    private static ServiceKind ServiceOf(Dictionary<Channel, ChannelMatch> matches)
    {
        if (matches.ContainsKey(Channel.V3) || (matches.ContainsKey(Channel.I3) && matches.ContainsKey(Channel.V1))) return ServiceKind.Wye;
        if (matches.ContainsKey(Channel.V12) || matches.ContainsKey(Channel.V23))
            return matches.ContainsKey(Channel.I2) || !matches.ContainsKey(Channel.I1) ? ServiceKind.Delta : ServiceKind.DeltaTwoClamp;
        if (matches.ContainsKey(Channel.V2)) return ServiceKind.Split;
        return matches.ContainsKey(Channel.V1) || !matches.ContainsKey(Channel.I2) ? ServiceKind.Single : ServiceKind.Wye;
    }

    private static MeasureSubject Plan(string path, SampleSource source, Choice choice, MeasureRequest request)
    {
        var notes = new List<string>(choice.Notes);
        var frames = new float[(int)(PreviewSeconds * source.RateHertz) * Lane.Count];
        var count = 0;
        while (count < frames.Length && source.Read(frames.AsSpan(count)) is var read && (read > 0 || source.NextSegmentSeconds is not null))
            count += read * Lane.Count;
        if (count == 0) throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot measure '{path}': it holds no samples.");
        var preview = frames.AsSpan(0, count);
        var hertz = request.FrequencyHertz ?? NominalHertz(source, choice, preview, notes);
        if (source.RateHertz < 8 * hertz)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, string.Create(CultureInfo.InvariantCulture,
                $"Cannot measure '{path}': {source.RateHertz:0.#} samples a second are too few for a waveform of {hertz} Hz; at least {8 * hertz} are needed."));
        }

        var isLineToLine = choice.Service is ServiceKind.Delta or ServiceKind.DeltaTwoClamp;
        var (declared, nominal) = Declared(choice, isLineToLine, preview, request, notes);
        var lineToNeutral = isLineToLine ? declared / Math.Sqrt(3) : declared;
        var start = source.Start;
        var plan = new MeasuringPlan
        {
            RateHertz = source.RateHertz,
            NominalHertz = hertz,
            Service = choice.Service,
            Lanes = choice.Bits,
            DeclaredVolts = declared,
            SecondsAfterTick = request.IsByClock && start is { } time ? time.TimeOfDay.TotalSeconds : 0,
            Lamp = request.Lamp ?? (lineToNeutral is > 0 and < 170 ? FlickerLamp.Volts120 : FlickerLamp.Volts230),
            Events = request.Events,
            SignallingHertz = request.SignallingHertz,
            Interval = request.Interval,
            IsParallel = true,
        };
        return new MeasureSubject(
            path, source, plan, choice.Names, choice.Derived, (request.Service ?? Service.Of(choice.Service)).Name, nominal, [.. notes]);
    }

    private static double NominalHertz(SampleSource source, Choice choice, ReadOnlySpan<float> preview, List<string> notes)
    {
        if (source.LineFrequencyHertz is > 45 and < 65) return source.LineFrequencyHertz < 55 ? 50 : 60;
        var samples = new double[preview.Length / Lane.Count];
        foreach (var lane in Enumerable.Range(0, Lane.Count).Where(lane => (choice.Bits & (1 << lane)) != 0))
        {
            for (var index = 0; index < samples.Length; index++) samples[index] = preview[(index * Lane.Count) + lane];
            if (FrequencyMeasurement.Measure(samples, new RateSegment(0, samples.Length, source.RateHertz, 0)) is { } estimate)
                return estimate.Hertz < 55 ? 50 : 60;
        }

        notes.Add("The nominal frequency is not stated and nothing at the start shows it: 50 Hz is taken. Give it with --frequency.");
        return 50;
    }

    private static (double Volts, string? Nominal) Declared(
        Choice choice, bool isLineToLine, ReadOnlySpan<float> preview, MeasureRequest request, List<string> notes)
    {
        if (request.Nominal is { } text)
        {
            if (!NominalVoltage.TryParse(text, choice.Service, out var nominal) || nominal is null)
            {
                throw new InputRefusedException(
                    ExitCode.WrongUsage,
                    $"--nominal: '{text}' is no nominal voltage of a {Service.Of(choice.Service).Name} service. Write it as on the nameplate, such as 230/400 or 480.");
            }

            return (isLineToLine ? nominal.LineToLineVolts : nominal.LineToNeutralVolts, nominal.ToString());
        }

        var largest = 0.0;
        for (var lane = 0; lane < 3; lane++)
        {
            var (sum, count) = (0.0, 0);
            for (var index = lane; index < preview.Length; index += Lane.Count)
            {
                if (!float.IsFinite(preview[index])) continue;
                sum += (double)preview[index] * preview[index];
                count++;
            }

            if (count > 0) largest = Math.Max(largest, Math.Sqrt(sum / count));
        }

        if ((choice.Bits & 0b111) == 0) return (0, null);
        // The high leg reads √3 times what the others do.
        if (choice.Service == ServiceKind.HighLeg) largest /= Math.Sqrt(3);
        var usual = s_usualVolts.MinBy(volts => Math.Abs((volts / largest) - 1));
        if (largest > 0 && Math.Abs((largest / usual) - 1) < 0.1)
        {
            notes.Add(string.Create(CultureInfo.InvariantCulture,
                $"The nominal voltage is not stated: {usual} V is taken for events, since the recording starts at {largest:0.0} V. Give it with --nominal."));
            return (usual, null);
        }

        notes.Add("The nominal voltage is not stated and the recording's start is near none of the usual ones: no events are looked for. Give it with --nominal.");
        return (0, null);
    }
}
