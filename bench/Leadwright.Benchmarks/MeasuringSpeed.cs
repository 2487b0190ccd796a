using System.Diagnostics;
using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Measuring;
using Leadwright.Core.Signals.Flicker;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Core.Signals.Windows;
using Leadwright.Formats;
using Leadwright.Formats.Sampling;

namespace Leadwright.Benchmarks;

/// <summary>How fast a recording is measured, from its bytes on disk to its rows, and where the time goes.</summary>
/// <remarks>Usage: measuring FILE.cfg [--rounds N] [--parts]. Prints Markdown: the best of the rounds and their median, on the clock and in
/// processor time; the latter leaves out what other work on the machine costs.</remarks>
internal static class MeasuringSpeed
{
    public static int Run(string[] args)
    {
        var path = args[0];
        var rounds = args.SkipWhile(word => word != "--rounds").Skip(1).Select(int.Parse).FirstOrDefault(5);
        Console.WriteLine("| what | clock, best s | clock, median s | processor, best s | times real time (clock, best) | times real time on two free cores | memory peak MB |");
        Console.WriteLine("| --- | --- | --- | --- | --- | --- | --- |");
        Report("reading and decoding alone", rounds, () => Decode(path));
        Report("everything, one thread", rounds, () => Measure(path, isParallel: false));
        Report("everything, two threads", rounds, () => Measure(path, isParallel: true));
        if (args.Contains("--parts")) Parts(rounds);
        return 0;
    }

    private static void Report(string what, int rounds, Func<double> run)
    {
        var clocks = new List<double>();
        var processors = new List<double>();
        var seconds = 0.0;
        for (var round = 0; round <= rounds; round++)
        {
            var before = Process.GetCurrentProcess().TotalProcessorTime;
            var clock = Stopwatch.StartNew();
            seconds = run();
            clock.Stop();
            // The first round compiles.
            if (round == 0) continue;
            clocks.Add(clock.Elapsed.TotalSeconds);
            processors.Add((Process.GetCurrentProcess().TotalProcessorTime - before).TotalSeconds);
        }

        clocks.Sort();
        var peak = Process.GetCurrentProcess().PeakWorkingSet64 / 1048576.0;
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"| {what} | {clocks[0]:0.000} | {clocks[clocks.Count / 2]:0.000} | {processors.Min():0.000} | {seconds / clocks[0]:0} | {2 * seconds / processors.Min():0} | {peak:0} |"));
    }

    private static double Decode(string path)
    {
        using var source = Open(path);
        var frames = new float[8192 * Lane.Count];
        long count = 0;
        while (source.Read(frames) is var read and > 0) count += read;
        return count / source.RateHertz;
    }

    private static double Measure(string path, bool isParallel)
    {
        using var source = Open(path);
        var plan = new MeasuringPlan
        {
            RateHertz = source.RateHertz, NominalHertz = source.LineFrequencyHertz ?? 50, Service = ServiceKind.Wye,
            Lanes = (1 << source.Channels.Length) - 1, DeclaredVolts = 230, IsParallel = isParallel, SignallingHertz = 316,
        };
        using var engine = new MeasuringEngine(plan, new NothingKept());
        while (source.Read(engine.Room) is var read and > 0) engine.Advance(read);
        engine.Complete();
        return engine.Seconds;
    }

    private static ComtradeSource Open(string path)
    {
        var data = new FileStream(Path.ChangeExtension(path, ".dat"), new FileStreamOptions { BufferSize = 0 });
        var source = ComtradeSource.TryOpen(new InputFile(path, File.ReadAllBytes(path)), path, data, data.Length)!;
        var choice = LaneChoice.Empty;
        for (var lane = 0; lane < Math.Min(source.Channels.Length, Lane.Count); lane++) choice = choice.With(lane, lane, false);
        source.Choose(choice);
        return source;
    }

    // One thread, the same frames again and again: they stay in the cache, as they do in the pass.
    private static void Parts(int rounds)
    {
        const double Rate = 10240;
        var frames = new float[12288 * Lane.Count];
        for (var index = 0; index < frames.Length; index++)
            frames[index] = (float)(325 * Math.Sin((2 * Math.PI * 50 * (index / Lane.Count) / Rate) + (index % Lane.Count)));
        var transform = new LaneFft(2048);
        var bins = new float[606 * 2 * Lane.Count];
        var resampler = new LaneResampler();
        var values = new float[2048 * Lane.Count];
        var meter = new WindowMeter(Rate, 50, 50);
        var flicker = new FlickerMeter(Rate, 50, FlickerLamp.Volts230);
        Console.WriteLine();
        Console.WriteLine("| part, one thread | processor ns a frame of eight channels |");
        Console.WriteLine("| --- | --- |");
        Part("transform of 2,048 points", rounds, 2048, () => transform.Transform(bins, 606));
        Part("resampling of a window", rounds, 2048, () => resampler.Read(frames, 100.3, 1.0013, values));
        Part("a window: resampling, sums, transform, groups", rounds, 2048, () => meter.Measure(frames, 0, new WindowSpan(100.3, 2149.1, 10)));
        Part("flicker of four voltages", rounds, 2048, () => flicker.Add(frames.AsSpan(0, 2048 * Lane.Count)));
    }

    private static void Part(string what, int rounds, int count, Action run)
    {
        var best = double.PositiveInfinity;
        for (var round = 0; round <= rounds; round++)
        {
            // Processor time is counted in hundredths of a second by some systems: long enough that it doesn't matter.
            var before = Process.GetCurrentProcess().TotalProcessorTime;
            for (var repeat = 0; repeat < 4000; repeat++) run();
            best = Math.Min(best, (Process.GetCurrentProcess().TotalProcessorTime - before).TotalNanoseconds / (4000.0 * count));
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {what} | {best:0.00} |"));
    }
}
