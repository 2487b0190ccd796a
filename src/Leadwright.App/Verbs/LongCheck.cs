using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Steps;
using Leadwright.Formats.Matching;

namespace Leadwright.App.Verbs;

/// <summary>Measures for a check what a long recording shows: the earliest steady state under voltage, and the switching steps of its longest stretch.</summary>
internal static class LongCheck
{
    // Four hours at 50 Hz: some 100 MB of phasors, and steps by the hundred.
    private const int MostCycles = 720_000;

    // A line that is dead before it is switched on is not the state that is asked for.
    private const double LiveShare = 0.5;
    private const double LookSeconds = 0.1;

    // Looking for a steady state costs more than reading; a recording without one in so many minutes has none.
    private const int MostLooks = 100;

    /// <summary>Measures.</summary>
    /// <param name="samples">The recording.</param>
    /// <param name="chosen">The channels in their order.</param>
    /// <param name="options">How a snapshot is measured.</param>
    /// <param name="refusal">Why there is none.</param>
    /// <param name="notes">What a person must know of it.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>The snapshot with the steps; null when it was refused.</returns>
    public static PanelSnapshot? Measure(
        LongSamples samples, IReadOnlyList<ChannelMatch> chosen, SnapshotOptions options, out SnapshotRefusal refusal, out ImmutableArray<string> notes, CancellationToken cancellation)
    {
        notes = [];
        if (samples.Frequency(chosen, options.StatedFrequencyHertz, out refusal, cancellation) is not { } hertz) return null;
        var lanes = LongSamples.LanesOf(chosen);
        var (looking, looks) = (options with { FindsSteps = false }, 0);
        var steps = new CyclePhasorRuns([.. chosen.Select(match => samples.Recording.Channels[match.SourceIndex].SkewSeconds)], hertz, MostCycles);
        PanelSnapshot? kept = null;
        var (most, keptLargest) = (0.0, 0.0);
        foreach (var part in samples.Parts(chosen, cancellation))
        {
            ReadOnlyMemory<double>[] channels = [.. part.Recording.Channels.Select(channel => channel.Samples)];
            if (part.IsFirst) steps.Begin(part.StartSeconds);
            steps.Add(Stretch.Of(part.Recording.Segments[0]), channels, part.IsLast, cancellation);
            var largest = LargestRms(part.Recording, chosen);
            most = Math.Max(most, largest);
            if (largest < LiveShare * most || looks >= MostLooks || (kept is not null && kept.Snapshot.SteadyCycles >= options.SteadyCycles && keptLargest >= LiveShare * most)) continue;
            looks++;
            if (PanelSnapshot.Measure(part.Recording, lanes, looking, out refusal, cancellation) is not { } found) continue;
            var voltage = found.Channels.Where(channel => channel.Key < Channel.I1 && !channel.Value.IsMissing).Select(channel => channel.Value.TrueRms).DefaultIfEmpty(largest).Max();
            if (kept is null || keptLargest < LiveShare * most || found.Snapshot.SteadyCycles > kept.Snapshot.SteadyCycles) (kept, keptLargest) = (found, voltage);
        }

        if (kept is null) return null;
        refusal = SnapshotRefusal.None;
        var isClipped = kept.Channels.Any(channel => channel.Value.IsClipped);
        notes =
        [
            string.Create(CultureInfo.InvariantCulture,
                $"The recording of {Length(samples.Seconds)} is judged as one hook-up, by {kept.Snapshot.Span.DurationSeconds:0.#} s of a steady state{(isClipped ? "" : $" and the switching steps of its longest stretch without a gap{(steps.IsCut ? $", the first {Length(MostCycles / hertz)} of it" : "")}")}. When a lead or clamp changed meanwhile, only a guard tells."),
        ];
        return kept with
        {
            // A clamp beyond its range shows less of a step than there is.
            Steps = isClipped || steps.Longest() is not { } phasors ? null : PanelSteps.Find(phasors, [.. chosen.Select(match => match.Channel)]),
        };
    }

    /// <summary>A length of time in words.</summary>
    /// <param name="seconds">The length.</param>
    internal static string Length(double seconds) => seconds switch
    {
        < 120 => string.Create(CultureInfo.InvariantCulture, $"{seconds:0.#} s"),
        < 7200 => string.Create(CultureInfo.InvariantCulture, $"{seconds / 60:0.#} min"),
        < 172_800 => string.Create(CultureInfo.InvariantCulture, $"{seconds / 3600:0.#} h"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{seconds / 86_400:0.#} days"),
    };

    // Of the voltages; of everything where there are none. Over a tenth of a second at a time, so that a short live part is seen.
    private static double LargestRms(SampledRecording recording, IReadOnlyList<ChannelMatch> chosen)
    {
        var hasVoltages = chosen.Any(match => match.Channel < Channel.I1);
        var length = Math.Max(1, (int)(LookSeconds * recording.Segments[0].RateHertz));
        var largest = 0.0;
        for (var lane = 0; lane < chosen.Count; lane++)
        {
            if (hasVoltages && chosen[lane].Channel >= Channel.I1) continue;
            var samples = recording.Channels[lane].Samples.Span;
            for (var from = 0; from < samples.Length; from += length)
            {
                var window = samples.Slice(from, Math.Min(length, samples.Length - from));
                var square = 0.0;
                foreach (var sample in window) square += sample * sample;
                if (double.IsFinite(square)) largest = Math.Max(largest, square / window.Length);
            }
        }

        return Math.Sqrt(largest);
    }
}
