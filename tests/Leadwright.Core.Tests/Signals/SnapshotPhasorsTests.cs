using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Signals;

public sealed class SnapshotPhasorsTests
{
    private static readonly SignalChoice[] s_voltageAndCurrent = [new(0, SignalKind.Voltage), new(1, SignalKind.Current)];

    [Theory]
    [InlineData(50, 3200, 640)]
    [InlineData(49.31, 3200, 640)]
    [InlineData(50.8, 6400, 6400)]
    [InlineData(59.4, 1000, 1000)]
    [InlineData(60.9, 15360, 3072)]
    [InlineData(47.5, 480, 960)]
    [InlineData(50.1, 512, 512)]
    public void Size_and_angle_hold_off_nominal_with_harmonics_and_noise(double hertz, double rate, int count)
    {
        var voltage = new TestWave(hertz, (1, 230, 25), (3, 9, 100), (4, 4, -30)) { Direct = 1, NoiseRms = 0.05, Seed = 5 };
        var current = new TestWave(hertz, (1, 12, -8), (2, 0.4, 0), (3, 2.5, 175), (4, 1.5, 60)) { NoiseRms = 0.004, Seed = 6 };
        var snapshot = Measure(rate, count, voltage, current);

        Assert.Equal(FrequencyOrigin.Measured, snapshot.FrequencyOrigin);
        Assert.True(snapshot.IsSteady);
        Assert.Equal(0, snapshot.Channels[0].Phasor.AngleDegrees, 1e-9);
        Assert.InRange(TestWave.AngleError(snapshot.Channels[1].Phasor, -33), 0, 0.02);
        foreach (var (channel, wave) in snapshot.Channels.Zip([voltage, current]))
        {
            Assert.Equal(1, channel.Phasor.Magnitude / wave.Components[0].Rms, 2e-4);
            Assert.Equal(1, channel.TrueRms / wave.TrueRms, 2e-4);
            Assert.Equal(wave.Components[0].Rms / wave.TrueRms, channel.FundamentalFraction, 2e-4);
            Assert.False(channel.IsClipped);
            Assert.False(channel.IsDead);
        }
    }

    [Fact]
    public void Harmonics_to_the_25th_come_out_with_size_and_angle()
    {
        var parts = Enumerable.Range(1, 25).Select(order => (order, order == 1 ? 230.0 : 20.0 / order, 13.0 * order)).ToArray();
        var snapshot = Measure(6400, 1280, new TestWave(50.2, parts), new TestWave(50.2, (1, 1, 0)));
        var harmonics = snapshot.Channels[0].Harmonics;
        Assert.Equal(25, harmonics.Length);
        foreach (var (order, rms, degrees) in parts)
        {
            Assert.Equal(1, harmonics[order - 1].Magnitude / rms, 1e-6);
            // Referenced to the fundamental: 13° times the order is taken off, which is all there is.
            Assert.InRange(TestWave.AngleError(harmonics[order - 1], degrees - (order * 13)), 0, 1e-4);
        }

        Assert.Equal(Math.Sqrt(parts.Skip(1).Sum(part => part.Item2 * part.Item2)) / 230, snapshot.Channels[0].HarmonicDistortion, 1e-7);
    }

    [Theory]
    [InlineData(8.4, 3)]
    [InlineData(16.67, 7)]
    [InlineData(64, 25)]
    public void A_low_rate_gives_fewer_harmonics(double samplesPerCycle, int orders)
    {
        var snapshot = Measure(50 * samplesPerCycle, 500, new TestWave(50, (1, 230, 0)), new TestWave(50, (1, 1, 0)));
        Assert.Equal(orders, snapshot.Channels[0].Harmonics.Length);
    }

    [Fact]
    public void Spread_tells_the_noise_of_a_window()
    {
        const double Noise = 3;
        var snapshot = Measure(
            3200, 32000, new TestWave(50.02, (1, 230, 0)), new TestWave(50.02, (1, 20, -30)) { NoiseRms = Noise, Seed = 3 });
        Assert.Equal(50, snapshot.WindowCount);
        Assert.Equal(10, snapshot.WindowCycles);
        // Real and imaginary part of an rms phasor fitted to N samples: noise/√N each. 50 windows give it within 7 % (one sd).
        Assert.Equal(1, snapshot.Channels[1].Spread!.Value / (Noise / Math.Sqrt(640)), 0.25);
        Assert.InRange(snapshot.Channels[0].Spread!.Value, 0, 1e-6);
    }

    [Fact]
    public void The_reference_shows_its_own_spread()
    {
        TestWave Noisy(double degrees, int seed) => new(50, (1, 230, degrees)) { NoiseRms = 2, Seed = seed };
        var samples = new[] { 0.0, -120, 120 }.Select((angle, index) => Noisy(angle, index + 1).Samples(32000, 3200)).ToArray();
        var snapshot = SnapshotPhasors.Measure(
            TestWave.Recording(3200, samples),
            [.. Enumerable.Range(0, 3).Select(index => new SignalChoice(index, SignalKind.Voltage))], new SnapshotOptions()).Snapshot!;
        var expected = 2 / Math.Sqrt(640);
        // The common phase, one sixth of the six parts, is taken out of all three alike.
        Assert.All(snapshot.Channels, channel => Assert.Equal(1, channel.Spread!.Value / expected, 0.3));
    }

    [Fact]
    public void Two_cycles_still_give_phasors_with_the_stated_frequency()
    {
        var (voltage, current) = (new TestWave(50, (1, 230, 10), (5, 10, 0)), new TestWave(50, (1, 5, -20), (3, 1, 0)));
        var recording = TestWave.Recording(3200, voltage.Samples(128, 3200), current.Samples(128, 3200)) with { LineFrequencyHertz = 50 };
        var snapshot = SnapshotPhasors.Measure(recording, s_voltageAndCurrent, new SnapshotOptions()).Snapshot!;
        Assert.Equal(FrequencyOrigin.Stated, snapshot.FrequencyOrigin);
        Assert.Equal(50, snapshot.FrequencyHertz);
        Assert.Null(snapshot.FrequencyErrorHertz);
        Assert.Equal(2, snapshot.WindowCount);
        Assert.Equal(1, snapshot.WindowCycles);
        Assert.Equal(5, snapshot.Channels[1].Phasor.Magnitude, 1e-3);
        Assert.InRange(TestWave.AngleError(snapshot.Channels[1].Phasor, -30), 0, 0.02);
    }

    [Fact]
    public void Two_cycles_half_a_hertz_off_the_stated_frequency_cost_a_percent_and_a_degree_at_most()
    {
        foreach (var degrees in Enumerable.Range(0, 24).Select(step => 15.0 * step))
        {
            var (voltage, current) = (new TestWave(50.5, (1, 230, degrees), (5, 5, 0)), new TestWave(50.5, (1, 10, degrees - 40), (5, 2, 0)));
            var recording = TestWave.Recording(3200, voltage.Samples(128, 3200), current.Samples(128, 3200)) with { LineFrequencyHertz = 50 };
            var snapshot = SnapshotPhasors.Measure(recording, s_voltageAndCurrent, new SnapshotOptions()).Snapshot!;
            Assert.Equal(1, snapshot.Channels[0].Phasor.Magnitude / 230, 0.01);
            Assert.Equal(1, snapshot.Channels[1].Phasor.Magnitude / 10, 0.01);
            Assert.InRange(TestWave.AngleError(snapshot.Channels[1].Phasor, -40), 0, 1);
        }
    }

    [Theory]
    [InlineData(50)]
    [InlineData(60)]
    public void Two_cycles_of_no_stated_frequency_are_read_as_50_or_60_and_say_so(double hertz)
    {
        var count = (int)(2 * 3000 / hertz);
        var snapshot = Measure(3000, count, new TestWave(hertz, (1, 230, 10)), new TestWave(hertz, (1, 5, -20)));
        Assert.Equal(FrequencyOrigin.Assumed, snapshot.FrequencyOrigin);
        Assert.Equal(hertz, snapshot.FrequencyHertz);
    }

    [Fact]
    public void One_cycle_gives_phasors_without_a_spread()
    {
        var recording = TestWave.Recording(3200, new TestWave(50, (1, 230, 0)).Samples(64, 3200)) with { LineFrequencyHertz = 50 };
        var channel = SnapshotPhasors.Measure(recording, [new(0, SignalKind.Voltage)], new SnapshotOptions()).Snapshot!.Channels[0];
        Assert.Equal(230, channel.Phasor.Magnitude, 1e-9);
        Assert.Null(channel.Spread);
    }

    [Fact]
    public void Skew_is_taken_out_of_the_angles()
    {
        const double Skew = 250e-6;
        var (voltage, current) = (new TestWave(50, (1, 230, 0)), new TestWave(50, (1, 10, -15), (3, 2, 40)));
        // The second channel is sampled later than the stamp says.
        var recording = TestWave.Recording(3200, voltage.Samples(1280, 3200), current.Samples(1280, 3200, Skew));
        recording = recording with { Channels = [recording.Channels[0], recording.Channels[1] with { SkewSeconds = Skew }] };
        var channel = SnapshotPhasors.Measure(recording, s_voltageAndCurrent, new SnapshotOptions()).Snapshot!.Channels[1];
        Assert.InRange(TestWave.AngleError(channel.Phasor, -15), 0, 1e-3);
        Assert.InRange(TestWave.AngleError(channel.Harmonics[2], 40), 0, 1e-3);
    }

    [Fact]
    public void A_rate_that_follows_the_network_gives_exact_phasors()
    {
        var (segments, times) = FrequencyMeasurementTests.WanderingRate(40, 48, 2400, 12);
        var (voltage, current) = (new TestWave(50.17, (1, 58, 30), (5, 3, 0)), new TestWave(50.17, (1, 2, 10), (7, 0.2, 0)));
        var recording = new SampledRecording(
            [new("u", "", "V", times.Select(voltage.At).ToArray()), new("i", "", "A", times.Select(current.At).ToArray())],
            [.. segments], 50, null);
        var snapshot = SnapshotPhasors.Measure(recording, s_voltageAndCurrent, new SnapshotOptions()).Snapshot!;
        Assert.Equal(2, snapshot.Channels[1].Phasor.Magnitude, 1e-6);
        Assert.InRange(TestWave.AngleError(snapshot.Channels[1].Phasor, -20), 0, 1e-4);
    }

    private static Snapshot Measure(double rate, int count, TestWave voltage, TestWave current)
    {
        var outcome = SnapshotPhasors.Measure(
            TestWave.Recording(rate, voltage.Samples(count, rate), current.Samples(count, rate)), s_voltageAndCurrent, new SnapshotOptions());
        Assert.Equal(SnapshotRefusal.None, outcome.Refusal);
        return outcome.Snapshot!;
    }
}
