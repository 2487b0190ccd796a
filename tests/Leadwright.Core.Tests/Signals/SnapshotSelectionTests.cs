using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Signals;

/// <summary>Which part of a recording is measured, and what is said of the channels.</summary>
public sealed class SnapshotSelectionTests
{
    private static readonly SignalChoice[] s_voltageAndCurrent = [new(0, SignalKind.Voltage), new(1, SignalKind.Current)];

    [Fact]
    public void The_steady_part_before_a_fault_is_measured()
    {
        // 20 cycles of load, 5 cycles of fault, 30 cycles with the breaker open.
        var (sound, dip) = (new TestWave(50, (1, 230, 0)), new TestWave(50, (1, 150, 5)));
        var (load, fault, open) = (new TestWave(50, (1, 10, -20)), new TestWave(50, (1, 200, -75)), new TestWave(50) { NoiseRms = 0.01 });
        double[] voltage = [.. sound.Samples(1280, 3200), .. dip.Samples(320, 3200, 0.4), .. sound.Samples(1920, 3200, 0.5)];
        double[] current = [.. load.Samples(1280, 3200), .. fault.Samples(320, 3200, 0.4), .. open.Samples(1920, 3200, 0.5)];

        var snapshot = Measure(TestWave.Recording(3200, voltage, current));

        Assert.False(snapshot.IsSteady);
        Assert.Equal(20, snapshot.SteadyCycles);
        Assert.Equal(55, snapshot.WaveformCycles);
        // The cycle next to the fault is left out.
        Assert.Equal(0, snapshot.Span.FirstIndex);
        Assert.InRange(snapshot.Span.Length, (19 * 64) - 1, (19 * 64) + 1);
        Assert.Equal(230, snapshot.Channels[0].Phasor.Magnitude, 1e-6);
        Assert.Equal(10, snapshot.Channels[1].Phasor.Magnitude, 1e-6);
    }

    [Fact]
    public void A_fault_at_the_very_beginning_is_passed_over()
    {
        var (dip, sound) = (new TestWave(50, (1, 100, 0)), new TestWave(50, (1, 230, 0)));
        double[] voltage = [.. dip.Samples(160, 3200), .. sound.Samples(1280, 3200, 0.05)];
        var snapshot = Measure(TestWave.Recording(3200, voltage, new TestWave(50, (1, 10, 0)).Samples(1440, 3200)));
        Assert.InRange(snapshot.Span.FirstIndex, 160, 256);
        Assert.Equal(230, snapshot.Channels[0].Phasor.Magnitude, 1e-6);
    }

    [Fact]
    public void A_line_that_is_switched_on_during_the_recording_is_measured_alive()
    {
        double[] voltage = [.. new TestWave(50) { NoiseRms = 0.2 }.Samples(1280, 3200), .. new TestWave(50, (1, 230, 0)).Samples(1280, 3200, 0.4)];
        double[] current = [.. new double[1280], .. new TestWave(50, (1, 4, -30)).Samples(1280, 3200, 0.4)];
        var snapshot = Measure(TestWave.Recording(3200, voltage, current));
        Assert.InRange(snapshot.Span.FirstIndex, 1280, 1408);
        Assert.Equal(230, snapshot.Channels[0].Phasor.Magnitude, 1e-6);
        Assert.InRange(TestWave.AngleError(snapshot.Channels[1].Phasor, -30), 0, 1e-4);
    }

    [Fact]
    public void Stretches_of_one_sample_a_cycle_are_not_read_as_waveform()
    {
        // The layout of a real fault recorder: 3200, 50, 3200, 50 Hz.
        var (voltage, current) = (new TestWave(50, (1, 60, 0)), new TestWave(50, (1, 0.5, -10)));
        var segments = new RateSegment[] { new(0, 1280, 3200, 0), new(1280, 36, 50, 0.4), new(1316, 1472, 3200, 1.12), new(2788, 289, 50, 1.58) };
        double[] times = [.. segments.SelectMany(s => Enumerable.Range(0, s.Length).Select(i => s.StartSeconds + (i / s.RateHertz)))];
        var recording = new SampledRecording(
            [new("u", "", "", times.Select(voltage.At).ToArray()), new("i", "", "", times.Select(current.At).ToArray())], [.. segments], 50, null);

        var snapshot = Measure(recording);

        Assert.Equal((0, 1280), (snapshot.Span.FirstIndex, snapshot.Span.Length));
        Assert.Equal(20 + 23, snapshot.WaveformCycles);
        Assert.Equal(60, snapshot.Channels[0].Phasor.Magnitude, 1e-6);
    }

    [Fact]
    public void An_off_nominal_frequency_is_no_event()
    {
        var snapshot = Measure(TestWave.Recording(
            3200, new TestWave(47.8, (1, 230, 0)).Samples(6400, 3200), new TestWave(47.8, (1, 3, 0)).Samples(6400, 3200)));
        Assert.True(snapshot.IsSteady);
    }

    [Fact]
    public void A_noisy_dead_clamp_does_not_hide_the_steady_voltage()
    {
        var current = new TestWave(50) { NoiseRms = 0.02 };
        var snapshot = Measure(TestWave.Recording(3200, new TestWave(50, (1, 230, 0)).Samples(3200, 3200), current.Samples(3200, 3200)));
        Assert.True(snapshot.IsSteady);
        Assert.True(snapshot.Channels[1].IsDead);
        Assert.False(snapshot.Channels[0].IsDead);
    }

    [Fact]
    public void A_long_recording_is_measured_over_ten_seconds()
    {
        var snapshot = Measure(TestWave.Recording(
            800, new TestWave(50, (1, 230, 0)).Samples(24000, 800), new TestWave(50, (1, 3, 0)).Samples(24000, 800)));
        Assert.Equal(10, snapshot.Span.DurationSeconds, 0.03);
        Assert.Equal(1500, snapshot.WaveformCycles);
        Assert.True(snapshot.IsSteady);
    }

    [Fact]
    public void Windows_with_missing_samples_are_skipped_and_counted()
    {
        var current = new TestWave(50, (1, 3, -30)).Samples(6400, 3200);
        current[700] = current[2600] = double.NaN;
        var snapshot = Measure(TestWave.Recording(3200, new TestWave(50, (1, 230, 0)).Samples(6400, 3200), current));
        Assert.Equal(10, snapshot.WindowCount);
        Assert.Equal((10, 0), (snapshot.Channels[0].WindowCount, snapshot.Channels[0].SkippedWindowCount));
        Assert.Equal((8, 2), (snapshot.Channels[1].WindowCount, snapshot.Channels[1].SkippedWindowCount));
        Assert.Equal(3, snapshot.Channels[1].Phasor.Magnitude, 1e-9);
    }

    [Fact]
    public void A_channel_that_is_missing_throughout_says_so_and_leaves_the_others_alone()
    {
        var missing = Enumerable.Repeat(double.NaN, 3200).ToArray();
        var snapshot = Measure(TestWave.Recording(3200, missing, new TestWave(50, (1, 3, 15)).Samples(3200, 3200)));
        Assert.True(snapshot.Channels[0].IsMissing);
        Assert.True(double.IsNaN(snapshot.Channels[0].TrueRms));
        Assert.Equal(1, snapshot.ReferenceIndex);
        Assert.Equal(3, snapshot.Channels[1].Phasor.Magnitude, 1e-9);
    }

    [Fact]
    public void A_dead_first_voltage_hands_the_reference_on()
    {
        var recording = TestWave.Recording(
            3200, new TestWave(50) { NoiseRms = 0.1 }.Samples(3200, 3200), new TestWave(50, (1, 230, 40)).Samples(3200, 3200));
        var snapshot = SnapshotPhasors.Measure(
            recording, [new(0, SignalKind.Voltage), new(1, SignalKind.Voltage)], new SnapshotOptions()).Snapshot!;
        Assert.Equal(1, snapshot.ReferenceIndex);
        Assert.Equal(0, snapshot.Channels[1].Phasor.AngleDegrees, 1e-9);
        Assert.True(snapshot.Channels[0].IsDead);
    }

    [Fact]
    public void A_recording_of_nothing_but_constants_still_answers()
    {
        var snapshot = Measure(TestWave.Recording(3200, new double[3200], Enumerable.Repeat(2.5, 3200).ToArray()));
        Assert.All(snapshot.Channels, channel => Assert.True(channel.IsDead));
        Assert.Null(snapshot.ReferenceIndex);
        Assert.Equal(2.5, snapshot.Channels[1].Direct, 1e-12);
    }

    [Fact]
    public void Refusals_name_their_reason()
    {
        var wave = new TestWave(50, (1, 230, 0));
        Assert.Equal(SnapshotRefusal.RateTooLow, Refusal(TestWave.Recording(50, wave.Samples(500, 50), wave.Samples(500, 50))));
        Assert.Equal(SnapshotRefusal.TooShort, Refusal(TestWave.Recording(3200, wave.Samples(40, 3200), wave.Samples(40, 3200))));
        Assert.Equal(SnapshotRefusal.NoSamples, Refusal(TestWave.Recording(3200, [], [])));
        var missing = Enumerable.Repeat(double.NaN, 3200).ToArray();
        Assert.Equal(SnapshotRefusal.AllMissing, Refusal(TestWave.Recording(3200, missing, missing)));
    }

    [Fact]
    public void A_channel_that_does_not_exist_is_an_error() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SnapshotPhasors.Measure(
            TestWave.Recording(3200, new double[64]), [new(1, SignalKind.Voltage)], new SnapshotOptions()));

    [Fact]
    public void A_channel_shorter_than_the_segments_is_an_error()
    {
        var recording = TestWave.Recording(3200, new double[640]) with { Segments = [new RateSegment(0, 641, 3200, 0)] };
        var error = Assert.Throws<ArgumentException>(() => SnapshotPhasors.Measure(recording, [new(0, SignalKind.Voltage)], new SnapshotOptions()));
        Assert.Contains("'ch0' holds 640 samples; the recording's segments call for 641", error.Message, StringComparison.Ordinal);
    }

    private static Snapshot Measure(SampledRecording recording) =>
        SnapshotPhasors.Measure(recording, s_voltageAndCurrent, new SnapshotOptions()).Snapshot!;

    private static SnapshotRefusal Refusal(SampledRecording recording) =>
        SnapshotPhasors.Measure(recording, s_voltageAndCurrent, new SnapshotOptions()).Refusal;
}
