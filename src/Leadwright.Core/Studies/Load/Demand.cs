using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies.Load;

/// <summary>Demand: mean power over windows of a stated length.</summary>
/// <remarks>A window is judged when every interval of it is there and measured or mended. Blocks begin on the clock's ticks, counted from
/// midnight. With several windows alike, the earliest counts.</remarks>
public static class Demand
{
    /// <summary>Finds the highest demand.</summary>
    /// <param name="power">Mean power, W.</param>
    /// <param name="kind">Block or sliding.</param>
    /// <param name="minutes">Length of the window, minutes.</param>
    /// <param name="phases">Power of each phase over the same intervals; may be empty.</param>
    /// <returns>Null when the length is no whole number of intervals of the log.</returns>
    public static DemandPeak? Highest(StudySeries power, DemandKind kind, double minutes, ImmutableArray<StudySeries> phases = default)
    {
        ArgumentNullException.ThrowIfNull(power);
        if (Windows(power, kind, minutes) is not { } windows) return null;
        Window? best = null;
        var (sum, count, leftOut, modelled) = (new RunningSum(), 0, 0, double.NaN);
        foreach (var window in windows)
        {
            if (window.Weakest > Standing.Mended)
            {
                leftOut++;
                if (window.Weakest == Standing.Modelled && !(window.Watts <= modelled)) modelled = window.Watts;
                continue;
            }

            sum.Add(window.Watts);
            count++;
            if (best is null || window.Watts > best.Value.Watts) best = window;
        }

        var found = best ?? default;
        return new DemandPeak(kind, minutes, best is null ? double.NaN : found.Watts, best is null ? default : new DateTime(found.Start), found.Weakest)
        {
            PhaseWatts = best is null || phases.IsDefaultOrEmpty ? [] : [.. phases.Select(phase => Mean(phase, found.First, found.Rows))],
            WindowCount = count,
            LeftOutCount = leftOut,
            HighestModelledWatts = modelled,
            MeanWatts = count > 0 ? sum.Value / count : double.NaN,
        };
    }

    /// <summary>The demand of every window as a series; windows that can't be judged are lost.</summary>
    /// <param name="power">Mean power, W.</param>
    /// <param name="kind">Block or sliding.</param>
    /// <param name="minutes">Length of the window, minutes.</param>
    /// <returns>Null when the length is no whole number of intervals of the log.</returns>
    public static StudySeries? Series(StudySeries power, DemandKind kind, double minutes)
    {
        ArgumentNullException.ThrowIfNull(power);
        if (Windows(power, kind, minutes) is not { } windows) return null;
        var (starts, watts, standings) = (new List<long>(), new List<double>(), new List<Standing>());
        foreach (var window in windows)
        {
            starts.Add(window.Start);
            watts.Add(window.Weakest == Standing.Lost ? double.NaN : window.Watts);
            standings.Add(window.Weakest);
        }

        return new StudySeries(starts.ToArray(), minutes * 60, [.. watts], standings.ToArray());
    }

    private readonly record struct Window(long Start, int First, int Rows, double Watts, Standing Weakest);

    /// <summary>True when intervals make up windows of a length: a whole number of them.</summary>
    /// <param name="minutes">The length.</param>
    /// <param name="intervalSeconds">Seconds of an interval.</param>
    public static bool CanForm(double minutes, double intervalSeconds)
    {
        var parts = minutes * 60 / intervalSeconds;
        return Math.Round(parts) >= 1 && Math.Abs(parts - Math.Round(parts)) <= 1e-6;
    }

    private static IEnumerable<Window>? Windows(StudySeries power, DemandKind kind, double minutes)
    {
        if (!CanForm(minutes, power.IntervalSeconds)) return null;
        var rows = (int)Math.Round(minutes * 60 / power.IntervalSeconds);
        return kind == DemandKind.Block ? Blocks(power, minutes, rows) : Slides(power, rows);
    }

    private static IEnumerable<Window> Blocks(StudySeries power, double minutes, int rows)
    {
        var length = (long)Math.Round(minutes * TimeSpan.TicksPerMinute);
        var starts = power.Starts;
        for (var row = 0; row < power.Count;)
        {
            var first = row;
            var tick = power.TickOf(starts.Span[row], length);
            while (row < power.Count && power.TickOf(starts.Span[row], length) == tick) row++;
            yield return Of(power, first, row - first, rows, rows == 1 ? starts.Span[first] : tick * length);
        }
    }

    // Each window is the one before with one value gone and one come: a week of tenths of seconds has millions of them.
    private static IEnumerable<Window> Slides(StudySeries power, int rows)
    {
        var starts = power.Starts;
        var slack = power.IntervalTicks / 2;
        var sum = new RunningSum();
        var counts = new int[4];
        for (var last = 0; last < power.Count; last++)
        {
            Count(power, last, 1, ref sum, counts);
            if (last >= rows) Count(power, last - rows, -1, ref sum, counts);
            var first = last - rows + 1;
            if (first < 0) continue;
            var start = starts.Span[first];
            var isWhole = starts.Span[last] - start <= (power.IntervalTicks * (rows - 1)) + slack;
            var weakest = !isWhole || counts[(int)Standing.Lost] > 0 ? Standing.Lost
                : counts[(int)Standing.Modelled] > 0 ? Standing.Modelled : counts[(int)Standing.Mended] > 0 ? Standing.Mended : Standing.Measured;
            yield return new Window(start, first, rows, weakest == Standing.Lost ? double.NaN : sum.Value / rows, weakest);
        }
    }

    private static void Count(StudySeries power, int row, int sign, ref RunningSum sum, int[] counts)
    {
        var standing = power.StandingOf(row);
        counts[(int)standing] += sign;
        if (standing != Standing.Lost) sum.Add(sign * power.Values[row]);
    }

    private static Window Of(StudySeries power, int first, int count, int needed, long start)
    {
        var weakest = count == needed ? Standing.Measured : Standing.Lost;
        var sum = new RunningSum();
        for (var row = first; row < first + count; row++)
        {
            var standing = power.StandingOf(row);
            if (standing > weakest) weakest = standing;
            if (standing != Standing.Lost) sum.Add(power.Values[row]);
        }

        return new Window(start, first, count, weakest == Standing.Lost ? double.NaN : sum.Value / count, weakest);
    }

    private static double Mean(StudySeries series, int first, int rows)
    {
        var sum = 0.0;
        for (var row = first; row < first + rows; row++) sum += series.Values[row];
        return sum / rows;
    }
}
