using System.Globalization;
using BenchmarkDotNet.Columns;
using BenchmarkDotNet.Reports;
using BenchmarkDotNet.Running;

namespace Leadwright.Benchmarks;

/// <summary>Megabytes (10⁶ bytes) read in a second, for the benchmarks that read.</summary>
internal sealed class ThroughputColumn : IColumn
{
    public string Id => nameof(ThroughputColumn);

    public string ColumnName => "MB/s";

    public bool AlwaysShow => false;

    public ColumnCategory Category => ColumnCategory.Custom;

    public int PriorityInCategory => 0;

    public bool IsNumeric => true;

    public UnitType UnitType => UnitType.Dimensionless;

    public string Legend => "Megabytes (1,000,000 bytes) read in a second";

    public string GetValue(Summary summary, BenchmarkCase benchmarkCase)
    {
        var nanoseconds = summary[benchmarkCase]?.ResultStatistics?.Mean;
        return Bytes(benchmarkCase) is { } bytes && nanoseconds is { } mean
            ? (bytes * 1e3 / mean).ToString("N0", CultureInfo.InvariantCulture)
            : "-";
    }

    public string GetValue(Summary summary, BenchmarkCase benchmarkCase, SummaryStyle style) => GetValue(summary, benchmarkCase);

    public bool IsAvailable(Summary summary) => summary.BenchmarksCases.Any(benchmark => Bytes(benchmark) is not null);

    public bool IsDefault(Summary summary, BenchmarkCase benchmarkCase) => Bytes(benchmarkCase) is null;

    private static long? Bytes(BenchmarkCase benchmark) => benchmark.Descriptor.Type == typeof(ComtradeBenchmarks)
        ? ComtradeBenchmarks.BytesOf(benchmark.Descriptor.WorkloadMethod.Name)
        : null;
}
