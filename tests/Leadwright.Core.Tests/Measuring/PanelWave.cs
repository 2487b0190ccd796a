using Leadwright.Core.Circuits;
using Leadwright.Core.Measuring;
using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Tests.Measuring;

/// <summary>Sums of cosines for eight lanes: the closed form that measurements are held against.</summary>
internal sealed class PanelWave(double rateHertz)
{
    private readonly List<(int Lane, double Hertz, double Rms, double Degrees, Func<double, double>? Envelope)> _parts = [];

    public double NoiseRms { get; init; }

    public PanelWave With(int lane, double hertz, double rms, double degrees, Func<double, double>? envelope = null)
    {
        _parts.Add((lane, hertz, rms, degrees, envelope));
        return this;
    }

    /// <summary>Three balanced lines from a lane on.</summary>
    public PanelWave WithThree(int lane, double hertz, double rms, double degrees, Func<double, double>? envelope = null) =>
        With(lane, hertz, rms, degrees, envelope).With(lane + 1, hertz, rms, degrees - 120, envelope).With(lane + 2, hertz, rms, degrees + 120, envelope);

    public float[] Frames(double seconds, double fromSeconds = 0)
    {
        var count = (int)Math.Round(seconds * rateHertz);
        var values = new double[count * Lane.Count];
        foreach (var (lane, hertz, rms, degrees, envelope) in _parts)
        {
            for (var index = 0; index < count; index++)
            {
                var time = fromSeconds + (index / rateHertz);
                var turns = hertz * time;
                values[(index * Lane.Count) + lane] += rms * Math.Sqrt(2) * (envelope?.Invoke(time) ?? 1)
                    * Math.Cos((2 * Math.PI * (turns - Math.Floor(turns))) + (degrees * Math.PI / 180));
            }
        }

        var random = new Random(7);
        if (NoiseRms > 0)
        {
            for (var index = 0; index < values.Length; index++)
                values[index] += NoiseRms * Math.Sqrt(12) * (random.NextDouble() - 0.5);
        }

        return [.. values.Select(value => (float)value)];
    }

    public static MeasuringPlan Plan(double rateHertz, double nominalHertz, MeasuringInterval interval, ServiceKind service = ServiceKind.Wye) => new()
    {
        RateHertz = rateHertz, NominalHertz = nominalHertz, Service = service, Lanes = service == ServiceKind.Wye ? 0xF7 : 0x77,
        DeclaredVolts = 230, Interval = interval,
    };

    public static CollectingSink Measure(MeasuringPlan plan, ReadOnlySpan<float> frames, int block = int.MaxValue) =>
        Measure(plan, frames, out _, block);

    public static CollectingSink Measure(MeasuringPlan plan, ReadOnlySpan<float> frames, out MeasuringEngine engine, int block = int.MaxValue)
    {
        var sink = new CollectingSink();
        engine = new MeasuringEngine(plan, sink);
        for (var first = 0; first < frames.Length / Lane.Count; first += block)
        {
            var count = Math.Min(block, (frames.Length / Lane.Count) - first);
            engine.Push(frames.Slice(first * Lane.Count, count * Lane.Count));
            if (block == int.MaxValue) break;
        }

        engine.Complete();
        engine.Dispose();
        return sink;
    }
}
