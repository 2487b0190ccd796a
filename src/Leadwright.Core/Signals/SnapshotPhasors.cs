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

    /// <summary>Measures chosen channels.</summary>
    /// <param name="recording">The recording.</param>
    /// <param name="choices">The channels, the wanted reference (V1) first.</param>
    /// <param name="options">How to measure.</param>
    /// <returns>The snapshot, or why there is none.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A channel index is not in the recording, or an option is out of range.</exception>
    /// <exception cref="ArgumentException">A chosen channel holds fewer samples than the segments call for.</exception>
    public static SnapshotOutcome Measure(SampledRecording recording, IReadOnlyList<SignalChoice> choices, SnapshotOptions options)
    {
        Validate(recording, choices, options);
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

        if (Enumerable.Range(0, choices.Count).All(channel => table.WindowsOf(channel) == 0)) return Refuse(SnapshotRefusal.AllMissing);
        bool[] isDead = [.. choices.Select((_, channel) => ChannelSummary.IsDead(table, channel, SamplesIn(span, samples[channel])))];
        var samplesPerCycle = span.Length / (span.DurationSeconds * frequency.Hertz);
        var reference = ReferenceOf(table, choices, isDead);
        table.Align(reference is { } index ? choices[index].Kind : SignalKind.Voltage, isDead, reference);
        return new SnapshotOutcome(
            new Snapshot
            {
                Channels = [.. choices.Select((choice, channel) => ChannelSummary.Of(
                    table, channel, choice, isDead[channel], SamplesIn(span, samples[channel]), samplesPerCycle))],
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

    private static void Validate(SampledRecording recording, IReadOnlyList<SignalChoice> choices, SnapshotOptions options)
    {
        ArgumentNullException.ThrowIfNull(recording);
        ArgumentNullException.ThrowIfNull(choices);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentOutOfRangeException.ThrowIfLessThan(options.HighestOrder, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(options.HighestOrder, 50);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(options.LongestSeconds);
        var end = recording.Segments.Select(segment => segment.FirstIndex + segment.Length).DefaultIfEmpty().Max();
        foreach (var choice in choices)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(choice.Index);
            ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(choice.Index, recording.Channels.Length);
            var channel = recording.Channels[choice.Index];
            if (channel.Samples.Length < end)
            {
                throw new ArgumentException(
                    $"Channel '{channel.Name}' holds {channel.Samples.Length} samples; the recording's segments call for {end}.", nameof(recording));
            }
        }
    }

    private static SnapshotOutcome Refuse(SnapshotRefusal refusal) => new(null, refusal);

    private static double? Plausible(double? hertz) =>
        hertz is >= FrequencyMeasurement.LowestHertz and <= FrequencyMeasurement.HighestHertz ? hertz : null;

    // The earliest run that is long enough shows the state before an event; where there is none, the longest has to do. A
    // line that is dead before it is switched on, or after it is switched off, is not the state that is asked for.
    private static SteadyRun Pick(IReadOnlyList<SteadyRun> runs, int enoughCycles)
    {
        const double LiveShare = 0.5;
        var least = LiveShare * runs.Max(run => run.LargestVoltage);
        var live = runs.Where(run => run.LargestVoltage >= least).ToArray();
        var longest = live[0];
        foreach (var run in live)
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

    private static ReadOnlySpan<double> SamplesIn(Stretch span, ReadOnlyMemory<double> samples) =>
        samples.Span.Slice(span.FirstIndex, span.Length);

    private static int? ReferenceOf(WindowTable table, IReadOnlyList<SignalChoice> choices, bool[] isDead)
    {
        foreach (var kind in (ReadOnlySpan<SignalKind>)[SignalKind.Voltage, SignalKind.Current])
        {
            for (var channel = 0; channel < choices.Count; channel++)
            {
                if (choices[channel].Kind == kind && !isDead[channel] && table.WindowsOf(channel) > 0) return channel;
            }
        }

        return null;
    }
}
