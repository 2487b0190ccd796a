using FsCheck.Xunit;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Signals;

public sealed class SnapshotPropertiesTests
{
    [Property(MaxTest = 25)]
    public bool A_shift_in_time_leaves_sizes_and_relative_angles(ushort shift, sbyte lag, byte offNominal)
    {
        var hertz = 49 + (offNominal / 128.0);
        var (voltage, current) = (new TestWave(hertz, (1, 230, 10), (3, 8, 50)), new TestWave(hertz, (1, 7, 10 - lag), (5, 1.5, 20)));
        var seconds = shift / 65536.0;
        var (here, there) = (Measure(voltage, current, 0), Measure(voltage, current, seconds));
        return Enumerable.Range(0, here.Channels[1].Harmonics.Length)
            .All(index => (here.Channels[1].Harmonics[index] - there.Channels[1].Harmonics[index]).Magnitude < 1e-7)
            && TestWave.AngleError(there.Channels[1].Phasor, -lag) < 1e-4;
    }

    [Property(MaxTest = 25)]
    public bool Phasors_add_up_as_the_samples_do(short first, short second, sbyte turn)
    {
        var (one, two) = (new TestWave(50.3, (1, 5 + (first / 1e4), turn), (3, 1, 0)), new TestWave(50.3, (1, 3 + (second / 1e4), 40), (5, 1, 9)));
        var voltage = new TestWave(50.3, (1, 230, 0)).Samples(1280, 3200);
        var (samplesOne, samplesTwo) = (one.Samples(1280, 3200), two.Samples(1280, 3200));
        double[] sum = [.. samplesOne.Zip(samplesTwo, (a, b) => (2 * a) - b)];
        var snapshot = SnapshotPhasors.Measure(
            TestWave.Recording(3200, voltage, samplesOne, samplesTwo, sum),
            [new(0, SignalKind.Voltage), new(1, SignalKind.Current), new(2, SignalKind.Current), new(3, SignalKind.Current)],
            new SnapshotOptions()).Snapshot!;
        var channels = snapshot.Channels;
        return Enumerable.Range(0, channels[1].Harmonics.Length).All(index =>
            ((2 * channels[1].Harmonics[index]) - channels[2].Harmonics[index] - channels[3].Harmonics[index]).Magnitude < 1e-9);
    }

    [Property(MaxTest = 25)]
    public bool The_same_samples_give_the_same_bits(int seed)
    {
        var voltage = new TestWave(50.3, (1, 230, 0)) { NoiseRms = 2, Seed = seed };
        var current = new TestWave(50.3, (1, 5, 0)) { NoiseRms = 1, Seed = seed };
        var (one, other) = (Measure(voltage, current, 0), Measure(voltage, current, 0));
        return one.Channels[1].Harmonics.SequenceEqual(other.Channels[1].Harmonics) && one.FrequencyHertz == other.FrequencyHertz;
    }

    private static Snapshot Measure(TestWave voltage, TestWave current, double shift) => SnapshotPhasors.Measure(
        TestWave.Recording(3200, voltage.Samples(1280, 3200, shift), current.Samples(1280, 3200, shift)),
        [new(0, SignalKind.Voltage), new(1, SignalKind.Current)], new SnapshotOptions()).Snapshot!;
}
