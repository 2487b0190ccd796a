using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;

namespace Leadwright.Core.Tests.Studies;

/// <summary>Logs made by hand for the studies' tests.</summary>
internal static class StudyLog
{
    public static readonly DateTime Start = new(2026, 3, 2);

    public static StudySeries Series(double seconds, params double[] values) =>
        new(Starts(values.Length, seconds), seconds, values);

    public static StudySeries Series(double seconds, double[] values, Standing[] standings) => new(Starts(values.Length, seconds), seconds, values, standings);

    public static long[] Starts(int count, double seconds) =>
        [.. Enumerable.Range(0, count).Select(row => Start.Ticks + (long)(row * seconds * TimeSpan.TicksPerSecond))];

    public static StudyData Data(double seconds, params (LogQuantity Quantity, LogPlace Place, double[] Values)[] columns) =>
        new(new IntervalLog(
            [.. columns.Select(column => new LogColumn($"{column.Quantity} {column.Place}", column.Quantity, column.Place))],
            Starts(columns[0].Values.Length, seconds), [.. columns.Select(column => column.Values)], seconds))
        {
            NominalHertz = 50, Nominal = new NominalVoltage(230, 400),
        };

    public static double[] Constant(int count, double value) => [.. Enumerable.Repeat(value, count)];

    public static StudyData With(this StudyData data, int column, Standing[] standings) =>
        data with { Standings = data.Standings.SetItem(column, standings) };
}
