using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Signals;

public sealed class SampleSumTests
{
    [Fact]
    public void A_third_harmonic_in_all_three_is_all_that_is_left()
    {
        var waves = new[] { 0.0, -120, 120 }.Select(angle => new TestWave(50, (1, 230, angle), (3, 10, 0)) { Direct = 3 }.Samples(640, 3200)).ToArray();
        Assert.Equal(30 / Math.Sqrt((230 * 230) + 100), SampleSum.RmsFraction(waves[0], waves[1], waves[2]), 1e-9);
    }

    [Fact]
    public void Missing_samples_are_left_out()
    {
        var waves = new[] { 0.0, -120, 120 }.Select(angle => new TestWave(50, (1, 230, angle)).Samples(640, 3200)).ToArray();
        waves[1][77] = double.NaN;
        Assert.InRange(SampleSum.RmsFraction(waves[0], waves[1], waves[2]), 0, 0.01);
        Array.Fill(waves[2], double.NaN);
        Assert.True(double.IsNaN(SampleSum.RmsFraction(waves[0], waves[1], waves[2])));
    }

    [Fact]
    public void Spans_of_different_lengths_are_an_error()
    {
        var error = Assert.Throws<ArgumentException>(() => SampleSum.RmsFraction(new double[3], new double[4], new double[3]));
        Assert.Contains("3, 4 and 3", error.Message, StringComparison.Ordinal);
    }
}
