using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Signals;

namespace Leadwright.Core.Tests.Signals;

/// <summary>Open recordings that nobody in this project made; sources in the README beside each.</summary>
public sealed class RealRecordingsTests
{
    [Theory]
    [InlineData("SC_HLT_001", 2.0279, 1.8815, 2.0465, 1.981, 0.034, 0.119)]
    [InlineData("SC_HLT_002", 1.9714, 1.9582, 1.9761, 1.965, 0.062, 0.070)]
    [InlineData("SC_A1_B0_C0_001", 2.1552, 2.1261, 1.9351, 2.061, 0.204, 0.126)]
    [InlineData("SC_A4_B0_C0_001", 2.9411, 3.1014, 2.0646, 2.666, 0.630, 0.080)]
    [InlineData("SC_A0_B2_C0_001", 1.9584, 2.3265, 2.7095, 2.306, 0.439, 0.129)]
    [InlineData("SC_A0_B0_C3_001", 2.7240, 1.8885, 2.8264, 2.443, 0.596, 0.038)]
    public void Motor_currents_match_the_independent_figures(
        string file, double rmsA, double rmsB, double rmsC, double positive, double negative, double zero)
    {
        var columns = Columns($"data/waveform/motor/{file}.csv", header: false);
        var recording = TestWave.Recording(1000, columns) with { LineFrequencyHertz = 60 };
        var snapshot = SnapshotPhasors.Measure(
            recording, [.. Enumerable.Range(0, 3).Select(index => new SignalChoice(index, SignalKind.Current))], new SnapshotOptions()).Snapshot!;

        Assert.Equal(FrequencyOrigin.Measured, snapshot.FrequencyOrigin);
        Assert.Equal(60, snapshot.FrequencyHertz, 0.1);
        Assert.Equal(7, snapshot.Channels[0].Harmonics.Length);
        // The figures are over 57 cycles at exactly 60 Hz; the real frequency is up to 0.04 Hz off and the window differs a little.
        foreach (var (channel, rms) in snapshot.Channels.Zip([rmsA, rmsB, rmsC])) Assert.Equal(1, channel.TrueRms / rms, 3e-3);
        var components = SequenceComponents.Of(
            snapshot.Channels[0].Phasor, snapshot.Channels[1].Phasor, snapshot.Channels[2].Phasor);
        Assert.Equal(positive, components.Positive.Magnitude, 0.006);
        Assert.Equal(negative, components.Negative.Magnitude, 0.006);
        Assert.Equal(zero, components.Zero.Magnitude, 0.006);
        Assert.True(components.ZeroRatio < 0.07, "Three line currents of a three-wire motor add up to nearly nothing.");
    }

    // The rate is not given; these files hold some 60 to 78 samples a cycle of 50 Hz.
    [Theory]
    [InlineData(3000)]
    [InlineData(3400)]
    [InlineData(3900)]
    public void An_input_driven_over_its_range_is_called_clipped_and_its_idle_clamp_dead(double rate)
    {
        var snapshot = Counts("data/waveform/adc/voltage-over-range.csv", rate);
        Assert.True(snapshot.Channels[0].IsClipped);
        Assert.False(snapshot.Channels[0].IsDead);
        Assert.True(snapshot.Channels[1].IsDead);
        Assert.False(snapshot.Channels[1].IsClipped);
    }

    [Fact]
    public void Inputs_at_which_nothing_arrives_are_called_dead()
    {
        // 51 pairs: at this rate just one cycle.
        var snapshot = Counts("data/waveform/adc/voltage-lead-dead.csv", 2550);
        Assert.All(snapshot.Channels, channel => Assert.True(channel.IsDead));
        Assert.All(snapshot.Channels, channel => Assert.False(channel.IsClipped));
    }

    private static Snapshot Counts(string file, double rate) => SnapshotPhasors.Measure(
        TestWave.Recording(rate, Columns(file, header: true)) with { LineFrequencyHertz = 50 },
        [new(0, SignalKind.Voltage), new(1, SignalKind.Current)], new SnapshotOptions()).Snapshot!;

    private static double[][] Columns(string file, bool header)
    {
        var rows = File.ReadAllLines(RepositoryFile.Path(file)).Skip(header ? 1 : 0).Where(line => line.Length > 0)
            .Select(line => line.Split(',').Select(cell => double.Parse(cell, CultureInfo.InvariantCulture)).ToArray()).ToArray();
        return [.. Enumerable.Range(0, rows[0].Length).Select(column => rows.Select(row => row[column]).ToArray())];
    }
}
