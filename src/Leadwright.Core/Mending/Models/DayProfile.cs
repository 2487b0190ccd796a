namespace Leadwright.Core.Mending.Models;

/// <summary>The ordinary course of a day of a series: its mean by half hour and kind of day.</summary>
/// <remarks>A bin that was never seen on its own kind of day takes what the other kind read, scaled by how the two kinds compare where both are
/// known.</remarks>
internal sealed class DayProfile
{
    /// <summary>Bins of a day.</summary>
    public const int Bins = 48;

    private readonly double[] _means = new double[2 * Bins];

    private DayProfile()
    {
    }

    /// <summary>The bin of a time.</summary>
    public static int BinOf(long ticks)
    {
        var time = new DateTime(ticks);
        var bin = (int)(time.TimeOfDay.Ticks * Bins / TimeSpan.TicksPerDay);
        return (time.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday ? Bins : 0) + bin;
    }

    /// <summary>Learns a profile.</summary>
    /// <param name="values">The series; NaN where it is not known.</param>
    /// <param name="bins">The bin of each slot.</param>
    /// <param name="isHidden">Slots to leave out; empty for none.</param>
    public static DayProfile Learn(ReadOnlySpan<double> values, ReadOnlySpan<short> bins, ReadOnlySpan<bool> isHidden)
    {
        Span<double> sums = stackalloc double[2 * Bins];
        Span<double> counts = stackalloc double[2 * Bins];
        sums.Clear();
        counts.Clear();
        for (var slot = 0; slot < values.Length; slot++)
        {
            if ((!isHidden.IsEmpty && isHidden[slot]) || double.IsNaN(values[slot])) continue;
            sums[bins[slot]] += values[slot];
            counts[bins[slot]]++;
        }

        var profile = new DayProfile();
        Smooth(sums[..Bins]);
        Smooth(counts[..Bins]);
        Smooth(sums[Bins..]);
        Smooth(counts[Bins..]);
        var scale = Compare(sums, counts);
        var all = 0.0;
        var number = 0.0;
        for (var bin = 0; bin < 2 * Bins; bin++) (all, number) = (all + sums[bin], number + counts[bin]);
        var mean = number > 0 ? all / number : 0;
        for (var bin = 0; bin < 2 * Bins; bin++)
        {
            var other = bin < Bins ? bin + Bins : bin - Bins;
            var fromOther = counts[other] > 0 ? bin >= Bins ? scale * sums[other] / counts[other] : sums[other] / counts[other] / scale : double.NaN;
            profile._means[bin] = counts[bin] > 0 ? sums[bin] / counts[bin] : double.IsNaN(fromOther) ? mean : fromOther;
        }

        return profile;
    }

    /// <summary>The ordinary value of a bin.</summary>
    public double this[int bin] => _means[bin];

    // Weekend over weekday where both are known.
    private static double Compare(ReadOnlySpan<double> sums, ReadOnlySpan<double> counts)
    {
        double weekdays = 0, weekends = 0;
        for (var bin = 0; bin < Bins; bin++)
        {
            if (!(counts[bin] > 0 && counts[Bins + bin] > 0)) continue;
            weekdays += sums[bin] / counts[bin];
            weekends += sums[Bins + bin] / counts[Bins + bin];
        }

        return weekdays > 0 && weekends > 0 ? Math.Clamp(weekends / weekdays, 0.1, 10) : 1;
    }

    // Half an hour's neighbours carry a little of it; the day closes on itself.
    private static void Smooth(Span<double> bins)
    {
        Span<double> before = stackalloc double[Bins];
        bins.CopyTo(before);
        for (var bin = 0; bin < Bins; bin++) bins[bin] = before[bin] + (0.35 * (before[(bin + 1) % Bins] + before[(bin + Bins - 1) % Bins]));
    }
}
