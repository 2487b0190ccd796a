using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Tests.Tables;

/// <summary>A survey folder of one test, deleted at its end, and logs to put into it.</summary>
public sealed class TableFolder : IDisposable
{
    public const string Survey = "invented-1";

    public TableFolder()
    {
        Path = Directory.CreateTempSubdirectory("leadwright-tables-").FullName;
    }

    public string Path { get; }

    public string TableFile => Of($"tables/log/survey={Survey}/part-0.parquet");

    public string Of(string relative) => System.IO.Path.Combine(Path, relative);

    public Task WriteAsync(IntervalLog log, TableWriteOptions? options = null, CancellationToken? cancellation = null) =>
        SurveyTables.WriteLogAsync(Path, Survey, log, options, cancellation ?? TestContext.Current.CancellationToken);

    public async Task<SurveyTable> OpenAsync(string kind = TableName.Log) =>
        await SurveyTables.Open(Path).TableAsync(new TableName(kind), TestContext.Current.CancellationToken);

    public void Dispose() => Directory.Delete(Path, recursive: true);

    /// <summary>A log of random values with what can go wrong in it: missing values, infinities, gaps.</summary>
    public static IntervalLog RandomLog(int seed, int rows, double intervalSeconds = 60)
    {
        var random = new Random(seed);
        var columns = ImmutableArray.Create(
            new LogColumn("Spannung L1", LogQuantity.Voltage, LogPlace.Phase1), new LogColumn("P", LogQuantity.ActivePower),
            new LogColumn("angle", LogQuantity.CurrentAngle, LogPlace.Phase2, LogStatistic.Instant));
        var starts = new long[rows];
        var at = new DateTime(2026, 3, 1, 22, 13, 7).Ticks + (random.Next(1000) * TimeSpan.TicksPerMillisecond);
        for (var row = 0; row < rows; row++)
        {
            starts[row] = at;
            at += (long)(intervalSeconds * TimeSpan.TicksPerSecond) * (random.Next(Math.Max(rows / 4, 2)) == 0 ? random.Next(2, 5000) : 1);
        }

        var values = columns.Select(_ => Enumerable.Range(0, rows).Select(_ => Value(random)).ToArray()).ToArray();
        return new IntervalLog(columns, starts, values, intervalSeconds);
    }

    public static ImmutableDictionary<int, ReadOnlyMemory<Standing>> RandomStandings(int seed, int rows)
    {
        var random = new Random(seed);
        var standings = new Standing[rows];
        for (var row = 0; row < rows; row++) standings[row] = random.Next(50) == 0 ? (Standing)random.Next(4) : Standing.Measured;
        return ImmutableDictionary<int, ReadOnlyMemory<Standing>>.Empty.Add(1, standings);
    }

    private static double Value(Random random) => random.Next(200) switch
    {
        < 10 => double.NaN,
        10 => random.Next(20) == 0 ? double.PositiveInfinity : -0.0,
        11 => random.Next(20) == 0 ? double.NegativeInfinity : double.Epsilon,
        _ => Math.Round((random.NextDouble() - 0.3) * 400, 3),
    };
}
