using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Signals;

public sealed class FrequencyMeasurementTests
{
    public static TheoryData<double, double> Conditions => new()
    {
        // Edges of IEC 61000-4-30's ranges (42.5 to 57.5 and 51 to 69 Hz), and values in between; rate from 10 a cycle up.
        { 42.5, 3200 }, { 47.3, 600 }, { 49.9, 12800 }, { 50, 3200 }, { 50.037, 501 }, { 57.5, 7777 }, { 59.3, 600 },
        { 60, 1000 }, { 60.02, 15360 }, { 69, 700 },
    };

    [Theory]
    [MemberData(nameof(Conditions))]
    public void A_clean_signal_of_ten_cycles_is_measured_within_a_millihertz(double hertz, double rate)
    {
        foreach (var degrees in new[] { 0, 77, 151, -100 })
        {
            var estimate = Measure(new TestWave(hertz, (1, 230, degrees)), rate, cycles: 10);
            Assert.NotNull(estimate);
            Assert.Equal(hertz, estimate.Value.Hertz, 1e-3);
        }
    }

    [Theory]
    [MemberData(nameof(Conditions))]
    public void A_distorted_and_noisy_signal_is_measured_within_ten_millihertz(double hertz, double rate)
    {
        foreach (var seed in Enumerable.Range(1, 10))
        {
            // 25 % in all, of harmonics that the lowest rates here can still carry, and 1 % noise.
            var wave = new TestWave(hertz, (1, 230, 33), (2, 7, 10), (3, 45, 80), (4, 30, -60)) { Direct = 4, NoiseRms = 2.3, Seed = seed };
            var estimate = Measure(wave, rate, cycles: 25);
            Assert.NotNull(estimate);
            Assert.Equal(hertz, estimate.Value.Hertz, 1e-2);
        }
    }

    [Fact]
    public void The_standard_error_tells_the_size_of_the_real_error()
    {
        var ratios = Enumerable.Range(1, 200).Select(seed =>
        {
            var estimate = Measure(new TestWave(50.2, (1, 100, 20)) { NoiseRms = 3, Seed = seed }, 1600, cycles: 20)!.Value;
            return (estimate.Hertz - 50.2) / estimate.StandardErrorHertz;
        }).ToArray();
        // Root mean square of 200 standardised errors: 1 give or take 0.05, and more for an error estimated from ten blocks.
        Assert.InRange(Math.Sqrt(ratios.Average(ratio => ratio * ratio)), 0.8, 1.4);
    }

    [Fact]
    public void A_current_with_a_fundamental_of_half_its_rms_is_measured()
    {
        var wave = new TestWave(50.1, (1, 5, 0), (3, 4.5, 170), (5, 4, -20), (7, 3.2, 150), (9, 2.2, 0), (11, 1.2, 100));
        Assert.Equal(50.1, Measure(wave, 3200, cycles: 12)!.Value.Hertz, 1e-3);
    }

    [Theory]
    [InlineData(3)]
    [InlineData(0.5)]
    public void Too_few_cycles_give_no_frequency(double cycles) =>
        Assert.Null(Measure(new TestWave(50, (1, 230, 0)), 3200, cycles));

    [Fact]
    public void Noise_and_silence_give_no_frequency()
    {
        Assert.Null(Measure(new TestWave(50) { NoiseRms = 5 }, 3200, cycles: 20));
        Assert.Null(Measure(new TestWave(50) { Direct = 5 }, 3200, cycles: 20));
    }

    [Theory]
    [InlineData(16.7)]
    [InlineData(100)]
    [InlineData(400)]
    public void A_frequency_outside_the_range_is_not_taken_for_one_inside(double hertz) =>
        Assert.Null(Measure(new TestWave(hertz, (1, 230, 0)), 6400, cycles: 40));

    [Fact]
    public void One_sample_a_cycle_is_not_read_as_a_wave() =>
        Assert.Null(FrequencyMeasurement.Measure(new TestWave(49.8, (1, 230, 0)).Samples(500, 50), new RateSegment(0, 500, 50, 0)));

    [Fact]
    public void Missing_samples_cost_their_blocks_only()
    {
        var samples = new TestWave(50.3, (1, 230, 0)).Samples(1280, 3200);
        samples[200] = samples[201] = samples[900] = double.NaN;
        var estimate = FrequencyMeasurement.Measure(samples, new RateSegment(0, samples.Length, 3200, 0));
        Assert.Equal(50.3, estimate!.Value.Hertz, 1e-3);
    }

    [Fact]
    public void A_rate_that_follows_the_network_is_followed()
    {
        // 40 segments of 48 samples, each at its own rate: the time stamps, not the indices, tell the frequency.
        var (segments, times) = WanderingRate(40, 48, 2400, 12);
        var wave = new TestWave(50.17, (1, 58, 30), (5, 3, 0));
        double[] samples = [.. times.Select(wave.At)];
        var stretch = Assert.Single(Stretch.Join(segments, 400));
        Assert.Equal(50.17, FrequencyMeasurement.Measure(samples, stretch)!.Value.Hertz, 1e-3);
    }

    internal static (RateSegment[] Segments, double[] Times) WanderingRate(int count, int length, double rate, double wander)
    {
        var segments = new RateSegment[count];
        var times = new double[count * length];
        var start = 0.0;
        for (var segment = 0; segment < count; segment++)
        {
            var own = rate + (wander * Math.Sin(segment));
            segments[segment] = new RateSegment(segment * length, length, own, start);
            for (var index = 0; index < length; index++) times[(segment * length) + index] = start + (index / own);
            start += length / own;
        }

        return (segments, times);
    }

    private static FrequencyEstimate? Measure(TestWave wave, double rate, double cycles)
    {
        var count = (int)Math.Ceiling(cycles * rate / wave.Hertz);
        return FrequencyMeasurement.Measure(wave.Samples(count, rate), new RateSegment(0, count, rate, 0));
    }
}
