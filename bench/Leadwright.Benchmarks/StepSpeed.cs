using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using System.Text;
using Leadwright.Core.Circuits;
using Leadwright.Core.Signals;
using Leadwright.Core.Signals.Steps;

namespace Leadwright.Benchmarks;

/// <summary>How long the search for switching steps takes on long recordings: once through, on the clock and in processor time.</summary>
internal static class StepSpeed
{
    private const double Rate = 3200;
    private const double Hertz = 50.01;

    public static int Run(string[] args)
    {
        var text = new StringBuilder();
        Line("| what | values | on the clock, s | processor, s | steps |");
        Line("| --- | --- | --- | --- | --- |");
        Hour();
        Week();
        var at = Array.IndexOf(args, "--write");
        if (at >= 0 && at + 1 < args.Length)
        {
            File.WriteAllText(
                args[at + 1],
                $"{DateTime.UtcNow:yyyy-MM-dd}, .NET {Environment.Version}, {Environment.ProcessorCount} cores. "
                + $"Made by `dotnet run --project bench/Leadwright.Benchmarks -c Release -- steps --write FILE`.\n\n{text}");
        }

        return 0;

        void Hour()
        {
            var samples = Enumerable.Range(0, 6).Select(channel => (ReadOnlyMemory<double>)Wave(channel)).ToArray();
            var stretch = Stretch.Of(new RateSegment(0, samples[0].Length, Rate, 0));
            Time("an hour of samples, 6 channels at 3,200 a second", 6L * samples[0].Length, () => StepSearch.Find(
                CyclePhasors.Measure(samples, new double[6], stretch, Hertz), Kinds()).Steps.Length);
        }

        void Week()
        {
            const int Rows = 7 * 24 * 3600;
            var random = new Random(3);
            var values = new Phasor[Rows * 6];
            for (var row = 0; row < Rows; row++)
            {
                for (var channel = 0; channel < 6; channel++)
                {
                    var size = channel < 3 ? 230.0 : 40 + (row / (600 + (100 * channel)) % 2 * 8);
                    values[(row * 6) + channel] = Phasor.FromDegrees(size + (random.NextDouble() * 0.02), channel * -120);
                }
            }

            Time("a week of one-second phasors, 6 channels", (long)values.Length, () => StepSearch.Find(CyclePhasors.Of(values, 6, 0, 1), Kinds()).Steps.Length);
        }

        void Time(string what, long count, Func<int> work)
        {
            var before = Process.GetCurrentProcess().TotalProcessorTime;
            var clock = Stopwatch.StartNew();
            var steps = work();
            var processor = Process.GetCurrentProcess().TotalProcessorTime - before;
            Line(string.Create(CultureInfo.InvariantCulture,
                $"| {what} | {count:#,0} | {clock.Elapsed.TotalSeconds:0.0} | {processor.TotalSeconds:0.0} | {steps} |"));
        }

        void Line(string line)
        {
            Console.WriteLine(line);
            text.Append(line).Append('\n');
        }
    }

    private static ImmutableArray<SignalKind> Kinds() =>
    [
        SignalKind.Voltage, SignalKind.Voltage, SignalKind.Voltage, SignalKind.Current, SignalKind.Current, SignalKind.Current,
    ];

    /// <summary>An hour of one channel; a current of 40 A that a load of 8 A joins every five minutes for as long.</summary>
    private static double[] Wave(int channel)
    {
        var random = new Random(channel);
        var wave = new double[(int)(3600 * Rate)];
        var phase = (channel % 3) * -2 * Math.PI / 3;
        for (var index = 0; index < wave.Length; index++)
        {
            var seconds = index / Rate;
            var size = channel < 3 ? 325 : 56 + ((int)(seconds / 300) % 2 * 11);
            wave[index] = (size * Math.Cos((2 * Math.PI * Hertz * seconds) + phase)) + (random.NextDouble() * 0.1);
        }

        return wave;
    }
}
