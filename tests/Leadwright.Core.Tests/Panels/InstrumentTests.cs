using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Panels;

public class InstrumentTests
{
    private static PanelSolution Distorted(ServiceKind service)
    {
        var source = Ideal.Source() with
        {
            Line = new Impedance(0.05, 0.05),
            Neutral = new Impedance(0.05, 0.05),
            Background = new Spectrum(new SpectrumLine(3, 0.01, 20), new SpectrumLine(5, 0.03, 140)),
        };
        PanelLoad single = service == ServiceKind.Wye
            ? PanelLoad.Rectifier(Conductor.B, Conductor.N, 400)
            : PanelLoad.Rectifier(Conductor.B, Conductor.C, 400);
        return new VirtualPanel(service, source, PanelLoad.Linear(service, Ideal.Nominal, 2000, 0.85), single, PanelLoad.Drive(900)).Solve();
    }

    // Energy: what the elements read together is what flows to the load (A. Blondel, 1893), distorted and unbalanced too.
    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.Delta)]
    [InlineData(ServiceKind.DeltaTwoClamp)]
    public void A_right_hook_up_reads_the_power_that_flows_to_the_load(ServiceKind service)
    {
        var solution = Distorted(service);
        Assert.Equal(solution.Watts, Ideal.Watts(Ideal.Read(solution, Ideal.Expected(service))), 1e-8);
    }

    [Fact]
    public void Channels_are_lead_to_lead_on_three_wires_and_lead_to_neutral_elsewhere()
    {
        Assert.Equal(
            [Channel.V12, Channel.V23, Channel.V31, Channel.I1, Channel.I3],
            Ideal.Read(Ideal.Balanced(ServiceKind.DeltaTwoClamp, 0.8), Ideal.Expected(ServiceKind.DeltaTwoClamp)).Channels.Keys);
        Assert.Equal(
            [Channel.V1, Channel.V2, Channel.V3, Channel.I1, Channel.I2, Channel.I3],
            Ideal.Read(Ideal.Balanced(ServiceKind.Wye, 0.8), Ideal.Expected(ServiceKind.Wye)).Channels.Keys);
    }

    [Fact]
    public void A_right_balanced_hook_up_reads_the_textbook_set()
    {
        var readings = Ideal.Read(Ideal.Balanced(ServiceKind.Wye, 0.8), Ideal.Expected(ServiceKind.Wye));
        double[] angles = [0, -120, 120, -36.8699, -156.8699, 83.1301];
        Assert.Equal(angles, readings.Channels.Values.Select(channel => Math.Round(channel.AngleDegrees!.Value, 4)));
        Assert.Equal(12.5, readings.Channels[Channel.I2].Rms!.Value, 1e-9);
        Assert.Equal(750, readings.Phases[2].Vars!.Value, 1e-8);
        Assert.Equal(0.8, readings.Phases[3].PowerFactor!.Value, 1e-12);
    }

    [Fact]
    public void A_neutral_clamp_with_its_arrow_to_the_load_reads_minus_the_sum_of_the_lines()
    {
        var right = Ideal.Expected(ServiceKind.Wye).WithClamps((Clamp.IN, Conductor.N, false));
        var recording = Instrument.Ideal.Sample(Distorted(ServiceKind.Wye).Panel, right, new SamplingPlan(6400, 0.1), 1);
        var (one, two, three, neutral) = (Samples("I1"), Samples("I2"), Samples("I3"), Samples("IN"));
        for (var index = 0; index < one.Length; index++)
            Assert.Equal(0, one[index] + two[index] + three[index] + neutral[index], 1e-9);

        double[] Samples(string name) => recording.Channels.Single(channel => channel.Name == name).Samples.ToArray();
    }

    [Fact]
    public void Conventions_change_signs_and_references_and_nothing_else()
    {
        var solution = Ideal.Balanced(ServiceKind.Wye, 0.8);
        var right = Ideal.Expected(ServiceKind.Wye);
        var lagging = Read(InstrumentDisplay.Everything with { AngleSign = AngleSign.LagPositive });
        Assert.Equal(120, lagging.Channels[Channel.V2].AngleDegrees!.Value, 1e-9);
        Assert.Equal(156.8699, lagging.Channels[Channel.I2].AngleDegrees!.Value, 1e-4);
        Assert.Equal(AngleSign.LagPositive, lagging.AngleSign);

        var own = Read(InstrumentDisplay.Everything with { CurrentAngleReference = CurrentAngleReference.OwnVoltage });
        Assert.All(new[] { Channel.I1, Channel.I2, Channel.I3 }, channel =>
            Assert.Equal(-36.8699, own.Channels[channel].AngleDegrees!.Value, 1e-4));

        var negative = Read(InstrumentDisplay.Everything with { PowerSign = PowerSign.LoadNegative, StatesConventions = false });
        Assert.Equal(-3000, Ideal.Watts(negative), 1e-6);
        Assert.Equal(PowerSign.NotStated, negative.PowerSign);
        Assert.Equal(AngleSign.NotStated, negative.AngleSign);

        PanelReadings Read(InstrumentDisplay display) => (Instrument.Ideal with { Display = display }).Read(solution, right, 1);
    }

    [Fact]
    public void What_is_not_shown_is_not_read()
    {
        var solution = Ideal.Balanced(ServiceKind.Wye, 0.8);
        var readings = (Instrument.Ideal with { Display = InstrumentDisplay.MagnitudesOnly }).Read(solution, Ideal.Expected(ServiceKind.Wye), 1);
        Assert.All(readings.Channels.Values, channel => Assert.Null(channel.AngleDegrees));
        Assert.Empty(readings.Phases);
        Assert.Null(readings.VoltageSumFraction);

        var noAngles = (Instrument.Ideal with { Display = InstrumentDisplay.NoAngles }).Read(solution, Ideal.Expected(ServiceKind.Wye), 1);
        Assert.NotNull(noAngles.Phases[1].Watts);
        Assert.Null(noAngles.Channels[Channel.I1].AngleDegrees);
    }

    [Fact]
    public void A_display_rounds_to_its_digits()
    {
        var solution = Ideal.Balanced(ServiceKind.Wye, 0.8);
        var display = InstrumentDisplay.Everything with { SignificantDigits = 3, AngleDecimals = 0 };
        var readings = (Instrument.Ideal with { Display = display }).Read(solution, Ideal.Expected(ServiceKind.Wye), 1);
        Assert.Equal(173, readings.LineToLineVolts[Channel.V12]);
        Assert.Equal(-37, readings.Channels[Channel.I1].AngleDegrees);
        Assert.Equal(1250, readings.Phases[1].VoltAmperes);
    }

    [Fact]
    public void A_replaying_instrument_shows_one_voltage_three_times()
    {
        var source = Ideal.Source() with { DeviationB = new PhaseDeviation(-0.1, 5) };
        var solution = new VirtualPanel(ServiceKind.Wye, source, PanelLoad.Linear(ServiceKind.Wye, Ideal.Nominal, 3000, 0.8)).Solve();
        var hookup = Ideal.Expected(ServiceKind.Wye);
        hookup = hookup with { Leads = hookup.Leads.Remove(Lead.V2).Remove(Lead.V3) };
        var readings = (Instrument.Ideal with { ReplaysVoltage = true }).Read(solution, hookup, 1);
        Assert.True(readings.IsReplayed);
        Assert.Equal(100, readings.Channels[Channel.V2].Rms!.Value, 1e-9);
        Assert.Equal(-120, readings.Channels[Channel.V2].AngleDegrees!.Value, 1e-9);
        Assert.Equal(120, readings.Channels[Channel.V3].AngleDegrees!.Value, 1e-9);

        // On a supply that turns the other way the second current seems 120 degrees off.
        var turned = (Instrument.Ideal with { ReplaysVoltage = true }).Read(Ideal.Balanced(ServiceKind.Wye, 1, Rotation.Acb), hookup, 1);
        Assert.Equal(120, turned.Channels[Channel.I2].AngleDegrees!.Value, 1e-9);
        Assert.Equal(-120, turned.Channels[Channel.V2].AngleDegrees!.Value, 1e-9);
    }

    [Fact]
    public void Errors_of_inputs_act_as_stated()
    {
        var instrument = Instrument.Ideal with
        {
            LeadErrors = Instrument.Ideal.LeadErrors.Add(Lead.V2, new ChannelError(0.01, 0.5)),
            ClampErrors = Instrument.Ideal.ClampErrors.Add(Clamp.I3, new ChannelError(-0.02, 1)),
        };
        var readings = instrument.Read(Ideal.Balanced(ServiceKind.Wye, 1), Ideal.Expected(ServiceKind.Wye), 1);
        Assert.Equal(101, readings.Channels[Channel.V2].Rms!.Value, 1e-9);
        Assert.Equal(-119.5, readings.Channels[Channel.V2].AngleDegrees!.Value, 1e-9);
        Assert.Equal(9.8, readings.Channels[Channel.I3].Rms!.Value, 1e-9);
        Assert.Equal(121, readings.Channels[Channel.I3].AngleDegrees!.Value, 1e-9);
    }

    [Fact]
    public void Noise_has_its_stated_spread()
    {
        var instrument = Instrument.Ideal with
        {
            ClampRatingAmperes = 100,
            VoltageNoiseFraction = 0.001,
            CurrentNoiseFraction = 0.0005,
            Display = InstrumentDisplay.Everything with { ShowsSpread = true },
        };
        var solution = Ideal.Balanced(ServiceKind.Wye, 1);
        var readings = Enumerable.Range(0, 4000).Select(seed => instrument.Read(solution, Ideal.Expected(ServiceKind.Wye), (ulong)seed)).ToList();
        var volts = readings.Select(reading => reading.Channels[Channel.V2].Rms!.Value - 100).ToList();
        var amperes = readings.Select(reading => reading.Channels[Channel.I2].Rms!.Value - 10).ToList();

        // Standard error of a standard deviation from n values: 1/sqrt(2n), 1.1 %.
        Assert.Equal(0.1, Math.Sqrt(volts.Average(value => value * value)), 0.006);
        Assert.Equal(0.05, Math.Sqrt(amperes.Average(value => value * value)), 0.003);
        Assert.Equal(0.1, readings[0].Channels[Channel.V1].Spread!.Value, 1e-12);
        Assert.Equal(0.05, readings[0].Channels[Channel.I1].Spread!.Value, 1e-12);
    }

    [Fact]
    public void A_clamp_on_nothing_or_on_ground_reads_little_and_a_wrong_range_multiplies()
    {
        var instrument = Instrument.Ideal with { ClampRatingAmperes = 100, OpenClampFraction = 0.003 };
        var hookup = Ideal.Expected(ServiceKind.Wye).WithClamps((Clamp.I1, null, false), (Clamp.I2, Conductor.G, false));
        hookup = hookup with { Clamps = hookup.Clamps.SetItem(Clamp.I3, new ClampPlace(Conductor.C, false, 10)) };
        var readings = instrument.Read(Ideal.Balanced(ServiceKind.Wye, 1), hookup, 5);
        Assert.InRange(readings.Channels[Channel.I1].Rms!.Value, 0.0001, 0.3);
        Assert.Equal(0, readings.Channels[Channel.I2].Rms!.Value);
        Assert.Equal(100, readings.Channels[Channel.I3].Rms!.Value, 1e-9);
    }

    [Fact]
    public void A_clamp_reads_no_more_than_its_overload()
    {
        var instrument = Instrument.Ideal with { ClampRatingAmperes = 5 };
        var readings = instrument.Read(Ideal.Balanced(ServiceKind.Wye, 1), Ideal.Expected(ServiceKind.Wye), 1);
        Assert.Equal(6, readings.Channels[Channel.I1].Rms!.Value, 1e-9);
    }

    [Fact]
    public void A_lead_on_ground_reads_from_there()
    {
        var source = Ideal.Source() with { GroundOffset = new Phasor(2, 0) };
        var solution = new VirtualPanel(ServiceKind.Wye, source).Solve();
        var readings = Ideal.Read(solution, Ideal.Expected(ServiceKind.Wye).WithLeads((Lead.VN, Conductor.G)));
        Assert.Equal(102, readings.Channels[Channel.V1].Rms!.Value, 1e-9);
    }

    [Fact]
    public void A_hook_up_on_a_conductor_that_the_service_lacks_is_refused() =>
        Assert.Contains("conductor N, which a delta service doesn't have", Assert.Throws<ArgumentException>(() => Ideal.Read(
            Ideal.Balanced(ServiceKind.Delta, 1), Ideal.Expected(ServiceKind.Delta).WithClamps((Clamp.I1, Conductor.N, false)))).Message,
            StringComparison.Ordinal);

    // Derived for this project, docs/methods/wrong-connection-effects.md: on a split service exchanged clamps read as both reversed.
    [Fact]
    public void Split_clamps_exchanged_read_the_same_as_both_reversed_when_the_legs_are_alike()
    {
        var nominal = new NominalVoltage(120, 240);
        var solution = Split(nominal, 1200, 1200);
        var right = Ideal.Expected(ServiceKind.Split);
        var exchanged = Ideal.Read(solution, right.WithClamps((Clamp.I1, Conductor.B, false), (Clamp.I2, Conductor.A, false)));
        var reversed = Ideal.Read(solution, right.WithClamps((Clamp.I1, Conductor.A, true), (Clamp.I2, Conductor.B, true)));
        foreach (var channel in exchanged.Channels.Keys)
            Assert.Equal(0, (Ideal.Of(exchanged, channel) - Ideal.Of(reversed, channel)).Magnitude, 1e-9);

        // With unlike legs the total is still the same, the legs are not.
        var unlike = Split(nominal, 1200, 600);
        exchanged = Ideal.Read(unlike, right.WithClamps((Clamp.I1, Conductor.B, false), (Clamp.I2, Conductor.A, false)));
        Assert.Equal(-1800, Ideal.Watts(exchanged), 1e-8);
        Assert.Equal(-600, exchanged.Phases[1].Watts!.Value, 1e-8);

        static PanelSolution Split(NominalVoltage nominal, double a, double b) => new VirtualPanel(
            ServiceKind.Split,
            Ideal.Source(nominal),
            PanelLoad.SinglePhase(nominal, Conductor.A, a, 0.9),
            PanelLoad.SinglePhase(nominal, Conductor.B, b, 0.9)).Solve();
    }
}
