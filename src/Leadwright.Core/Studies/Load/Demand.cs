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
        var best = -1;
        var (sum, count, leftOut, modelled) = (0.0, 0, 0, double.NaN);
        for (var index = 0; index < windows.Count; index++)
        {
            var window = windows[index];
            if (window.Weakest > Standing.Mended)
            {
                leftOut++;
                if (window.Weakest == Standing.Modelled && !(window.Watts <= modelled)) modelled = window.Watts;
                continue;
            }

            sum += window.Watts;
            count++;
            if (best < 0 || window.Watts > windows[best].Watts) best = index;
        }

        var found = best < 0 ? default : windows[best];
        return new DemandPeak(kind, minutes, best < 0 ? double.NaN : found.Watts, best < 0 ? default : new DateTime(found.Start), found.Weakest)
        {
            PhaseWatts = best < 0 || phases.IsDefaultOrEmpty ? [] : [.. phases.Select(phase => Mean(phase, found.First, found.Rows))],
            WindowCount = count,
            LeftOutCount = leftOut,
            HighestModelledWatts = modelled,
            MeanWatts = count > 0 ? sum / count : double.NaN,
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
        return new StudySeries(
            windows.Select(window => window.Start).ToArray(), minutes * 60,
            [.. windows.Select(window => window.Weakest == Standing.Lost ? double.NaN : window.Watts)], windows.Select(window => window.Weakest).ToArray());
    }

    private readonly record struct Window(long Start, int First, int Rows, double Watts, Standing Weakest);

    private static List<Window>? Windows(StudySeries power, DemandKind kind, double minutes)
    {
        var parts = minutes * 60 / power.IntervalSeconds;
        var rows = (int)Math.Round(parts);
        if (rows < 1 || Math.Abs(parts - rows) > 1e-6) return null;
        return kind == DemandKind.Block ? Blocks(power, minutes, rows) : Slides(power, rows);
    }

    private static List<Window> Blocks(StudySeries power, double minutes, int rows)
    {
        var length = (long)Math.Round(minutes * TimeSpan.TicksPerMinute);
        var windows = new List<Window>();
        var starts = power.Starts.Span;
        for (var row = 0; row < power.Count;)
        {
            var first = row;
            var tick = power.TickOf(starts[row], length);
            while (row < power.Count && power.TickOf(starts[row], length) == tick) row++;
            windows.Add(Of(power, first, row - first, rows, rows == 1 ? starts[first] : tick * length));
        }

        return windows;
    }

    private static List<Window> Slides(StudySeries power, int rows)
    {
        var windows = new List<Window>(power.Count);
        var starts = power.Starts.Span;
        var slack = power.IntervalTicks / 2;
        for (var first = 0; first + rows <= power.Count; first++)
        {
            var isWhole = starts[first + rows - 1] - starts[first] <= (power.IntervalTicks * (rows - 1)) + slack;
            windows.Add(isWhole ? Of(power, first, rows, rows, starts[first]) : new Window(starts[first], first, rows, double.NaN, Standing.Lost));
        }

        return windows;
    }

    private static Window Of(StudySeries power, int first, int count, int needed, long start)
    {
        var weakest = count == needed ? Standing.Measured : Standing.Lost;
        var sum = 0.0;
        for (var row = first; row < first + count; row++)
        {
            sum += power.Values[row];
            if (power.StandingOf(row) > weakest) weakest = power.StandingOf(row);
        }

        return new Window(start, first, count, sum / count, weakest);
    }

    private static double Mean(StudySeries series, int first, int rows)
    {
        var sum = 0.0;
        for (var row = first; row < first + rows; row++) sum += series.Values[row];
        return sum / rows;
    }
}
