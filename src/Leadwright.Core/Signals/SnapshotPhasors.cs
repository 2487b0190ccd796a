using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals;

/// <summary>Measures the phasors of a sampled recording.</summary>
/// <remarks>
/// <para>Takes the parts with waveform (<see cref="LeastSamplesPerCycle"/> and more), measures the frequency, looks for the earliest
/// steady stretch, splits it into windows of whole cycles (10 at 50 Hz, 12 at 60 Hz; fewer where it is short), fits the
/// fundamental and its harmonics to each at the measured frequency, turns the windows to a common phase and averages them.</para>
/// <para>Missing samples (NaN) and infinities: a channel's window that holds one is left out and counted.</para>
/// <para>Accuracy held by tests: within 0.02 % and 0.02 degrees for a fundamental off its nominal frequency with harmonics to 25 %
/// and 0.1 % noise. See <c>docs/methods/phasors.md</c>.</para>
/// </remarks>
public static class SnapshotPhasors
{
    /// <summary>The fewest samples a cycle that count as waveform.</summary>
    public const double LeastSamplesPerCycle = 8;

    // Four windows at least, where the stretch allows it, give a spread worth the name.
    private const int WindowsWanted = 4;

    // Below this share of periodic content a channel carries noise only.
    private const double DeadShare = 0.1;

    /// <summary>Measures chosen channels.</summary>
    /// <param name="recording">The recording.</param>
    /// <param name="choices">The channels, the wanted reference (V1) first.</param>
    /// <param name="options">How to measure.</param>
    /// <returns>The snapshot, or why there is none.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A channel index is not in the recording, or an option is out of range.</exception>
    public static SnapshotOutcome Measure(SampledRecording recording, IReadOnlyList<SignalChoice> choices, SnapshotOptions options)
    {
        ArgumentNullException.ThrowIfNull(recording);
        ArgumentNullException.ThrowIfNull(choices);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentOutOfRangeException.ThrowIfLessThan(options.HighestOrder, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(options.HighestOrder, 50);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(options.LongestSeconds);
        foreach (var choice in choices)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(choice.Index);
            ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(choice.Index, recording.Channels.Length);
        }

        if (choices.Count == 0 || recording.Segments.All(segment => segment.Length == 0)) return Refuse(SnapshotRefusal.NoSamples);

        var stated = Plausible(options.StatedFrequencyHertz) ?? Plausible(recording.LineFrequencyHertz);
        var stretches = Stretch.Join(recording.Segments, LeastSamplesPerCycle * (stated ?? FrequencyMeasurement.LowestHertz));
        if (stretches.IsEmpty) return Refuse(SnapshotRefusal.RateTooLow);

        ReadOnlyMemory<double>[] samples = [.. choices.Select(choice => recording.Channels[choice.Index].Samples)];
        var frequency = SnapshotFrequency.Find(samples, choices, stretches, stated);
        stretches = Stretch.Join(recording.Segments, LeastSamplesPerCycle * frequency.Hertz * 0.999);
        if (stretches.IsEmpty) return Refuse(SnapshotRefusal.RateTooLow);
        var waveformCycles = stretches.Sum(stretch => SteadySearch.CyclesIn(stretch, frequency.Hertz));
        if (waveformCycles == 0) return Refuse(SnapshotRefusal.TooShort);

        var search = new SteadySearch(samples, choices, options, frequency.Hertz);
        var run = Pick([.. stretches.SelectMany(search.RunsOf)], options.SteadyCycles);
        var span = SpanOf(run.Inner(frequency.Hertz), frequency.Hertz, options.LongestSeconds);
        frequency = frequency.RefinedOver(samples, choices, span);

        var cycles = Math.Max(1, SteadySearch.CyclesIn(span, frequency.Hertz));
        var windowCycles = Math.Clamp(cycles / WindowsWanted, 1, frequency.Hertz < 55 ? 10 : 12);
        var windowCount = cycles / windowCycles;
        var order = HarmonicFit.OrderFor(span.LowestRateHertz / frequency.Hertz, options.HighestOrder);
        double[] skews = [.. choices.Select(choice => recording.Channels[choice.Index].SkewSeconds)];
        var table = new WindowTable(samples, skews, choices, span, windowCount, windowCycles, frequency.Hertz, order);

        bool[] isDead = [.. choices.Select((_, channel) => IsDead(table, channel, samples[channel].Span.Slice(span.FirstIndex, span.Length)))];
        if (choices.Select((_, channel) => WindowsOf(table, channel)).All(count => count == 0)) return Refuse(SnapshotRefusal.AllMissing);
        var reference = ReferenceOf(table, choices, isDead);
        table.Align(reference is { } index ? choices[index].Kind : SignalKind.Voltage, isDead, reference);
        return new SnapshotOutcome(
            new Snapshot
            {
                Channels = [.. choices.Select((choice, channel) => Summarise(
                    table, choice, channel, isDead[channel], order, frequency.Hertz, samples[channel].Span.Slice(span.FirstIndex, span.Length), span))],
                ReferenceIndex = reference is { } found ? choices[found].Index : null,
                FrequencyHertz = frequency.Hertz,
                FrequencyErrorHertz = frequency.ErrorHertz,
                FrequencyOrigin = frequency.Origin,
                Span = span,
                WindowCount = windowCount,
                WindowCycles = windowCycles,
                WaveformCycles = waveformCycles,
                SteadyCycles = run.Cycles,
            },
            SnapshotRefusal.None);
    }

    private static SnapshotOutcome Refuse(SnapshotRefusal refusal) => new(null, refusal);

    private static double? Plausible(double? hertz) =>
        hertz is >= FrequencyMeasurement.LowestHertz and <= FrequencyMeasurement.HighestHertz ? hertz : null;

    // The earliest run that is long enough shows the state before an event; where there is none, the longest has to do.
    private static SteadyRun Pick(IReadOnlyList<SteadyRun> runs, int enoughCycles)
    {
        var longest = runs[0];
        foreach (var run in runs)
        {
            if (run.Cycles >= enoughCycles) return run;
            if (run.Cycles > longest.Cycles) longest = run;
        }

        return longest;
    }

    private static Stretch SpanOf(SteadyRun run, double hertz, double longestSeconds)
    {
        var first = run.Stretch.IndexAt(run.FromSeconds);
        var end = run.Stretch.IndexAt(run.FromSeconds + Math.Min(run.Cycles / hertz, longestSeconds));
        // What is left after the last whole cycle of a stretch belongs to its last run.
        var left = run.Stretch.FirstIndex + run.Stretch.Length - end;
        if (!run.EndsAtEvent && left * hertz < run.Stretch.LowestRateHertz && run.Cycles / hertz < longestSeconds) end += left;
        return run.Stretch.Part(first, Math.Max(1, end - first));
    }

    private static int WindowsOf(WindowTable table, int channel) =>
        Enumerable.Range(0, table.WindowCount).Count(window => table.Residue(window, channel) is not null);

    private static bool IsDead(WindowTable table, int channel, ReadOnlySpan<double> samples)
    {
        double share = 0, variance = 0;
        var count = 0;
        for (var window = 0; window < table.WindowCount; window++)
        {
            if (table.Residue(window, channel) is not { } residue) continue;
            share += residue.PeriodicShare;
            variance += residue.Variance;
            count++;
        }

        if (count == 0) return false;
        (share, variance) = (share / count, variance / count);
        var step = FlatTops.StepOf(samples);
        return share < DeadShare || (share < 0.8 && variance <= step * step);
    }

    private static int? ReferenceOf(WindowTable table, IReadOnlyList<SignalChoice> choices, bool[] isDead)
    {
        foreach (var kind in (ReadOnlySpan<SignalKind>)[SignalKind.Voltage, SignalKind.Current])
        {
            for (var channel = 0; channel < choices.Count; channel++)
            {
                if (choices[channel].Kind == kind && !isDead[channel] && WindowsOf(table, channel) > 0) return channel;
            }
        }

        return null;
    }

    private static ChannelSnapshot Summarise(
        WindowTable table, SignalChoice choice, int channel, bool isDead, int order, double hertz, ReadOnlySpan<double> samples, Stretch span)
    {
        var sums = new Phasor[order];
        double direct = 0, meanSquare = 0;
        var count = 0;
        for (var window = 0; window < table.WindowCount; window++)
        {
            if (table.Residue(window, channel) is not { } residue) continue;
            count++;
            direct += residue.Direct;
            meanSquare += (residue.Direct * residue.Direct) + residue.ResidualMeanSquare;
            var harmonics = table.Harmonics(window, channel);
            for (var index = 0; index < order; index++)
            {
                sums[index] += harmonics[index];
                meanSquare += harmonics[index].SquaredMagnitude;
            }
        }

        ImmutableArray<Phasor> means = [.. sums.Select(sum => count > 0 ? sum / count : default)];
        double deviation = 0;
        for (var window = 0; window < table.WindowCount; window++)
        {
            if (table.Residue(window, channel) is not null)
                deviation += (table.Harmonics(window, channel)[0] - means[0]).SquaredMagnitude;
        }

        return new ChannelSnapshot
        {
            Index = choice.Index,
            Kind = choice.Kind,
            Phasor = means[0],
            Spread = count > 1 ? Math.Sqrt(deviation / (2 * (count - 1))) : null,
            TrueRms = count > 0 ? Math.Sqrt(meanSquare / count) : double.NaN,
            Direct = count > 0 ? direct / count : double.NaN,
            Harmonics = means,
            WindowCount = count,
            SkippedWindowCount = table.WindowCount - count,
            IsClipped = !isDead && FlatTops.AreCut(samples, samples.Length / (span.DurationSeconds * hertz)),
            IsDead = isDead,
        };
    }
}
