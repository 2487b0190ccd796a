using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals;

/// <summary>Measures the fundamental frequency of a channel.</summary>
/// <remarks>
/// <para>A coarse search by a Hann-windowed Fourier transform over 42.5 to 69 Hz (the range of IEC 61000-4-30 for 50 and 60 Hz
/// systems); then phase advance: harmonics and fundamental are fitted to consecutive blocks at the frequency so far, a line is laid
/// through the fundamental's phase, and its slope corrects the frequency, f ← f + slope/2π, until it stands still. Blocks grow
/// from one cycle to a fifth of the stretch.</para>
/// <para>Held by tests: within 1 mHz on a clean signal of 10 cycles or more, within 10 mHz with harmonics to 25 % and 1 %
/// noise. Blocks with a missing sample (NaN) are left out.</para>
/// </remarks>
public static class FrequencyMeasurement
{
    /// <summary>The lowest frequency sought, hertz.</summary>
    public const double LowestHertz = 42.5;

    /// <summary>The highest frequency sought, hertz.</summary>
    public const double HighestHertz = 69;

    /// <summary>The least length that a frequency is measured over, cycles.</summary>
    public const int LeastCycles = 4;

    // Less than a tenth of the variance in the fundamental: whatever it is, it is not the line frequency.
    private const double LeastFundamentalShare = 0.1;

    // Over whole cycles an order that is not fitted hardly leaks into the fundamental.
    private const int HighestOrder = 15;
    private const int LongestBlockCycles = 16;
    private const double CoarseSeconds = 0.24;

    // On the way to a frequency at the edge of the range.
    private const double SearchMargin = 0.5;

    // Noise may carry a frequency at the edge of the range just outside.
    private const double ResultMargin = 0.05;

    /// <summary>Measures the frequency in one segment.</summary>
    /// <param name="samples">All samples of the channel in the recording.</param>
    /// <param name="segment">The segment; at least <see cref="LeastCycles"/> cycles of eight samples or more.</param>
    /// <returns>Null when the segment is too short, its rate too low, or when it holds no fundamental to speak of.</returns>
    public static FrequencyEstimate? Measure(ReadOnlySpan<double> samples, RateSegment segment) =>
        Measure(samples, Stretch.Of(segment));

    /// <summary>Measures the frequency in a stretch.</summary>
    /// <param name="samples">All samples of the channel in the recording.</param>
    /// <param name="stretch">The stretch; at least <see cref="LeastCycles"/> cycles of eight samples or more.</param>
    /// <returns>Null when the stretch is too short, its rate too low, or when it holds no fundamental to speak of.</returns>
    public static FrequencyEstimate? Measure(ReadOnlySpan<double> samples, Stretch stretch)
    {
        ArgumentNullException.ThrowIfNull(stretch);
        if (stretch.DurationSeconds * HighestHertz < LeastCycles) return null;
        var hertz = CoarseHertz(samples, stretch);
        if (hertz is null) return null;
        if (stretch.LowestRateHertz < SnapshotPhasors.LeastSamplesPerCycle * hertz) return null;

        var fit = new HarmonicFit(HarmonicFit.OrderFor(stretch.LowestRateHertz / HighestHertz, HighestOrder));
        FrequencyEstimate? estimate = null;
        for (var blockCycles = 1; blockCycles <= LongestBlockCycles; blockCycles *= 2)
        {
            if (blockCycles > 1 && stretch.DurationSeconds * hertz.Value / blockCycles < 5) break;
            var refined = Refine(samples, stretch, fit, blockCycles, hertz.Value);
            if (refined is null) break;
            estimate = refined;
            hertz = refined.Value.Hertz;
        }

        return estimate is { Hertz: > LowestHertz - ResultMargin and < HighestHertz + ResultMargin, Cycles: >= LeastCycles } ? estimate : null;
    }

    /// <summary>Which of two frequencies a short piece of signal holds more of.</summary>
    internal static double StrongerOf(ReadOnlySpan<double> samples, Stretch stretch, double first, double second) =>
        SpectralPower(samples, stretch, second) > SpectralPower(samples, stretch, first) ? second : first;

    private static double? CoarseHertz(ReadOnlySpan<double> samples, Stretch stretch)
    {
        var step = 0.25 / Math.Min(stretch.DurationSeconds, CoarseSeconds);
        double best = 0;
        double? bestHertz = null;
        for (var hertz = LowestHertz; hertz < HighestHertz + step; hertz += step)
        {
            var power = SpectralPower(samples, stretch, hertz);
            if (!(power > best)) continue;
            best = power;
            bestHertz = hertz;
        }

        return bestHertz;
    }

    // Missing samples count as the mean.
    private static double SpectralPower(ReadOnlySpan<double> samples, Stretch stretch, double hertz)
    {
        var seconds = Math.Min(stretch.DurationSeconds, CoarseSeconds);
        var end = stretch.IndexAt(stretch.StartSeconds + seconds);
        double mean = 0;
        var count = 0;
        for (var index = stretch.FirstIndex; index < end; index++)
        {
            if (!double.IsFinite(samples[index])) continue;
            mean += samples[index];
            count++;
        }

        mean /= Math.Max(count, 1);
        double real = 0, imaginary = 0;
        foreach (var segment in stretch.Segments)
        {
            var last = Math.Min(end, segment.FirstIndex + segment.Length);
            for (var index = segment.FirstIndex; index < last; index++)
            {
                if (!double.IsFinite(samples[index])) continue;
                var time = segment.StartSeconds - stretch.StartSeconds + ((index - segment.FirstIndex) / segment.RateHertz);
                var weight = (0.5 - (0.5 * Math.Cos(2 * Math.PI * time / seconds))) / segment.RateHertz;
                var (sine, cosine) = Math.SinCos(2 * Math.PI * hertz * time);
                real += weight * (samples[index] - mean) * cosine;
                imaginary += weight * (samples[index] - mean) * sine;
            }
        }

        return (real * real) + (imaginary * imaginary);
    }

    private static FrequencyEstimate? Refine(
        ReadOnlySpan<double> samples, Stretch stretch, HarmonicFit fit, int blockCycles, double hertz)
    {
        const int Rounds = 8;
        // A change in frequency moves samples from block to block: with noise the last digits never come to rest.
        const double StandsStillHertz = 1e-6;
        var line = new PhaseLine();
        for (var round = 0; round < Rounds; round++)
        {
            var advance = Advance(samples, stretch, fit, blockCycles, hertz, line);
            if (advance is null) return null;
            hertz += advance.Value;
            if (!(hertz > LowestHertz - SearchMargin && hertz < HighestHertz + SearchMargin)) return null;
            if (Math.Abs(advance.Value) < StandsStillHertz) break;
        }

        return new FrequencyEstimate(hertz, line.SlopeError / (2 * Math.PI), (int)Math.Floor((stretch.DurationSeconds * hertz) + 0.01));
    }

    private static double? Advance(
        ReadOnlySpan<double> samples, Stretch stretch, HarmonicFit fit, int blockCycles, double hertz, PhaseLine line)
    {
        Span<Phasor> harmonics = stackalloc Phasor[fit.HighestOrder];
        line.Clear();
        var variance = 0.0;
        var blockSeconds = blockCycles / hertz;
        var blockCount = (int)Math.Floor((stretch.DurationSeconds / blockSeconds) + 0.01);
        for (var block = 0; block < blockCount; block++)
        {
            var from = stretch.StartSeconds + (block * blockSeconds);
            var first = stretch.IndexAt(from);
            if (!fit.Prepare(stretch, first, stretch.IndexAt(from + blockSeconds) - first, hertz)) continue;
            if (fit.Solve(samples, harmonics) is not { } residue) continue;
            variance += residue.Variance;
            line.Add(from + (0.5 * blockSeconds), harmonics[0]);
        }

        if (line.Count < 3) return null;
        var isFundamental = line.CoherentSquare() >= LeastFundamentalShare * (variance / line.Count);
        return isFundamental ? line.Slope() / (2 * Math.PI) : null;
    }
}
