using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.StoredTables;

/// <summary>Invented logs: a day's swing with noise, rounded as a recorder rounds, and a gap.</summary>
internal static class InventedLog
{
    public static IntervalLog Make(int rows, int columns, double intervalSeconds, int seed)
    {
        var random = new Random(seed);
        var starts = new long[rows];
        var start = new DateTime(2026, 3, 2).Ticks;
        for (var row = 0; row < rows; row++) starts[row] = start + (long)((row + (row > rows / 2 ? 500 : 0)) * intervalSeconds * TimeSpan.TicksPerSecond);
        var described = Enumerable.Range(0, columns).Select(ColumnOf).ToImmutableArray();
        var values = described.Select(column => ValuesOf(rows, intervalSeconds, random)).ToArray();
        return new IntervalLog(described, starts, values, intervalSeconds);
    }

    private static LogColumn ColumnOf(int index) => index switch
    {
        0 => new("P", LogQuantity.ActivePower),
        1 => new("u2", LogQuantity.VoltageUnbalance),
        < 152 => new($"h{index}", LogQuantity.VoltageHarmonic, (LogPlace)(1 + ((index - 2) % 3)), (LogStatistic)((index - 2) / 3 % 3)) { Order = 2 + ((index - 2) / 9) },
        _ => new($"h{index}", LogQuantity.CurrentHarmonic, (LogPlace)(1 + ((index - 2) % 3)), (LogStatistic)((index - 2) / 3 % 3)) { Order = 2 + ((index - 2) / 9) },
    };

    private static double[] ValuesOf(int rows, double intervalSeconds, Random random)
    {
        var (values, noise) = (new double[rows], 0.0);
        for (var row = 0; row < rows; row++)
        {
            noise = (0.98 * noise) + (random.NextDouble() - 0.5);
            var day = Math.Sin(2 * Math.PI * row * intervalSeconds / 86400);
            values[row] = random.Next(1000) == 0 ? double.NaN : Math.Round(230 + (4 * day) + noise, 2);
        }

        return values;
    }
}
