using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Load;

/// <summary>The shape of a load: how long it stays above a level, its hours and days, its base.</summary>
public static class LoadShape
{
    /// <summary>The load-duration curve: the sound values from the highest down.</summary>
    /// <param name="power">Mean power, W.</param>
    public static ImmutableArray<double> Duration(StudySeries power)
    {
        ArgumentNullException.ThrowIfNull(power);
        var sorted = power.SoundSorted();
        Array.Reverse(sorted);
        return [.. sorted];
    }

    /// <summary>Mean power of each hour of each day.</summary>
    /// <param name="power">Mean power, W.</param>
    /// <returns>One row a day, in order, with 24 values, NaN where nothing sound is known.</returns>
    public static ImmutableArray<LoadDay> Days(StudySeries power)
    {
        ArgumentNullException.ThrowIfNull(power);
        var days = new SortedDictionary<DateOnly, (double[] Sums, int[] Counts)>();
        for (var row = 0; row < power.Count; row++)
        {
            if (!power.IsSound(row)) continue;
            var time = power.StartOf(row);
            var date = DateOnly.FromDateTime(time);
            if (!days.TryGetValue(date, out var day)) days[date] = day = (new double[24], new int[24]);
            day.Sums[time.Hour] += power.Values[row];
            day.Counts[time.Hour]++;
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
        var days = new Dictionary<DateOnly, List<double>>();
        for (var row = 0; row < power.Count; row++)
        {
            if (!power.IsSound(row)) continue;
            var date = DateOnly.FromDateTime(power.StartOf(row));
            if (!days.TryGetValue(date, out var values)) days[date] = values = [];
            values.Add(power.Values[row]);
        }

        var needed = 0.9 * 86400 / power.IntervalSeconds;
        var (low, high, count) = (0.0, 0.0, 0);
        foreach (var values in days.Values.Where(values => values.Count >= needed))
        {
            double[] sorted = [.. values.Order()];
            low += Percentile.Of(sorted, 2.5);
            high += Percentile.Of(sorted, 97.5);
            count++;
        }

        return (low / count, high / count, count);
    }
}
