using Leadwright.Core.Circuits;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Panels;

public class SamplerTests
{
    /// <summary>The rms phasor of one frequency by the plain sum that defines the discrete Fourier transform.</summary>
    /// <param name="samples">Whole cycles.</param>
    /// <param name="cycles">Cycles in them.</param>
    internal static Phasor Transform(ReadOnlySpan<double> samples, int cycles)
    {
        var sum = Phasor.Zero;
        for (var index = 0; index < samples.Length; index++)
            sum += samples[index] * Phasor.FromRadians(1, -2 * Math.PI * ((long)cycles * index % samples.Length) / samples.Length);
        return (Math.Sqrt(2) / samples.Length) * sum;
    }

    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.Delta)]
    [InlineData(ServiceKind.DeltaTwoClamp)]
    [InlineData(ServiceKind.Split)]
    [InlineData(ServiceKind.Single)]
    public void Samples_transform_back_into_what_the_instrument_reads(ServiceKind service)
    {
        foreach (var drawn in new PanelPopulation { Service = service, Family = LoadFamily.Distorted, Seed = 4, HasNeutralClamp = true }.Cases(12))
        {
            // On the nominal frequency, so that the window holds whole cycles; without noise; the errors of inputs stay.
            var frequency = drawn.Panel.Source.NominalFrequencyHertz;
            var panel = new VirtualPanel(service, drawn.Panel.Source with { FrequencyHertz = frequency }, drawn.Panel.Loads);
            // Beyond its range a clamp's wave is cut, which a screen's value does not show.
            var instrument = drawn.Instrument with
            {
                OverloadFactor = 10,
                VoltageNoiseFraction = 0,
                CurrentNoiseFraction = 0,
                SampleNoiseFraction = 0,
                Display = InstrumentDisplay.Everything,
            };
            var cycles = (int)frequency / 5;
            var readings = instrument.Read(panel.Solve(), drawn.Truth, 9);
            var recording = instrument.Sample(panel, drawn.Truth, new SamplingPlan(128 * frequency, 0.2), 9);
            Assert.Equal(readings.Channels.Keys.Select(channel => channel.ToString()), recording.Channels.Select(channel => channel.Name));
            Assert.Equal(frequency, recording.LineFrequencyHertz);

            var reference = double.NaN;
            foreach (var (channel, reading) in readings.Channels)
            {
                var samples = recording.Channels.Single(sampled => sampled.Name == channel.ToString()).Samples.Span;
                var phasor = Transform(samples, cycles);
                var square = 0.0;
                foreach (var sample in samples) square += sample * sample;
                Assert.Equal(reading.Rms!.Value, Math.Sqrt(square / samples.Length), 1e-9 * (1 + reading.Rms.Value));
                if (phasor.Magnitude < 1e-6) continue;
                if (double.IsNaN(reference)) reference = phasor.AngleDegrees - reading.AngleDegrees!.Value;
                Assert.Equal(0, Angle.WrapDegrees(phasor.AngleDegrees - reference - reading.AngleDegrees!.Value), 1e-6);
            }
        }
    }

    [Fact]
    public void A_load_that_switches_moves_the_current_and_the_voltage_of_its_own_phase_at_that_sample()
    {
        var source = Ideal.Source() with { Line = new Impedance(0.05, 0.05) };
        var load = PanelLoad.SinglePhase(Ideal.Nominal, Conductor.B, 1000, 1).Switched(new LoadSchedule(false, [0.5]));
        var panel = new VirtualPanel(ServiceKind.Wye, source, load);
        var recording = Instrument.Ideal.Sample(panel, Ideal.Expected(ServiceKind.Wye), new SamplingPlan(5000, 1), 1);
        Assert.All(Of("I2")[..2500].ToArray(), sample => Assert.Equal(0, sample, 1e-12));
        Assert.True(Math.Abs(Of("I2")[2501]) > 1e-3 && Math.Abs(Of("I2")[2525]) > 1);

        // The step of voltage over the step of current is minus the impedance of the source, line and no neutral.
        var before = Transform(Of("V2")[..2500], 25);
        var after = Transform(Of("V2")[2500..], 25);
        var ratio = (after - before) / Transform(Of("I2")[2500..], 25);
        Assert.Equal(-0.05, ratio.Real, 1e-6);
        Assert.Equal(-0.05, ratio.Imaginary, 1e-6);

        ReadOnlySpan<double> Of(string name) => recording.Channels.Single(channel => channel.Name == name).Samples.Span;
    }

    [Fact]
    public void A_frequency_off_nominal_keeps_its_phase_over_a_long_recording()
    {
        var source = Ideal.Source() with { FrequencyHertz = 50.2, NominalFrequencyHertz = 50 };
        var panel = new VirtualPanel(ServiceKind.Wye, source);
        var recording = Instrument.Ideal.Sample(panel, Ideal.Expected(ServiceKind.Wye), new SamplingPlan(1000, 100), 1);
        var samples = recording.Channels[0].Samples.Span;
        for (var index = 0; index < samples.Length; index += 997)
            Assert.Equal(Math.Sqrt(2) * 100 * Math.Cos(2 * Math.PI * (50.2 * index / 1000 % 1)), samples[index], 1e-7);
    }

    [Fact]
    public void A_change_of_the_supply_lifts_all_voltages_and_wandering_moves_each_for_itself()
    {
        var source = Ideal.Source() with { History = new SupplyHistory([new SupplyChange(1, 0.02)]) };
        var recording = Instrument.Ideal.Sample(new VirtualPanel(ServiceKind.Wye, source), Ideal.Expected(ServiceKind.Wye), new SamplingPlan(1000, 2), 1);
        foreach (var channel in recording.Channels.Where(channel => channel.Unit == "V"))
        {
            Assert.Equal(100, Transform(channel.Samples.Span[..1000], 50).Magnitude, 1e-6);
            Assert.Equal(102, Transform(channel.Samples.Span[1000..], 50).Magnitude, 1e-6);
        }

        source = source with { History = new SupplyHistory([], 0.001) };
        recording = Instrument.Ideal.Sample(new VirtualPanel(ServiceKind.Wye, source), Ideal.Expected(ServiceKind.Wye), new SamplingPlan(1000, 400), 1);
        var deviations = recording.Channels.Where(channel => channel.Unit == "V").SelectMany(channel =>
            Enumerable.Range(0, 2000).Select(window => (Transform(channel.Samples.Span.Slice(200 * window, 200), 10).Magnitude / 100) - 1)).ToList();

        // 6,000 values of an autoregression with coefficient 0.9: about 630 independent ones for a variance; 3 % standard error.
        Assert.Equal(0.001, Math.Sqrt(deviations.Average(value => value * value)), 0.00015);
    }

    [Fact]
    public void The_same_seed_gives_the_same_bits_and_another_seed_others()
    {
        var drawn = new PanelPopulation { Service = ServiceKind.Wye, Seed = 2 }.Case(3);
        var plan = new SamplingPlan(6400, 0.5);
        var (once, again) = (drawn.Samples(plan, 4), new PanelPopulation { Service = ServiceKind.Wye, Seed = 2 }.Case(3).Samples(plan, 4));
        Assert.All(once.Channels.Zip(again.Channels), pair =>
            Assert.True(pair.First.Samples.Span.SequenceEqual(pair.Second.Samples.Span), pair.First.Name));
        var other = new PanelPopulation { Service = ServiceKind.Wye, Seed = 3 }.Case(3).Samples(plan, 4);
        Assert.False(once.Channels[0].Samples.Span.SequenceEqual(other.Channels[0].Samples.Span));
    }

    [Fact]
    public void A_plan_without_samples_is_refused() =>
        Assert.Contains("above zero", Assert.Throws<ArgumentException>(() => Instrument.Ideal.Sample(
            new VirtualPanel(ServiceKind.Wye, Ideal.Source()), Ideal.Expected(ServiceKind.Wye), default, 1)).Message, StringComparison.Ordinal);
}
