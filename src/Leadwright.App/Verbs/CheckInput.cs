using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;
using Leadwright.Formats;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Formats.Pqdif;
using Leadwright.Formats.Readings;
using Leadwright.Reports.Hookups;

namespace Leadwright.App.Verbs;

/// <summary>Reads the inputs of a check from files: readings, or a sampled recording that is measured.</summary>
public sealed class CheckInput : ICheckInput
{
    private const int MostLeftOver = 12;

    /// <inheritdoc/>
    public async Task<CheckSubject> ReadAsync(string path, CheckRequest request, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(request);
        try
        {
            if (await Task.Run(() => LongOrNull(path, request, cancellation), cancellation) is { } subject) return subject;
            var file = await OpenAsync(path, cancellation);
            return InputSniffer.KindOf(file) switch
            {
                InputKind.Readings => FromReadings(file, request),
                InputKind.ComtradeConfiguration => FromComtrade(file, await BesideAsync(path, ".dat", cancellation), request),
                InputKind.ComtradeData => FromComtrade(await BesideAsync(path, ".cfg", cancellation), file, request),
                InputKind.ComtradeCombined => FromRecording(path, ReadCombined(file, request), request),
                InputKind.Pqdif => FromPqdif(path, file, request),
                InputKind.Table => FromRecording(path, ReadTable(file, request), request),
                var kind when InputSniffer.IsLog(kind) => SampleSheets.TextOf(file, request.RateHertz) is { } text
                    ? FromRecording(path, ReadTable(text, request), request)
                    : FromLog(path, LogReader.Read(file, RecordingFile.LogOptionsOf(request), cancellation: cancellation), request),
                _ => throw new InputRefusedException(
                    ExitCode.InputUnusable,
                    $"Cannot read '{path}': expected readings (.json), a recording (.cfg with .dat, .cff, .pqd, .csv) or a log of intervals (.csv, .xlsx, .parquet), found something else."),
            };
        }
        catch (FormatReadException failure)
        {
            // What a person typed after --channels is read by the same reader as the file's own channels.
            var code = failure.Source == "--channels" ? ExitCode.WrongUsage : ExitCode.InputUnusable;
            throw new InputRefusedException(code, failure.Message, failure);
        }
    }

    // What is long is never held: samples are gone through part by part, of a log the values are kept.
    private static CheckSubject? LongOrNull(string path, CheckRequest request, CancellationToken cancellation)
    {
        if (LongSamples.Open(path, request, prefersSamples: true, cancellation) is { } samples) return FromLong(samples, request, cancellation);
        if (LongLog.BeginningOrNull(path, request, request.MostLogRows, cancellation) is var (beginning, note))
        {
            var subject = FromLog(path, beginning, request);
            return subject with { Notes = [note, .. subject.Notes] };
        }

        return LongLog.ReadOrNull(path, request, cancellation) is { } log ? FromLog(path, log, request) : null;
    }

    private static CheckSubject FromLong(LongSamples samples, CheckRequest request, CancellationToken cancellation)
    {
        var matching = MatchingOf(samples.Path, samples.Recording, request, out var service, out var nominal);
        var snapshot = LongCheck.Measure(
            samples, LongSamples.ChosenOf(matching), new SnapshotOptions { StatedFrequencyHertz = request.FrequencyHertz }, out var refusal, out var notes, cancellation);
        return SubjectOf(samples.Path, snapshot, refusal, matching, service, nominal, request, [.. notes, .. samples.Warnings.Select(warning => warning.Says)]);
    }

    private static CheckSubject FromReadings(InputFile file, CheckRequest request)
    {
        if (request.Channels is not null)
        {
            throw new InputRefusedException(
                ExitCode.WrongUsage,
                $"'{file.Name}' holds readings, whose channels have their names already: --channels is for recordings.");
        }

        var read = ReadingsReader.Read(file, request.Service?.Kind, mayInfer: true);
        if (request.Service is { } stated && (stated.Kind != read.Readings.Service || read.Readings.IsServiceOpen)) read = read.WithService(stated.Kind);
        var readings = read.Readings;
        return new CheckSubject(
            readings with
            {
                Nominal = NominalText.Parse(request.Nominal, readings.IsServiceOpen ? null : readings.Service) ?? readings.Nominal,
                FrequencyHertz = request.FrequencyHertz ?? readings.FrequencyHertz,
                AngleSign = readings.AngleSign == AngleSign.NotStated ? request.AngleSign : readings.AngleSign,
            },
            [],
            [.. read.Warnings.Select(warning => warning.Says)])
        {
            Told = read.Told,
        };
    }

    private static CheckSubject FromComtrade(InputFile configuration, InputFile data, CheckRequest request)
    {
        var read = ComtradeReader.Read(configuration, data, request.ToComtradeOptions());
        return FromRecording(configuration.Name, (read.Recording, read.Warnings), request);
    }

    private static (SampledRecording Recording, ImmutableArray<ReadWarning> Warnings) ReadCombined(InputFile file, CheckRequest request)
    {
        var read = ComtradeReader.ReadCombined(file, request.ToComtradeOptions());
        return (read.Recording, read.Warnings);
    }

    private static (SampledRecording Recording, ImmutableArray<ReadWarning> Warnings) ReadTable(InputFile file, CheckRequest request)
    {
        var read = CsvSampleReader.Read(file, request.ToCsvOptions());
        return (read.Recording, read.Warnings);
    }

    // Waveforms prove more than logged values; a file may hold both.
    private static CheckSubject FromPqdif(string path, InputFile file, CheckRequest request)
    {
        var inputs = PqdifReader.ReadInputs(file, request.ToPqdifOptions());
        var recordings = inputs.OfType<SampledInput>().ToList();
        if (recordings.Count == 0) return FromLog(path, inputs.OfType<LogInput>().First().File, request);
        var warnings = recordings[0].Warnings;
        if (recordings.Count > 1) warnings = warnings.Add(new ReadWarning(PqdifWording.OtherRecordings(recordings.Count)));
        return FromRecording(path, (recordings[0].Recording, warnings), request);
    }

    private static CheckSubject FromLog(string path, LogFile log, CheckRequest request) =>
        LogSubject.Of(path, log, request, known => NominalText.Parse(request.Nominal, known));

    private static CheckSubject FromRecording(
        string path, (SampledRecording Recording, ImmutableArray<ReadWarning> Warnings) read, CheckRequest request)
    {
        var matching = MatchingOf(path, read.Recording, request, out var service, out var nominal);
        var snapshot = PanelSnapshot.Measure(
            MatchedRecording.Turned(read.Recording, matching),
            matching.Matches.ToDictionary(match => match.Channel, match => match.SourceIndex),
            new SnapshotOptions { StatedFrequencyHertz = request.FrequencyHertz },
            out var refusal);
        return SubjectOf(path, snapshot, refusal, matching, service, nominal, request, read.Warnings.Select(warning => warning.Says));
    }

    private static ChannelMatching MatchingOf(string path, SampledRecording recording, CheckRequest request, out ServiceKind service, out NominalVoltage? nominal)
    {
        service = request.Service?.Kind ?? ChannelMatcher.ServiceFor(recording, request.Channels);
        nominal = NominalText.Parse(request.Nominal, request.Service?.Kind);
        return ChannelMatcher.Match(recording, service, request.Channels, path);
    }

    private static CheckSubject SubjectOf(
        string path, PanelSnapshot? snapshot, SnapshotRefusal refusal, ChannelMatching matching, ServiceKind service, NominalVoltage? nominal, CheckRequest request, IEnumerable<string> told)
    {
        if (snapshot is null)
            throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot measure '{path}': {SnapshotWording.Of(refusal)}");
        return new CheckSubject(
            snapshot.ToReadings(service, nominal) with { IsServiceOpen = request.Service is null },
            [.. matching.Matches.Select(match => new MatchedChannel(
                match.Channel.ToString(), match.SourceName, match.IsTurned ? $"{match.Why}, the other way round" : match.Why))],
            [
                .. told,
                .. matching.Notes,
                .. matching.HasOtherSets ? ["Choose another set with --channels."] : Array.Empty<string>(),
                .. LeftOver(matching),
                .. SnapshotWording.Notes(snapshot),
            ]);
    }

    private static IEnumerable<string> LeftOver(ChannelMatching matching)
    {
        if (matching.Unmatched.IsEmpty) yield break;
        var names = string.Join(", ", matching.Unmatched.Take(MostLeftOver).Select(channel => channel.SourceName));
        var more = matching.Unmatched.Length > MostLeftOver ? $" and {matching.Unmatched.Length - MostLeftOver} more" : "";
        yield return $"Channels of the file that were not used: {names}{more}.";
    }

    private static async Task<InputFile> BesideAsync(string path, string ending, CancellationToken cancellation)
    {
        if (InputPaths.Beside(path, ending) is { } companion) return await OpenAsync(companion, cancellation);
        var wanted = Path.GetFileNameWithoutExtension(path) + ending;
        throw new InputRefusedException(
            ExitCode.InputUnusable,
            $"Cannot read '{path}': its other half '{wanted}' is not beside it. Put both files of the recording into one folder.");
    }

    private static async Task<InputFile> OpenAsync(string path, CancellationToken cancellation)
    {
        HeldFile.Require(path);
        try
        {
            return new InputFile(path, await File.ReadAllBytesAsync(path, cancellation));
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw InputRefusedException.CannotRead(path, failure);
        }
    }
}
