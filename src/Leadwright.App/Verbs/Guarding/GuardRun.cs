using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Samples;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;
using Leadwright.Formats;
using Leadwright.Formats.Matching;
using Leadwright.Reports.Hookups;

namespace Leadwright.App.Verbs.Guarding;

/// <summary>Guards one file.</summary>
internal static class GuardRun
{
    /// <summary>Reads and guards it.</summary>
    /// <param name="path">The file.</param>
    /// <param name="request">How.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>The answer, and what a person must know of how the file was read.</returns>
    /// <exception cref="InputRefusedException">The file can't be used.</exception>
    public static (GuardReport Report, GuardNotes Notes, ImmutableArray<ClockFinding> Clock) Judge(string path, GuardRequest request, CancellationToken cancellation)
    {
        if (LongSamples.Open(path, request.Recording, prefersSamples: false, cancellation) is { } samples)
        {
            var (found, told) = OfLong(samples, request, cancellation);
            return (found, told, []);
        }

        if (OfLongLog(path, request, cancellation) is { } joined) return joined;
        var file = RecordingFile.Read(path, request.Recording, prefersSamples: false, cancellation);
        var (report, notes) = Judge(file, request, cancellation);
        return (report, notes, file.Log?.Clock ?? []);
    }

    /// <summary>Guards what was read.</summary>
    /// <param name="file">It.</param>
    /// <param name="request">How.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static (GuardReport Report, GuardNotes Notes) Judge(RecordingFile file, GuardRequest request, CancellationToken cancellation)
    {
        if (file.Log is { } log)
        {
            var service = request.Recording.Service?.Kind ?? LogSubject.ServiceFor(log.Log);
            return (IntervalGuard.Judge(log.Log, OptionsOf(request, service), cancellation), new(NominalNote.Of(log.Log, service, request.Recording), [.. LogSubject.ChannelNotes(log.Log, service), .. file.Warnings]));
        }

        return OfSamples(file.Path, file.Samples!, file.Warnings, request, cancellation);
    }

    /// <summary>What the guard is told of the site.</summary>
    public static GuardOptions OptionsOf(GuardRequest request, Core.Circuits.ServiceKind service) => new()
    {
        Service = service,
        Nominal = NominalText.Parse(request.Recording.Nominal, request.Recording.Service?.Kind),
        FrequencyHertz = request.Recording.FrequencyHertz,
        Check = request.Known,
    };

    private static (GuardReport Report, GuardNotes Notes) OfSamples(
        string path, SampledRecording recording, ImmutableArray<string> warnings, GuardRequest request, CancellationToken cancellation)
    {
        var service = request.Recording.Service?.Kind ?? ChannelMatcher.ServiceFor(recording, request.Recording.Channels);
        var matching = ChannelMatcher.Match(recording, service, request.Recording.Channels, path);
        var turned = MatchedRecording.Turned(recording, matching);
        var map = matching.Matches.ToDictionary(match => match.Channel, match => match.SourceIndex);
        var snapshot = PanelSnapshot.Measure(turned, map, new SnapshotOptions { StatedFrequencyHertz = request.Recording.FrequencyHertz }, out var refusal, cancellation);
        var hertz = snapshot?.Snapshot.FrequencyHertz ?? request.Recording.FrequencyHertz
            ?? throw new InputRefusedException(
                ExitCode.InputUnusable, $"Cannot guard '{path}': {SnapshotWording.Of(refusal)} Give the nominal frequency with --frequency to go on without.");
        var misfit = snapshot is null ? null : NominalNote.Of(snapshot.ToReadings(service, null).Channels, service, NominalNote.Stated(service, request.Recording));
        return (SampledGuard.Judge(turned, map, hertz, OptionsOf(request, service), cancellation), new(NominalNote.Of(misfit), [.. warnings, .. matching.Notes]));
    }

    // Rows that two cores judge within some minutes; the recording's length doubles them.
    private const int MostRows = 1_000_000;

    private static (GuardReport Report, GuardNotes Notes, ImmutableArray<ClockFinding> Clock)? OfLongLog(string path, GuardRequest request, CancellationToken cancellation)
    {
        try
        {
            if (LongLog.JoinedOrNull(path, request.Recording, request.MostLogRows, cancellation) is not var (file, note)) return null;
            var (report, notes) = Judge(RecordingFile.OfLog(path, file, request.Recording), request, cancellation);
            return (report, notes with { OfReading = [note, .. notes.OfReading] }, file.Clock);
        }
        catch (FormatReadException failure)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, failure.Message, failure);
        }
    }

    private static (GuardReport Report, GuardNotes Notes) OfLong(LongSamples samples, GuardRequest request, CancellationToken cancellation)
    {
        try
        {
            var service = request.Recording.Service?.Kind ?? ChannelMatcher.ServiceFor(samples.Recording, request.Recording.Channels);
            var matching = ChannelMatcher.Match(samples.Recording, service, request.Recording.Channels, samples.Path);
            var chosen = LongSamples.ChosenOf(matching);
            var hertz = samples.Frequency(chosen, request.Recording.FrequencyHertz, out var refusal, cancellation) ?? request.Recording.FrequencyHertz
                ?? throw new InputRefusedException(
                    ExitCode.InputUnusable, $"Cannot guard '{samples.Path}': {SnapshotWording.Of(refusal)} Give the nominal frequency with --frequency to go on without.");
            var rows = new HalfCycleRows([.. chosen.Select(match => match.Channel)], hertz, samples.Recording.Start, MostRows);
            int[] order = [.. rows.Channels.Select(channel => LongSamples.LanesOf(chosen)[channel])];
            foreach (var part in samples.Parts(chosen, cancellation))
            {
                if (part.IsFirst) rows.Begin(part.StartSeconds);
                rows.Add(Stretch.Of(part.Recording.Segments[0]), [.. order.Select(lane => part.Recording.Channels[lane].Samples)], part.IsLast, cancellation);
            }

            var log = rows.ToLog();
            ImmutableArray<string> notes =
            [
                .. samples.Warnings.Select(warning => warning.Says), .. matching.Notes,
                .. rows.RowSeconds > 0.75 / hertz
                    ? [string.Create(CultureInfo.InvariantCulture, $"The recording of {LongCheck.Length(samples.Seconds)} is guarded by rows of {rows.RowSeconds:0.##} s: an edge is known to one of them, and what is over sooner is not told.")]
                    : Array.Empty<string>(),
            ];
            return (SampledGuard.Judge(rows, OptionsOf(request, service), cancellation), new(NominalNote.Of(log, service, request.Recording), notes));
        }
        catch (FormatReadException failure)
        {
            throw new InputRefusedException(failure.Source == "--channels" ? ExitCode.WrongUsage : ExitCode.InputUnusable, failure.Message, failure);
        }
    }
}
