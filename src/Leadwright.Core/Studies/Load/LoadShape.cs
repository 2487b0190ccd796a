using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Load;

/// <summary>The shape of a load: how long it stays above a level, its hours and days, its base.</summary>
public static class LoadShape
{
    // A curve of more points says nothing more.
    private const int MostPoints = 20_000;

    /// <summary>The load-duration curve: the sound values from the highest down. Of more than 20,000 so many, evenly spaced, each one the value that its share of the time reaches.</summary>
    /// <param name="power">Mean power, W.</param>
    public static ImmutableArray<double> Duration(StudySeries power)
    {
        ArgumentNullException.ThrowIfNull(power);
        var sorted = power.SoundSorted();
        Array.Reverse(sorted);
        if (sorted.Length <= MostPoints) return [.. sorted];
        return [.. Enumerable.Range(1, MostPoints).Select(point => sorted[(int)Math.Ceiling((double)point * sorted.Length / MostPoints) - 1])];
    }

    /// <summary>Mean power of each hour of each day.</summary>
    /// <param name="power">Mean power, W.</param>
    /// <returns>One row a day, in order, with 24 values, NaN where nothing sound is known.</returns>
    public static ImmutableArray<LoadDay> Days(StudySeries power)
    {
        ArgumentNullException.ThrowIfNull(power);
        var days = new SortedDictionary<DateOnly, (double[] Sums, int[] Counts)>();
        var (day, known) = ((Sums: new double[24], Counts: new int[24]), long.MinValue);
        var starts = power.Starts.Span;
        for (var row = 0; row < power.Count; row++)
        {
            if (!power.IsSound(row)) continue;
            if (starts[row] / TimeSpan.TicksPerDay != known)
            {
                known = starts[row] / TimeSpan.TicksPerDay;
                var date = DateOnly.FromDateTime(power.StartOf(row));
                if (!days.TryGetValue(date, out day)) days[date] = day = (new double[24], new int[24]);
            }

            var hour = (int)(starts[row] % TimeSpan.TicksPerDay / TimeSpan.TicksPerHour);
            day.Sums[hour] += power.Values[row];
            day.Counts[hour]++;
        }

        return [.. days.Select(day => new LoadDay(day.Key, [.. day.Value.Sums.Zip(day.Value.Counts, (sum, count) => count > 0 ? sum / count : double.NaN)]))];
    }

    /// <summary>Base and near-peak load: means over the days of each day's 2.5th and 97.5th percentile.</summary>
    /// <param name="power">Mean power, W.</param>
    /// <returns>NaN where no day has a sound value for nine tenths of it.</returns>
    /// <remarks>P. Price, "Methods for analyzing electric load shape and its variability", LBNL-3713E (2010): near-base and near-peak load (from memory).</remarks>
    public static (double BaseWatts, double NearPeakWatts, int DayCount) BaseAndPeak(StudySeries power)
    {
        ArgumentNullException.ThrowIfNull(power);
        var needed = 0.9 * 86400 / power.IntervalSeconds;
        var (low, high, count) = (0.0, 0.0, 0);
        var starts = power.Starts.Span;
        var values = new List<double>();
        for (var row = 0; row < power.Count;)
        {
            var day = starts[row] / TimeSpan.TicksPerDay;
            values.Clear();
            for (; row < power.Count && starts[row] / TimeSpan.TicksPerDay == day; row++)
            {
                if (power.IsSound(row)) values.Add(power.Values[row]);
            }

            if (values.Count == 0 || values.Count < needed) continue;
            var span = System.Runtime.InteropServices.CollectionsMarshal.AsSpan(values);
            low += Percentile.OfUnsorted(span, 2.5);
            high += Percentile.OfUnsorted(span, 97.5);
            count++;
        }

        return (low / count, high / count, count);
    }
}
