using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;

namespace Leadwright.Reports.Tests.Studies;

/// <summary>Logs as no recorder should write them: channels missing, values missing, infinite, zero, minus zero, hardly above zero or beyond all measure, gaps, standings of all kinds.</summary>
internal static class AnyLog
{
    private static readonly ImmutableArray<LogColumn> s_columns =
    [
        Of("V1", LogQuantity.Voltage, LogPlace.Phase1), Of("V2", LogQuantity.Voltage, LogPlace.Phase2), Of("V3", LogQuantity.Voltage, LogPlace.Phase3),
        Of("V12", LogQuantity.Voltage, LogPlace.Pair12), Of("V23", LogQuantity.Voltage, LogPlace.Pair23), Of("V31", LogQuantity.Voltage, LogPlace.Pair31), Of("VN", LogQuantity.Voltage, LogPlace.Neutral),
        Of("I1", LogQuantity.Current, LogPlace.Phase1), Of("I2", LogQuantity.Current, LogPlace.Phase2), Of("I3", LogQuantity.Current, LogPlace.Phase3), Of("IN", LogQuantity.Current, LogPlace.Neutral),
        Of("P", LogQuantity.ActivePower, LogPlace.Whole), Of("P1", LogQuantity.ActivePower, LogPlace.Phase1), Of("P2", LogQuantity.ActivePower, LogPlace.Phase2), Of("P3", LogQuantity.ActivePower, LogPlace.Phase3),
        Of("Q", LogQuantity.ReactivePower, LogPlace.Whole), Of("E", LogQuantity.ActiveEnergy, LogPlace.Whole) with { Statistic = LogStatistic.Amount }, Of("E out", LogQuantity.ActiveEnergy, LogPlace.Whole) with { Statistic = LogStatistic.Amount, IsExport = true },
        Of("f", LogQuantity.Frequency, LogPlace.Whole), Of("u2", LogQuantity.VoltageUnbalance, LogPlace.Whole), Of("Pst1", LogQuantity.ShortTermFlicker, LogPlace.Phase1),
        Of("THD V1", LogQuantity.VoltageDistortion, LogPlace.Phase1), Of("THD I1", LogQuantity.CurrentDistortion, LogPlace.Phase1), Of("K1", LogQuantity.KFactor, LogPlace.Phase1),
        Of("V1 h5", LogQuantity.VoltageHarmonic, LogPlace.Phase1) with { Order = 5 }, Of("I1 h5", LogQuantity.CurrentHarmonic, LogPlace.Phase1) with { Order = 5 },
    ];

    /// <summary>Makes one.</summary>
    /// <param name="seed">From which it follows.</param>
    /// <param name="isTame">True without the values that no recorder could mean.</param>
    public static StudyData Make(int seed, bool isTame = false)
    {
        var chance = new Random(seed);
        var columns = s_columns.Where(_ => chance.NextDouble() < 0.6).ToImmutableArray();
        double[] lengths = [0.2, 10, 60, 600, 900, 3600];
        var seconds = lengths[chance.Next(lengths.Length)];
        int[] counts = [0, 1, 2, 7, 144, 700, 2016];
        var count = counts[chance.Next(counts.Length)];
        var starts = new long[count];
        var at = new DateTime(2026, 3, 2).Ticks + chance.Next(0, 100) * TimeSpan.TicksPerSecond;
        for (var row = 0; row < count; row++)
        {
            starts[row] = at;
            at += (long)(seconds * TimeSpan.TicksPerSecond) * (chance.NextDouble() < 0.01 ? chance.Next(2, 40) : 1);
        }

        var hostile = isTame ? 0 : new[] { 0, 0.02, 0.5, 1 }[chance.Next(4)];
        var missing = new[] { 0, 0.05, 0.6, 1 }[chance.Next(4)];
        var values = columns.Select(column => Enumerable.Range(0, count).Select(row => Value(column, row, chance, hostile, missing)).ToArray()).ToArray();
        var standings = ImmutableDictionary<int, ReadOnlyMemory<Standing>>.Empty;
        for (var column = 0; column < columns.Length; column++)
        {
            if (chance.NextDouble() < 0.3) standings = standings.Add(column, Enumerable.Range(0, count).Select(_ => (Standing)chance.Next(4)).ToArray());
        }

        return new StudyData(new IntervalLog(columns, starts, values, seconds))
        {
            Standings = standings,
            Flagged = chance.NextDouble() < 0.3 ? Enumerable.Range(0, count).Select(_ => chance.NextDouble() < 0.1).ToArray() : default,
            Service = chance.NextDouble() < 0.8 ? ServiceKind.Wye : ServiceKind.Delta,
            Nominal = chance.NextDouble() < 0.8 ? new NominalVoltage(230, 400) : null,
            NominalHertz = 50,
        };
    }

    /// <summary>The same log with its columns in another order.</summary>
    public static StudyData Shuffled(StudyData data, int seed)
    {
        var order = Enumerable.Range(0, data.Log.Columns.Length).ToArray();
        new Random(seed).Shuffle(order);
        return data with
        {
            Log = new IntervalLog([.. order.Select(column => data.Log.Columns[column])], data.Log.Starts.ToArray(), [.. order.Select(column => data.Log.Values(column).ToArray())], data.Log.IntervalSeconds),
            Standings = order.Index().Where(pair => data.Standings.ContainsKey(pair.Item)).ToImmutableDictionary(pair => pair.Index, pair => data.Standings[pair.Item]),
        };
    }

    private static LogColumn Of(string name, LogQuantity quantity, LogPlace place) => new(name, quantity, place);

    private static double Value(LogColumn column, int row, Random chance, double hostile, double missing)
    {
        if (chance.NextDouble() < missing) return double.NaN;
        double[] odd =
        [
            0, -0.0, double.Epsilon, -double.Epsilon, 1e-310, double.PositiveInfinity, double.NegativeInfinity, double.NaN, 1e300, -1e300, double.MaxValue, double.MinValue, -1, 1e-9,
        ];
        if (chance.NextDouble() < hostile) return odd[chance.Next(odd.Length)];
        var day = Math.Sin(2 * Math.PI * row / 144);
        return column.Quantity switch
        {
            LogQuantity.Voltage => (column.Place >= LogPlace.Pair12 ? 400 : column.Place == LogPlace.Neutral ? 2 : 231) + (3 * day) + chance.NextDouble(),
            LogQuantity.Current => 40 + (30 * day) + chance.NextDouble(),
            LogQuantity.Frequency => 50 + (0.02 * day),
            LogQuantity.ActiveEnergy => 100 + (50 * day),
            LogQuantity.ActivePower or LogQuantity.ReactivePower => 9000 + (8000 * day) + (100 * chance.NextDouble()),
            _ => 1 + Math.Abs(day),
        };
    }
}
