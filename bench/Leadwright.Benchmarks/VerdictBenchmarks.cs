using BenchmarkDotNet.Attributes;
using Leadwright.Core.Hookups;

namespace Leadwright.Benchmarks;

/// <summary>How long a verdict takes; a mean over different visits, since their number of possible answers differs.</summary>
[MemoryDiagnoser]
public class VerdictBenchmarks
{
    private const int VisitCount = 16;
    private (PanelReadings Readings, CheckOptions Options)[] _visits = [];

    [ParamsAllValues]
    public VisitKind Visit { get; set; }

    [GlobalSetup]
    public void Prepare() => _visits = [.. Enumerable.Range(0, VisitCount).Select(index => Visits.Of(Visit, index))];

    [Benchmark(OperationsPerInvoke = VisitCount)]
    public double Judge()
    {
        var sum = 0.0;
        foreach (var (readings, options) in _visits) sum += HookupCheck.Judge(readings, options).ProbabilityCorrect;
        return sum;
    }
}
