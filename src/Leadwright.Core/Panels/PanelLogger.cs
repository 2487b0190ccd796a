using Leadwright.Core.Hookups;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Panels;

/// <summary>How a panel is logged.</summary>
/// <param name="IntervalSeconds">Length of an interval, seconds.</param>
/// <param name="Rows">Number of intervals.</param>
/// <param name="StepCount">How many more loads switch once meanwhile, on one branch after the other.</param>
/// <param name="OwnWandering">How far each line's supply wanders for itself from one interval to the next, as a fraction of nominal.</param>
/// <param name="CommonWandering">The same of all lines together.</param>
public sealed record LoggingPlan(double IntervalSeconds, int Rows, int StepCount, double OwnWandering = 1e-4, double CommonWandering = 5e-4);

/// <summary>Writes what a panel does as a log of intervals.</summary>
internal static class PanelLogger
{
    private const double KeptWandering = 0.97;

    /// <summary>Logs it: voltages, currents, watts and vars, each the state in the middle of its interval.</summary>
    public static IntervalLog Record(VirtualPanel panel, Instrument instrument, Hookup hookup, LoggingPlan plan, ulong seed)
    {
        var random = new SeededRandom(seed).Fork(31);
        var start = new DateTime(2026, 3, 2, 8, 0, 0, DateTimeKind.Unspecified).Ticks;
        var interval = (long)(plan.IntervalSeconds * TimeSpan.TicksPerSecond);
        List<LogColumn>? columns = null;
        List<double[]> values = [];
        Span<double> rise = stackalloc double[4];
        for (var row = 0; row < plan.Rows; row++)
        {
            for (var line = 0; line < 4; line++)
                rise[line] = (KeptWandering * rise[line]) + ((line == 3 ? plan.CommonWandering : plan.OwnWandering) * random.Gaussian());
            var solution = panel.Solve((row + 0.5) * plan.IntervalSeconds, rise[0] + rise[3], rise[1] + rise[3], rise[2] + rise[3]);
            var readings = instrument.Read(solution, hookup, seed + (ulong)row);
            columns ??= ColumnsOf(readings, plan.Rows, values);
            Write(readings, values, row);
        }

        return new IntervalLog(
            [.. columns ?? []], [.. Enumerable.Range(0, plan.Rows).Select(row => start + (row * interval))], [.. values], plan.IntervalSeconds);
    }

    private static List<LogColumn> ColumnsOf(PanelReadings readings, int rows, List<double[]> values)
    {
        var columns = new List<LogColumn>();
        foreach (var channel in readings.Channels.Keys)
        {
            columns.Add(channel >= Channel.I1
                ? new(channel.ToString(), LogQuantity.Current, channel == Channel.IN ? LogPlace.Neutral : LogPlace.Phase1 + (channel - Channel.I1))
                : new(channel.ToString(), LogQuantity.Voltage, channel >= Channel.V12 ? LogPlace.Pair12 + (channel - Channel.V12) : LogPlace.Phase1 + (int)channel));
        }

        foreach (var phase in readings.Phases.Keys)
        {
            columns.Add(new($"P{phase}", LogQuantity.ActivePower, LogPlace.Phase1 + (phase - 1)));
            columns.Add(new($"Q{phase}", LogQuantity.ReactivePower, LogPlace.Phase1 + (phase - 1)));
        }

        for (var column = 0; column < columns.Count; column++) values.Add(new double[rows]);
        return columns;
    }

    private static void Write(PanelReadings readings, List<double[]> values, int row)
    {
        var column = 0;
        foreach (var reading in readings.Channels.Values) values[column++][row] = reading.Rms ?? double.NaN;
        foreach (var power in readings.Phases.Values)
        {
            values[column++][row] = power.Watts ?? double.NaN;
            values[column++][row] = power.Vars ?? double.NaN;
        }
    }
}
