using Leadwright.Core.Signals.Lanes;

namespace Leadwright.Core.Tests.Signals.Lanes;

public sealed class LaneResamplerTests(ITestOutputHelper output)
{
    // The closed form between the samples is the oracle; frequencies as fractions of the sampling rate.
    [Theory]
    [InlineData(0.0049, 2e-5)]
    [InlineData(0.05, 8e-5)]
    [InlineData(0.2, 8e-5)]
    [InlineData(0.3, 2e-4)]
    [InlineData(0.337, 2e-4)]
    public void Values_between_samples_are_those_of_the_sine(double frequency, double tolerance)
    {
        var frames = new float[600 * Lane.Count];
        for (var index = 0; index < frames.Length; index++)
            frames[index] = (float)Math.Sin((2 * Math.PI * frequency * (index / Lane.Count)) + (index % Lane.Count));
        var values = new float[400 * Lane.Count];
        const double Start = 20.37;
        const double Step = 1.31;
        new LaneResampler().Read(frames, Start, Step, values);

        var worst = 0.0;
        for (var index = 0; index < values.Length; index++)
        {
            var place = Start + (index / Lane.Count * Step);
            worst = Math.Max(worst, Math.Abs(values[index] - Math.Sin((2 * Math.PI * frequency * place) + (index % Lane.Count))));
        }

        output.WriteLine($"{frequency}: {worst:E2}");
        Assert.True(worst < tolerance, $"{worst:E2}");
    }

    // Where it damps, it damps by what it says: a sine's rms behind it over that before.
    [Theory]
    [InlineData(0.37)]
    [InlineData(0.4)]
    [InlineData(0.44)]
    public void Damping_of_high_components_is_known(double frequency)
    {
        var frames = new float[3000 * Lane.Count];
        for (var index = 0; index < frames.Length; index++) frames[index] = (float)Math.Cos(2 * Math.PI * frequency * (index / Lane.Count));
        var values = new float[2900 * Lane.Count];
        var resampler = new LaneResampler();
        resampler.Read(frames, 20.25, 1.0007, values);
        double real = 0, imaginary = 0;
        for (var index = 0; index < 2900; index++)
        {
            var (sine, cosine) = Math.SinCos(2 * Math.PI * frequency * (20.25 + (index * 1.0007)));
            real += values[index * Lane.Count] * cosine;
            imaginary += values[index * Lane.Count] * sine;
        }

        Assert.Equal(2 * Math.Sqrt((real * real) + (imaginary * imaginary)) / 2900, resampler.Response(frequency), 0.003);
    }

    [Fact]
    public void A_constant_stays_as_it_is()
    {
        var frames = new float[100 * Lane.Count];
        Array.Fill(frames, 325f);
        var values = new float[50 * Lane.Count];
        new LaneResampler().Read(frames, 10.123, 1.234, values);
        Assert.All(values, value => Assert.Equal(325, value, 1e-4));
    }

    [Theory]
    [InlineData(6.9, 1, 10)]
    [InlineData(10, 1, 90)]
    public void Places_too_near_to_an_end_are_refused(double start, double step, int count) =>
        Assert.Contains("far enough", Assert.Throws<ArgumentOutOfRangeException>(
            () => new LaneResampler().Read(new float[100 * Lane.Count], start, step, new float[count * Lane.Count])).Message, StringComparison.Ordinal);
}
