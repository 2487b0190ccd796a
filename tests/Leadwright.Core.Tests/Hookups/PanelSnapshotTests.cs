using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Signals;
using Leadwright.Core.Tests.Signals;

namespace Leadwright.Core.Tests.Hookups;

public sealed class PanelSnapshotTests
{
    [Fact]
    public void A_recording_becomes_readings_of_the_check()
    {
        double[][] samples =
        [
            new TestWave(50, (1, 5, -30)).Samples(6400, 3200),
            new TestWave(50, (1, 229, -120), (3, 8, 0)).Samples(6400, 3200),
            new TestWave(50, (1, 231, 0), (3, 8, 0)).Samples(6400, 3200),
            new TestWave(50, (1, 230, 120), (3, 8, 0)).Samples(6400, 3200),
            new TestWave(50) { NoiseRms = 0.01 }.Samples(6400, 3200),
            Enumerable.Repeat(double.NaN, 6400).ToArray(),
        ];
        var map = new Dictionary<Channel, int>
        {
            [Channel.I3] = 5, [Channel.I2] = 4, [Channel.I1] = 0, [Channel.V3] = 3, [Channel.V2] = 1, [Channel.V1] = 2,
        };
        var snapshot = PanelSnapshot.Measure(TestWave.Recording(3200, samples), map, new SnapshotOptions(), out var refusal, TestContext.Current.CancellationToken);
        Assert.Equal(SnapshotRefusal.None, refusal);

        var readings = snapshot!.ToReadings(ServiceKind.Wye, new NominalVoltage(230, 400));

        Assert.Equal(50, readings.FrequencyHertz);
        Assert.Equal(AngleSign.LeadPositive, readings.AngleSign);
        Assert.Equal(CurrentAngleReference.Common, readings.CurrentAngleReference);
        Assert.Equal(231, readings.Channels[Channel.V1].Rms!.Value, 1e-6);
        Assert.Equal(0, readings.Channels[Channel.V1].AngleDegrees!.Value, 1e-9);
        Assert.Equal(-120, readings.Channels[Channel.V2].AngleDegrees!.Value, 1e-6);
        Assert.Equal(-30, readings.Channels[Channel.I1].AngleDegrees!.Value, 1e-6);
        Assert.NotNull(readings.Channels[Channel.I1].Spread);
        Assert.Equal(0.01, readings.Channels[Channel.I2].Rms!.Value, 5e-4);
        Assert.Null(readings.Channels[Channel.I2].AngleDegrees);
        Assert.False(readings.Channels.ContainsKey(Channel.I3));
        Assert.Empty(readings.Phases);
        // Fundamentals of 231, 229, 230 V leave 1.7 V, the third harmonics 24 V.
        Assert.Equal(24.06 / 230.14, readings.VoltageSumFraction!.Value, 5e-4);
    }

    [Fact]
    public void A_floating_star_point_shows_in_the_sum()
    {
        var snapshot = ThreeVoltages(skewSeconds: 0, third: 0);
        Assert.InRange(snapshot.VoltageSumFraction!.Value, 0, 1e-9);
        Assert.Null(snapshot.ToReadings(ServiceKind.Delta, null).VoltageSumFraction);
        Assert.Null(snapshot.ToReadings(ServiceKind.Delta, null).Nominal);
    }

    [Fact]
    public void Skewed_channels_are_summed_after_correction()
    {
        Assert.InRange(ThreeVoltages(skewSeconds: 200e-6, third: 0).VoltageSumFraction!.Value, 0, 1e-6);
        Assert.Equal(30 / Math.Sqrt((230 * 230) + 100), ThreeVoltages(skewSeconds: 200e-6, third: 10).VoltageSumFraction!.Value, 1e-6);
    }

    [Fact]
    public void A_refusal_is_handed_on()
    {
        var recording = TestWave.Recording(50, new TestWave(50, (1, 230, 0)).Samples(100, 50));
        Assert.Null(PanelSnapshot.Measure(recording, new Dictionary<Channel, int> { [Channel.V1] = 0 }, new SnapshotOptions(), out var refusal, TestContext.Current.CancellationToken));
        Assert.Equal(SnapshotRefusal.RateTooLow, refusal);
    }

    private static PanelSnapshot ThreeVoltages(double skewSeconds, double third)
    {
        double[] angles = [0, -120, 120];
        var recording = TestWave.Recording(3200, [.. angles.Select((angle, index) =>
            new TestWave(50, (1, 230, angle), (3, third, 0)).Samples(3200, 3200, index * skewSeconds))]);
        recording = recording with
        {
            Channels = [.. recording.Channels.Select((channel, index) => channel with { SkewSeconds = index * skewSeconds })],
        };
        var map = new Dictionary<Channel, int> { [Channel.V1] = 0, [Channel.V2] = 1, [Channel.V3] = 2 };
        return PanelSnapshot.Measure(recording, map, new SnapshotOptions(), out _, TestContext.Current.CancellationToken)!;
    }
}
