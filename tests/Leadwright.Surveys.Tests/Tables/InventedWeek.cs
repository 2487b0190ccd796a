using Leadwright.Core.Logs;

namespace Leadwright.Surveys.Tests.Tables;

/// <summary>A week of one invented board whose peak demand and worst unbalance are set when it is made.</summary>
/// <remarks>Half of the recorders log the unbalance; the others the three line voltages alone, made of a positive and a negative sequence, so that the unbalance is their
/// ratio by definition (IEC 61000-4-30, 5.7.1).</remarks>
internal sealed record InventedWeek(string Survey, IntervalLog Log, double PeakKilowatts, DateTime PeakAt, double WorstUnbalancePercent)
{
    public static InventedWeek Make(int number)
    {
        var random = new Random(number);
        var intervalMinutes = (number % 3) switch { 0 => 1, 1 => 5, _ => 15 };
        var rows = 7 * 24 * 60 / intervalMinutes;
        var start = new DateTime(2026, 3, 2).AddDays(7 * number);
        var peakQuarter = random.Next(4 * 24 * 7);
        var peak = Math.Round(20e3 + (random.NextDouble() * 80e3));
        var worstRow = random.Next(rows);
        var worst = Math.Round(1.5 + random.NextDouble(), 2);
        var hasUnbalance = number % 2 == 0;
        var power = new double[rows];
        var rest = new double[hasUnbalance ? 1 : 3][];
        for (var index = 0; index < rest.Length; index++) rest[index] = new double[rows];
        for (var row = 0; row < rows; row++)
        {
            var isPeak = row * intervalMinutes / 15 == peakQuarter;
            // Below the peak by a fifth, with rows that are higher alone where a quarter has several: a mean is wanted, not a maximum.
            power[row] = isPeak ? peak : (peak * 0.8 * random.NextDouble()) + (intervalMinutes == 1 && row % 15 == 3 ? peak * 0.9 : 0);
            if (intervalMinutes == 1 && !isPeak && row % 15 != 3) power[row] *= 0.9;
            var unbalance = row == worstRow ? worst : Math.Round(random.NextDouble() * 1.4, 2);
            if (hasUnbalance) rest[0][row] = row % 97 == 5 && row != worstRow ? double.NaN : unbalance;
            else SetVoltages(rest, row, unbalance, random.NextDouble() * 2 * Math.PI);
        }

        LogColumn[] columns = hasUnbalance
            ? [new("P", LogQuantity.ActivePower), new("u2", LogQuantity.VoltageUnbalance)]
            : [new("P", LogQuantity.ActivePower), new("V12", LogQuantity.Voltage, LogPlace.Pair12), new("V23", LogQuantity.Voltage, LogPlace.Pair23), new("V31", LogQuantity.Voltage, LogPlace.Pair31)];
        var starts = Enumerable.Range(0, rows).Select(row => start.AddMinutes(row * intervalMinutes).Ticks).ToArray();
        return new($"board-{number}", new IntervalLog([.. columns], starts, [power, .. rest], intervalMinutes * 60), peak / 1000, start.AddMinutes(15 * peakQuarter), worst);
    }

    // Line voltages of a positive sequence of 400 V and a negative one of some percent of it, at some angle.
    private static void SetVoltages(double[][] voltages, int row, double unbalancePercent, double angle)
    {
        for (var pair = 0; pair < 3; pair++)
        {
            var (positive, negative) = (-2 * Math.PI / 3 * pair, angle + (2 * Math.PI / 3 * pair));
            var share = unbalancePercent / 100;
            voltages[pair][row] = 400 * double.Hypot(Math.Cos(positive) + (share * Math.Cos(negative)), Math.Sin(positive) + (share * Math.Sin(negative)));
        }
    }
}
