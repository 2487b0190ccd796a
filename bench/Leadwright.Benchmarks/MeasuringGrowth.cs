using System.Diagnostics;
using System.Globalization;
using System.Numerics;
using System.Runtime.InteropServices;
using Leadwright.Core.Circuits;
using Leadwright.Core.Measuring;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Benchmarks;

/// <summary>How the cost of the measuring pass grows with length, rate and channels, and how far it is from what the machine's memory
/// and arithmetic could do at best.</summary>
/// <remarks>Usage: growth [--write FILE]. The samples are invented, ten seconds laid end to end in memory, so that no disk takes part.</remarks>
internal static class MeasuringGrowth
{
    private const int Rounds = 3;

    public static int Run(string[] args)
    {
        var text = new StringWriter(CultureInfo.InvariantCulture);
        text.WriteLine("| what grows | seconds of recording | samples a second | channels | clock, best s | ns a frame | times real time | managed memory MB |");
        text.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach (var seconds in (int[])[60, 600, 3600, 21600]) Row(text, "length", seconds, 10240, 8);
        foreach (var rate in (int[])[2048, 5120, 10240, 20480, 51200, 102400]) Row(text, "rate", 600, rate, 8);
        foreach (var channels in (int[])[2, 4, 6, 8]) Row(text, "channels", 600, 10240, channels);
        text.WriteLine();
        Ceilings(text);
        Console.Write(text);
        var at = Array.IndexOf(args, "--write");
        if (at >= 0 && at + 1 < args.Length) File.WriteAllText(args[at + 1], text.ToString());
        return 0;
    }

    private static void Row(StringWriter text, string what, int seconds, int rate, int channels)
    {
        var frames = Invent(rate, channels);
        var best = double.PositiveInfinity;
        long memory = 0;
        for (var round = 0; round <= Rounds; round++)
        {
            var clock = Stopwatch.StartNew();
            Measure(frames, rate, channels, (long)seconds * rate);
            if (round > 0) best = Math.Min(best, clock.Elapsed.TotalSeconds);
            memory = Math.Max(memory, GC.GetTotalMemory(forceFullCollection: false));
        }

        text.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"| {what} | {seconds} | {rate} | {channels} | {best:0.000} | {best * 1e9 / ((double)seconds * rate):0.0} | {seconds / best:0} | {memory / 1048576.0:0} |"));
        Console.Error.WriteLine($"{what} {seconds} s, {rate} samples/s, {channels} channels: {best:0.000} s");
    }

    private static void Measure(float[] frames, int rate, int channels, long count)
    {
        // Voltages first, then as many currents.
        var volts = Math.Max(1, channels / 2);
        var plan = new MeasuringPlan
        {
            RateHertz = rate,
            NominalHertz = 50,
            Service = ServiceKind.Wye,
            Lanes = ((1 << volts) - 1) | (((1 << (channels - volts)) - 1) << Lane.VoltageCount),
            DeclaredVolts = 230,
            IsParallel = true,
            SignallingHertz = 316,
        };
        using var engine = new MeasuringEngine(plan, new NothingKept());
        var at = 0;
        while (count > 0)
        {
            var room = engine.Room;
            var some = (int)Math.Min(Math.Min(room.Length, frames.Length - at) / Lane.Count, count);
            frames.AsSpan(at, some * Lane.Count).CopyTo(room);
            engine.Advance(some);
            count -= some;
            at += some * Lane.Count;
            if (at == frames.Length) at = 0;
        }

        engine.Complete();
    }

    // Whole cycles of 50 Hz: the end joins the start.
    private static float[] Invent(int rate, int channels)
    {
        var volts = Math.Max(1, channels / 2);
        var frames = new float[10 * rate * Lane.Count];
        var noise = new Random(1);
        for (var frame = 0; frame < 10 * rate; frame++)
        {
            for (var lane = 0; lane < Lane.Count; lane++)
            {
                var isVoltage = lane < Lane.VoltageCount;
                if (isVoltage ? lane >= volts : lane - Lane.VoltageCount >= channels - volts) continue;
                var angle = (2 * Math.PI * 50 * frame / rate) - (lane % Lane.VoltageCount * 2 * Math.PI / 3) - (isVoltage ? 0 : 0.5);
                var wave = Math.Cos(angle) + (0.03 * Math.Cos(5 * angle)) + (0.001 * (noise.NextDouble() - 0.5));
                frames[(frame * Lane.Count) + lane] = (float)((isVoltage ? 325 : 60) * wave);
            }
        }

        return frames;
    }

    private static void Ceilings(StringWriter text)
    {
        text.WriteLine("| what the machine can do at best, one thread | figure |");
        text.WriteLine("| --- | --- |");
        var store = new float[64 << 20];
        var sum = Vector<float>.Zero;
        var bytes = Best(() =>
        {
            foreach (var value in MemoryMarshal.Cast<float, Vector<float>>(store)) sum += value;
            return store.Length * 4.0;
        });
        text.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| reading memory beyond the caches | {bytes / 1e9:0.0} GB/s |"));
        var operations = Best(Multiplications);
        text.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| fused multiplications and additions of eight floats | {operations / 1e9:0.0} G operations/s on floats |"));
        GC.KeepAlive(sum);
    }

    private static double Best(Func<double> work)
    {
        var best = 0.0;
        for (var round = 0; round < 12; round++)
        {
            var clock = Stopwatch.StartNew();
            var amount = work();
            best = Math.Max(best, amount / clock.Elapsed.TotalSeconds);
        }

        return best;
    }

    private static Vector<float> s_kept;

    // Ten chains hide the latency of each.
    private static double Multiplications()
    {
        const int Count = 20_000_000;
        var (a, b, c, d, e) = (Vector<float>.One, Vector<float>.One, Vector<float>.One, Vector<float>.One, Vector<float>.One);
        var (f, g, h, i, j) = (Vector<float>.One, Vector<float>.One, Vector<float>.One, Vector<float>.One, Vector<float>.One);
        var (by, add) = (new Vector<float>(0.999f), new Vector<float>(0.001f));
        for (var step = 0; step < Count; step++)
        {
            a = Vector.FusedMultiplyAdd(a, by, add);
            b = Vector.FusedMultiplyAdd(b, by, add);
            c = Vector.FusedMultiplyAdd(c, by, add);
            d = Vector.FusedMultiplyAdd(d, by, add);
            e = Vector.FusedMultiplyAdd(e, by, add);
            f = Vector.FusedMultiplyAdd(f, by, add);
            g = Vector.FusedMultiplyAdd(g, by, add);
            h = Vector.FusedMultiplyAdd(h, by, add);
            i = Vector.FusedMultiplyAdd(i, by, add);
            j = Vector.FusedMultiplyAdd(j, by, add);
        }

        s_kept = a + b + c + d + e + f + g + h + i + j;
        return (double)Count * 10 * 2 * Vector<float>.Count;
    }
}
