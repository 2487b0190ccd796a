using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Running;
using Leadwright.Benchmarks;

// Usage: steps [--write FILE], spread [--count N] [--visit KIND] [--write FILE], measuring FILE.cfg [--rounds N] [--parts], growth [--write FILE], clients URL [--count N] [--seconds S] [--write FILE], or what BenchmarkDotNet takes,
// such as --filter '*' --job short.
if (args is ["steps", .. var options]) return StepSpeed.Run(options);
if (args is ["spread", .. var rest]) return VerdictSpread.Run(rest);
if (args is ["measuring", .. var file]) return MeasuringSpeed.Run(file);
if (args is ["clients", .. var asked]) return await ClientCrowd.RunAsync(asked);
if (args is ["growth", .. var grown]) return MeasuringGrowth.Run(grown);
var summaries = BenchmarkSwitcher.FromAssembly(typeof(VerdictBenchmarks).Assembly)
    .Run(args, DefaultConfig.Instance.AddColumn(new ThroughputColumn()));
return summaries.Any() && !summaries.Any(summary => summary.HasCriticalValidationErrors) ? 0 : 1;
