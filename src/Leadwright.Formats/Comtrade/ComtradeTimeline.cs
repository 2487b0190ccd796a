using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Core.Signals;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Comtrade;

/// <summary>Works out when each sample of a record was taken.</summary>
/// <remarks>
/// With rates stated, they rule, and the stamps in the data place the stretches and show gaps, provided that nine in ten
/// of their steps agree with the stated rates; recorders that cut out quiet time show it in the stamps alone. With
/// no rate stated (nrates = 0) the stamps are all there is.
/// </remarks>
internal static class ComtradeTimeline
{
    public static ImmutableArray<RateSegment> Segments(
        ComtradeConfiguration configuration, ReadOnlySpan<double> stamps, string name, List<ReadWarning> warnings)
    {
        var tick = configuration.TimeMultiplier * (configuration.Start is { IsNanosecond: true } ? 1e-9 : 1e-6);
        if (configuration.Rates.Any(rate => rate.RateHertz <= 0)) return FromStamps(stamps, tick, name);
        var stretches = Stretches(configuration.Rates, stamps.Length);
        // Some recorders count microseconds under dates in nanoseconds.
        foreach (var unit in (ReadOnlySpan<double>)[tick, configuration.TimeMultiplier * 1e-6])
        {
            if (Agree(stretches, stamps, unit)) return Placed(stretches, stamps, unit, warnings);
        }

        if (stretches.Any(stretch => stretch.Length > 1))
        {
            warnings.Add(new ReadWarning(
                "The time stamps in the data do not agree with the stated sampling rate; times are worked out from the rate."));
        }

        return stretches;
    }

    // The stretches end to end, as if nothing were missing between them.
    private static ImmutableArray<RateSegment> Stretches(ImmutableArray<ComtradeRate> rates, int count)
    {
        var stretches = ImmutableArray.CreateBuilder<RateSegment>();
        var (first, start) = (0, 0.0);
        for (var index = 0; index < rates.Length && first < count; index++)
        {
            // Samples beyond the last stated one belong to the last rate.
            var end = index == rates.Length - 1 ? count : Math.Min(rates[index].LastSampleNumber, count);
            if (end <= first) continue;
            stretches.Add(new RateSegment(first, end - first, rates[index].RateHertz, start));
            start += (end - first) / rates[index].RateHertz;
            first = end;
        }

        return stretches.ToImmutable();
    }

    private static bool Agree(ImmutableArray<RateSegment> stretches, ReadOnlySpan<double> stamps, double tick)
    {
        var (agreeing, all) = (0, 0);
        foreach (var stretch in stretches)
        {
            var period = 1 / stretch.RateHertz;
            for (var index = stretch.FirstIndex + 1; index < stretch.FirstIndex + stretch.Length; index++)
            {
                var step = (stamps[index] - stamps[index - 1]) * tick;
                all++;
                if (Math.Abs(step - period) <= Math.Min((0.1 * period) + tick, 0.5 * period)) agreeing++;
            }
        }

        return all > 0 && agreeing >= 0.9 * all;
    }

    private static ImmutableArray<RateSegment> Placed(
        ImmutableArray<RateSegment> stretches, ReadOnlySpan<double> stamps, double tick, List<ReadWarning> warnings)
    {
        var placed = ImmutableArray.CreateBuilder<RateSegment>();
        var gaps = 0;
        foreach (var stretch in stretches)
        {
            var end = stretch.FirstIndex + stretch.Length;
            var first = stretch.FirstIndex;
            for (var index = first + 1; index <= end; index++)
            {
                if (index < end && !IsGap((stamps[index] - stamps[index - 1]) * tick, 1 / stretch.RateHertz)) continue;
                if (index < end) gaps++;
                placed.Add(new RateSegment(first, index - first, stretch.RateHertz,
                    StartOf((stamps[first] - stamps[0]) * tick, placed)));
                first = index;
            }
        }

        if (gaps > 0)
        {
            warnings.Add(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                $"The time stamps jump at {gaps} places within a stretch of one rate; the recording is cut there.")));
        }

        return placed.ToImmutable();
    }

    // The stamp of the first sample; where it is missing, the end of the stretch before.
    private static double StartOf(double start, ImmutableArray<RateSegment>.Builder placed)
    {
        if (double.IsFinite(start)) return start;
        return placed.Count > 0 ? placed[^1].StartSeconds + (placed[^1].Length / placed[^1].RateHertz) : 0;
    }

    private static bool IsGap(double step, double period) => step > 1.5 * period || step < 0;

    private static ImmutableArray<RateSegment> FromStamps(ReadOnlySpan<double> stamps, double tick, string name)
    {
        var times = new double[stamps.Length];
        for (var index = 0; index < times.Length; index++)
        {
            times[index] = (stamps[index] - stamps[0]) * tick;
            if (index > 0 ? times[index] > times[index - 1] : times[index] == 0) continue;
            throw new FormatReadException(
                name,
                "rising time stamps, since the configuration states no sampling rate",
                double.IsNaN(stamps[index])
                    ? string.Create(CultureInfo.InvariantCulture, $"no stamp at sample {index + 1}")
                    : string.Create(CultureInfo.InvariantCulture, $"{stamps[index]} after {stamps[index - 1]} at sample {index + 1}"),
                "Put the sampling rate into a copy of the .cfg: 1 as the number of rates, then the rate and the last sample number.");
        }

        return [.. SampleTimes.Segments(times, tick)];
    }
}
