using System.Collections.Immutable;
using System.Globalization;

namespace Leadwright.Formats.Sampling;

/// <summary>A stretch of one rate of a recording of any length.</summary>
/// <param name="FirstRow">Number of its first sample in the recording.</param>
/// <param name="Length">Its samples; <see cref="long.MaxValue"/> where the recording's end ends it.</param>
/// <param name="RateHertz">Samples per second.</param>
/// <param name="StartSeconds">Time of its first sample after the recording's start, seconds.</param>
internal readonly record struct WaveSegment(long FirstRow, long Length, double RateHertz, double StartSeconds)
{
    // Rates that differ by less are the same within the rounding of time stamps.
    private const double RateTolerance = 1e-3;

    // Eight samples a cycle at the lowest frequency that is measured, about.
    private const double LeastRateHertz = 360;

    /// <summary>True when another stretch follows without a gap.</summary>
    public bool JoinsOn(WaveSegment next) =>
        Math.Abs(next.StartSeconds - StartSeconds - (Length / RateHertz)) < 0.5 / RateHertz;

    /// <summary>The stretches that are waveforms, and their common rate.</summary>
    /// <param name="name">Display name for errors.</param>
    /// <param name="all">All stretches.</param>
    /// <param name="warn">Receives what was left out.</param>
    /// <exception cref="FormatReadException">There are waveforms of different rates, or none.</exception>
    public static (ImmutableArray<WaveSegment> Segments, double RateHertz) Waveforms(
        string name, ImmutableArray<WaveSegment> all, Action<ReadWarning> warn)
    {
        // Fault recorders write quiet time as one sample a cycle: that is no waveform, and a gap here.
        ImmutableArray<WaveSegment> kept = [.. all.Where(segment => segment.RateHertz >= LeastRateHertz)];
        if (kept.IsEmpty)
        {
            throw new FormatReadException(
                name, string.Create(CultureInfo.InvariantCulture, $"a waveform of at least {LeastRateHertz} samples a second"),
                all.IsEmpty ? "no samples" : string.Create(CultureInfo.InvariantCulture, $"{all[0].RateHertz:0.###} a second"),
                "This looks like a log of intervals, not a recording of samples.");
        }

        if (kept.Length < all.Length)
        {
            var seconds = all.Where(segment => segment.RateHertz < LeastRateHertz).Sum(segment => segment.Length / segment.RateHertz);
            warn(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                $"{seconds:0.###} s are recorded at less than {LeastRateHertz} samples a second; they are no waveform and are left out.")));
        }

        var rate = kept.MaxBy(segment => segment.Length).RateHertz;
        foreach (var segment in kept)
        {
            if (segment.Length < 2 || Math.Abs((segment.RateHertz / rate) - 1) < RateTolerance) continue;
            throw new FormatReadException(
                name, "one sampling rate throughout",
                string.Create(CultureInfo.InvariantCulture, $"{segment.RateHertz:0.###} Hz and {rate:0.###} Hz"),
                "Cut the recording into parts of one rate each.");
        }

        return (kept, rate);
    }
}
