using Leadwright.Core.Circuits;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Signals;

/// <summary>A closed-form sum of sines: the truth that measurements are held against.</summary>
internal sealed record TestWave(double Hertz, params (int Order, double Rms, double Degrees)[] Components)
{
    public double Direct { get; init; }

    public double NoiseRms { get; init; }

    public int Seed { get; init; } = 1;

    public double TrueRms => Math.Sqrt((Direct * Direct) + (NoiseRms * NoiseRms) + Components.Sum(part => part.Rms * part.Rms));

    public double At(double seconds) => Direct + Components.Sum(part =>
        part.Rms * Math.Sqrt(2) * Math.Cos((2 * Math.PI * part.Order * Hertz * seconds) + (part.Degrees * Math.PI / 180)));

    public double[] Samples(int count, double rate, double startSeconds = 0)
    {
        var random = new Random(Seed);
        var samples = new double[count];
        for (var index = 0; index < count; index++)
            samples[index] = At(startSeconds + (index / rate)) + (NoiseRms > 0 ? NoiseRms * Gaussian(random) : 0);
        return samples;
    }

    public static SampledRecording Recording(double rate, params double[][] channels) => new(
        [.. channels.Select((samples, index) => new SampledChannel($"ch{index}", "", "", samples))],
        [new RateSegment(0, channels[0].Length, rate, 0)], null, null);

    public static double AngleError(Phasor actual, double degrees) => Math.Abs(Angle.WrapDegrees(actual.AngleDegrees - degrees));

    private static double Gaussian(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
