using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats;
using Leadwright.Formats.Matching;
using Leadwright.Formats.Sampling;

namespace Leadwright.App.Verbs;

/// <summary>A part of a long recording. Its samples are those of the moment: the next part takes their place.</summary>
/// <param name="Recording">The part; its channels are those that were chosen, by lane.</param>
/// <param name="StartSeconds">Start of the stretch that it belongs to, after the recording's start.</param>
/// <param name="IsFirst">True for the first part of a stretch.</param>
/// <param name="IsLast">True when the stretch ends with it.</param>
internal readonly record struct LongPart(SampledRecording Recording, double StartSeconds, bool IsFirst, bool IsLast);

/// <summary>A recording of samples too long to be held: gone through part by part, as often as needed.</summary>
internal sealed class LongSamples
{
    private const double PartSeconds = 60;
    private const int MostFrames = 1 << 20;

    // More than four cycles of any supply: windows that a part has no room for begin in the next one.
    private const double OverlapSeconds = 0.11;

    private readonly Func<SampleSource?> _open;
    private readonly Action<double> _progress;

    private LongSamples(string path, Func<SampleSource?> open, SampleSource source, Action<double> progress)
    {
        (Path, _open, _progress) = (path, open, progress);
        Recording = new SampledRecording(source.Channels, [], source.LineFrequencyHertz, source.Start);
        Warnings = [.. source.Warnings];
    }

    /// <summary>The file as named.</summary>
    public string Path { get; }

    /// <summary>What the file states, without samples.</summary>
    public SampledRecording Recording { get; }

    /// <summary>What was met and put up with so far.</summary>
    public IReadOnlyList<ReadWarning> Warnings { get; private set; }

    /// <summary>Length of what was gone through, seconds.</summary>
    public double Seconds { get; private set; }

    /// <summary>Opens a recording.</summary>
    /// <param name="path">The file; its companions are looked for beside it.</param>
    /// <param name="request">How to read it, and from which length on it counts as long.</param>
    /// <param name="prefersSamples">Which is taken from a file that holds both samples and logged values.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>Null when it is not long, or holds no samples.</returns>
    /// <exception cref="InputRefusedException">It can't be used.</exception>
    public static LongSamples? Open(string path, RecordingRequest request, bool prefersSamples, CancellationToken cancellation)
    {
        var paths = new List<string> { path };
        foreach (var companion in InputReader.CompanionsOf(path))
        {
            if (InputPaths.Beside(path, System.IO.Path.GetExtension(companion)) is { } beside && !paths.Contains(beside, StringComparer.Ordinal)) paths.Add(beside);
        }

        var bytes = paths.Where(File.Exists).Sum(file => new FileInfo(file).Length);
        if (bytes < request.StreamedFromBytes) return null;
        try
        {
            List<SampleFile> files = [.. paths.Select(file => new SampleFile(file, () => new FileStream(file, new FileStreamOptions { BufferSize = 1 << 16, Options = FileOptions.SequentialScan })))];
            // What a recorder logged beside its waveforms tells more of a week than they do.
            if (!prefersSamples && bytes <= HeldFile.MostBytes && SampleFiles.KindOf(files[0]) == InputKind.Pqdif) return null;
            var open = SampleFiles.Opener(files, request.ToReadOptions() with { MostHeldBytes = HeldFile.MostBytes }, cancellation);
            using var source = open?.Invoke();
            return source is null ? null : new LongSamples(path, open!, source, request.Progress);
        }
        catch (FormatReadException failure)
        {
            throw new InputRefusedException(failure.Source == "--channels" ? ExitCode.WrongUsage : ExitCode.InputUnusable, failure.Message, failure);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw InputRefusedException.CannotRead(path, failure);
        }
    }

    /// <summary>The channels that are read, in their order.</summary>
    /// <param name="matching">Which channel is which.</param>
    public static IReadOnlyList<ChannelMatch> ChosenOf(ChannelMatching matching) => [.. matching.Matches.OrderBy(match => match.Channel).Take(Lane.Count)];

    /// <summary>Which lane each channel is in.</summary>
    /// <param name="chosen">The channels in their order.</param>
    public static IReadOnlyDictionary<Channel, int> LanesOf(IReadOnlyList<ChannelMatch> chosen) =>
        chosen.Select((match, lane) => KeyValuePair.Create(match.Channel, lane)).ToDictionary();

    /// <summary>Goes through the recording from its begin.</summary>
    /// <param name="chosen">The channels in their order.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <exception cref="FormatReadException">The data can't be used.</exception>
    public IEnumerable<LongPart> Parts(IReadOnlyList<ChannelMatch> chosen, CancellationToken cancellation)
    {
        using var source = _open() ?? throw new FormatReadException(Path, "samples", "none any more", "The file was changed while it was read. Copy it, and give the copy.");
        var lanes = LaneChoice.Empty;
        for (var lane = 0; lane < chosen.Count; lane++) lanes = lanes.With(lane, chosen[lane].SourceIndex, chosen[lane].IsTurned);
        source.Choose(lanes);
        var overlap = (int)Math.Ceiling(OverlapSeconds * source.RateHertz);
        var most = (int)Math.Max(Math.Min(PartSeconds * source.RateHertz, MostFrames), 8 * overlap);
        var samples = chosen.Select(_ => new double[most]).ToArray();
        var frames = new float[Math.Min(most, 1 << 14) * Lane.Count];
        var (filled, first, start, isFirst) = (0, 0L, 0.0, true);
        Seconds = 0;
        while (true)
        {
            cancellation.ThrowIfCancellationRequested();
            var count = source.Read(frames.AsSpan(0, Math.Min(frames.Length, (most - filled) * Lane.Count)));
            if (count > 0)
            {
                for (var lane = 0; lane < samples.Length; lane++)
                {
                    var into = samples[lane].AsSpan(filled, count);
                    for (var index = 0; index < into.Length; index++) into[index] = frames[(index * Lane.Count) + lane];
                }

                filled += count;
                if (filled < most) continue;
                yield return Part(isLast: false);
                foreach (var lane in samples) lane.AsSpan(filled - overlap, overlap).CopyTo(lane);
                (first, filled, isFirst) = (first + filled - overlap, overlap, false);
                continue;
            }

            var next = source.NextSegmentSeconds;
            if (filled > 0) yield return Part(isLast: true);
            if (next is not { } seconds) break;
            (first, filled, start, isFirst) = (0, 0, seconds, true);
        }

        Warnings = [.. source.Warnings];

        LongPart Part(bool isLast)
        {
            _progress(source.Share);
            var begin = start + (first / source.RateHertz);
            Seconds = begin + (filled / source.RateHertz);
            return new LongPart(
                new SampledRecording(
                    [.. chosen.Select((match, lane) => source.Channels[match.SourceIndex] with { Samples = samples[lane].AsMemory(0, filled) })],
                    [new RateSegment(0, filled, source.RateHertz, begin)], source.LineFrequencyHertz, source.Start),
                start, isFirst, isLast);
        }
    }

    /// <summary>The frequency, from the first part in which it can be measured; the first one's where it can't be anywhere.</summary>
    /// <param name="chosen">The channels in their order.</param>
    /// <param name="statedHertz">The frequency as a person stated it.</param>
    /// <param name="refusal">Why there is none.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>Hertz; null where no part can be measured.</returns>
    public double? Frequency(IReadOnlyList<ChannelMatch> chosen, double? statedHertz, out SnapshotRefusal refusal, CancellationToken cancellation)
    {
        double? found = null;
        refusal = SnapshotRefusal.NoSamples;
        foreach (var part in Parts(chosen, cancellation))
        {
            var snapshot = PanelSnapshot.Measure(part.Recording, LanesOf(chosen), new SnapshotOptions { StatedFrequencyHertz = statedHertz, FindsSteps = false }, out var why, cancellation);
            if (snapshot is null)
            {
                if (found is null) refusal = why;
                continue;
            }

            refusal = SnapshotRefusal.None;
            if (snapshot.Snapshot.FrequencyOrigin == FrequencyOrigin.Measured) return snapshot.Snapshot.FrequencyHertz;
            found ??= snapshot.Snapshot.FrequencyHertz;
        }

        return found;
    }
}
