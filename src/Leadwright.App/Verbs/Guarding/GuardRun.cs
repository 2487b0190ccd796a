using System.Collections.Immutable;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Signals;
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
    public static (GuardReport Report, ImmutableArray<string> Notes) Judge(string path, GuardRequest request, CancellationToken cancellation)
    {
        return Judge(RecordingFile.Read(path, request.Recording, prefersSamples: false), request, cancellation);
    }

    /// <summary>Guards what was read.</summary>
    /// <param name="file">It.</param>
    /// <param name="request">How.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static (GuardReport Report, ImmutableArray<string> Notes) Judge(RecordingFile file, GuardRequest request, CancellationToken cancellation)
    {
        if (file.Log is { } log)
            return (IntervalGuard.Judge(log.Log, OptionsOf(request, request.Recording.Service?.Kind ?? LogSubject.ServiceFor(log.Log)), cancellation), file.Warnings);
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

    private static (GuardReport Report, ImmutableArray<string> Notes) OfSamples(
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
        return (SampledGuard.Judge(turned, map, hertz, OptionsOf(request, service), cancellation), [.. warnings, .. matching.Notes]);
    }
}
