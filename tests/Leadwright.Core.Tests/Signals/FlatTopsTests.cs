using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Signals;

public sealed class FlatTopsTests
{
    [Theory]
    [InlineData(0.95)]
    [InlineData(0.8)]
    [InlineData(0.3)]
    public void A_sine_cut_at_a_converters_end_is_cut(double at)
    {
        var samples = Sine(2000, 64).Select(value => Math.Clamp(value, -2000 * at, 2000 * at)).Select(value => Math.Round(value)).ToArray();
        Assert.True(FlatTops.AreCut(samples, 64));
    }

    [Fact]
    public void A_sine_cut_on_one_side_only_is_cut() =>
        Assert.True(FlatTops.AreCut(Sine(2000, 64).Select(value => Math.Round(Math.Min(value, 1500))).ToArray(), 64));

    [Theory]
    [InlineData(2)]
    [InlineData(20)]
    [InlineData(500)]
    [InlineData(30000)]
    public void Flat_tops_of_coarse_converter_steps_are_not_cut(double height)
    {
        foreach (var samplesPerCycle in new[] { 16.67, 64, 256, 1024 })
            Assert.False(FlatTops.AreCut(Sine(height, samplesPerCycle).Select(value => Math.Round(value)).ToArray(), samplesPerCycle));
    }

    [Fact]
    public void A_half_wave_that_rests_at_zero_is_not_cut() =>
        Assert.False(FlatTops.AreCut(Sine(2000, 64).Select(value => Math.Round(Math.Max(value, 0))).ToArray(), 64));

    [Fact]
    public void Constants_and_missing_samples_are_not_cut()
    {
        Assert.False(FlatTops.AreCut(new double[200], 64));
        Assert.False(FlatTops.AreCut(Enumerable.Repeat(double.NaN, 200).ToArray(), 64));
        Assert.False(FlatTops.AreCut([], 64));
    }

    private static IEnumerable<double> Sine(double height, double samplesPerCycle) =>
        Enumerable.Range(0, (int)(10 * samplesPerCycle)).Select(index => height * Math.Sin((2 * Math.PI * index / samplesPerCycle) + 0.2));
}
