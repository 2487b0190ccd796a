namespace Leadwright.Core.Signals;

/// <summary>The frequency of a snapshot and where it comes from.</summary>
internal readonly record struct SnapshotFrequency(double Hertz, double? ErrorHertz, FrequencyOrigin Origin)
{
    // Enough for a frequency to start with; the steady part is measured again in full.
    private const double FirstLookSeconds = 1;

    /// <summary>Measures the frequency in the longest stretch that lets it be measured; else takes what is stated, else 50
    /// or 60 Hz.</summary>
    public static SnapshotFrequency Find(
        ReadOnlyMemory<double>[] samples, IReadOnlyList<SignalChoice> choices, IReadOnlyList<Stretch> stretches, double? stated)
    {
        foreach (var stretch in stretches.OrderByDescending(stretch => stretch.DurationSeconds))
        {
            var end = stretch.IndexAt(stretch.StartSeconds + FirstLookSeconds);
            var look = stretch.Part(stretch.FirstIndex, Math.Max(1, end - stretch.FirstIndex));
            if (MeasureOver(samples, choices, look) is { } found) return found;
        }

        if (stated is { } hertz) return new SnapshotFrequency(hertz, null, FrequencyOrigin.Stated);
        var longest = stretches.MaxBy(stretch => stretch.DurationSeconds)!;
        var strongest = InOrder(samples, choices, longest)[0];
        return new SnapshotFrequency(
            FrequencyMeasurement.StrongerOf(samples[strongest].Span, longest, 50, 60), null, FrequencyOrigin.Assumed);
    }

    /// <summary>The frequency measured over a span; this one where it can't be measured there.</summary>
    public SnapshotFrequency RefinedOver(ReadOnlyMemory<double>[] samples, IReadOnlyList<SignalChoice> choices, Stretch span) =>
        MeasureOver(samples, choices, span) ?? this;

    private static SnapshotFrequency? MeasureOver(ReadOnlyMemory<double>[] samples, IReadOnlyList<SignalChoice> choices, Stretch stretch)
    {
        foreach (var channel in InOrder(samples, choices, stretch))
        {
            if (FrequencyMeasurement.Measure(samples[channel].Span, stretch) is { } estimate)
                return new SnapshotFrequency(estimate.Hertz, estimate.StandardErrorHertz, FrequencyOrigin.Measured);
        }

        return null;
    }

    // Voltages before currents, the largest first: the frequency is the supply's, and a lead in the air only picks it up.
    private static int[] InOrder(ReadOnlyMemory<double>[] samples, IReadOnlyList<SignalChoice> choices, Stretch stretch)
    {
        double[] variances = [.. samples.Select(channel => Variance(channel.Span.Slice(stretch.FirstIndex, stretch.Length)))];
        return [.. Enumerable.Range(0, choices.Count)
            .OrderBy(channel => choices[channel].Kind).ThenByDescending(channel => variances[channel]).ThenBy(channel => channel)];
    }

    private static double Variance(ReadOnlySpan<double> samples)
    {
        double sum = 0, squares = 0;
        var count = 0;
        foreach (var sample in samples)
        {
            if (!double.IsFinite(sample)) continue;
            sum += sample;
            squares += sample * sample;
            count++;
        }

        return count > 0 ? (squares / count) - (sum / count * (sum / count)) : 0;
    }
}
