using Leadwright.Core.Circuits;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Panels;

public class VirtualPanelTests
{
    private static readonly Conductor[] s_all = [Conductor.A, Conductor.B, Conductor.C, Conductor.N];

    public static TheoryData<ServiceKind, LoadFamily> Sites()
    {
        var data = new TheoryData<ServiceKind, LoadFamily>();
        foreach (var service in Enum.GetValues<ServiceKind>())
            foreach (var family in Enum.GetValues<LoadFamily>())
                data.Add(service, family);
        return data;
    }

    // Kirchhoff's laws and Ohm's law: any textbook.
    [Theory]
    [MemberData(nameof(Sites))]
    public void Currents_sum_to_zero_and_drop_the_voltage_across_the_source_impedance_at_every_order(ServiceKind service, LoadFamily family)
    {
        foreach (var @case in new PanelPopulation { Service = service, Family = family, Seed = 17 }.Cases(20))
        {
            var source = @case.Panel.Source;
            var solution = @case.Panel.Solve();
            var unloaded = new VirtualPanel(service, source).Solve();
            var scale = s_all.Max(conductor => solution.Current(conductor).Magnitude);
            foreach (var order in solution.Orders)
            {
                var sum = s_all.Aggregate(Phasor.Zero, (total, conductor) => total + solution.Current(conductor, order));
                Assert.Equal(0, sum.Magnitude / scale, 1e-10);
                foreach (var conductor in s_all)
                {
                    var impedance = conductor == Conductor.N ? source.Neutral : source.Line;
                    var drop = impedance.AtOrder(order) * solution.Current(conductor, order);
                    var expected = unloaded.Potential(conductor, order) - drop;
                    Assert.Equal(0, (solution.Potential(conductor, order) - expected).Magnitude / source.Nominal.LineToNeutralVolts, 1e-10);
                }
            }
        }
    }

    [Theory]
    [InlineData(ServiceKind.Delta)]
    [InlineData(ServiceKind.DeltaTwoClamp)]
    public void On_three_wires_nothing_flows_in_a_neutral(ServiceKind service)
    {
        foreach (var @case in new PanelPopulation { Service = service, Family = LoadFamily.Unbalanced }.Cases(20))
        {
            var solution = @case.Panel.Solve();
            Assert.Equal(Phasor.Zero, solution.Current(Conductor.N));
            Assert.Equal(Phasor.Zero, solution.Potential(Conductor.N));
        }
    }

    [Fact]
    public void A_heater_behind_an_impedance_gets_the_voltage_of_the_divider()
    {
        // 10 ohm at 100 V: 1 kW; line 0.3 + j0.4, neutral 0.2: V = 100·10 / (10.5 + j0.4).
        var source = Ideal.Source() with { Line = new Impedance(0.3, 0.4), Neutral = new Impedance(0.2, 0) };
        var solution = new VirtualPanel(
            ServiceKind.Wye, source, PanelLoad.SinglePhase(Ideal.Nominal, Conductor.A, 1000, 1)).Solve();
        var expected = new Phasor(1000, 0) / new Phasor(10.5, 0.4);
        var volts = solution.Potential(Conductor.A) - solution.Potential(Conductor.N);
        Assert.Equal(expected.Real, volts.Real, 1e-10);
        Assert.Equal(expected.Imaginary, volts.Imaginary, 1e-10);
        Assert.Equal(0.2 * expected.Magnitude / 10, solution.Potential(Conductor.N).Magnitude, 1e-10);
        Assert.Equal(-solution.Current(Conductor.A), solution.Current(Conductor.N));
    }

    [Fact]
    public void A_load_of_constant_power_takes_its_power_at_the_voltage_there_is()
    {
        var source = Ideal.Source() with { Line = new Impedance(0.05, 0.1), DeviationB = new PhaseDeviation(-0.03, 2) };
        var panel = new VirtualPanel(
            ServiceKind.Wye,
            source,
            PanelLoad.Generation(Conductor.A, Conductor.N, 700, 100),
            PanelLoad.Generation(ServiceKind.Wye, 900));
        Assert.Equal(-1600, panel.Solve().Watts, 1e-8);
    }

    [Fact]
    public void Export_raises_the_voltage_and_load_lowers_it()
    {
        var source = Ideal.Source() with { Line = new Impedance(0.1, 0) };
        Assert.True(Volts(PanelLoad.Generation(ServiceKind.Wye, 3000)) > 100.5);
        Assert.True(Volts(PanelLoad.Linear(ServiceKind.Wye, Ideal.Nominal, 3000, 1)) < 99.5);

        double Volts(PanelLoad load) => new VirtualPanel(ServiceKind.Wye, source, load).Solve().Potential(Conductor.A).Magnitude;
    }

    [Theory]
    [InlineData(Rotation.Abc)]
    [InlineData(Rotation.Acb)]
    public void A_motor_takes_six_times_the_voltage_unbalance_as_current_unbalance_and_no_neutral_current(Rotation rotation)
    {
        var source = Ideal.Source(rotation: rotation) with { DeviationA = new PhaseDeviation(0.03, 0) };
        var solution = new VirtualPanel(ServiceKind.Wye, source, PanelLoad.Motor(Ideal.Nominal, 3000, 0.8)).Solve();
        var turn = rotation == Rotation.Abc ? -120 : 120;

        // A rise of 3 % on one phase alone: V1 = 1.01, V2 = V0 = 0.01.
        var voltageUnbalance = 0.01 / 1.01;
        Phasor Component(double degrees) => (solution.Current(Conductor.A)
            + solution.Current(Conductor.B).TurnedByDegrees(-degrees) + solution.Current(Conductor.C).TurnedByDegrees(degrees)) / 3;
        var currentUnbalance = Component(-turn).Magnitude / Component(turn).Magnitude;

        // Per unit of the drawn volt-amperes at nominal voltage: I1 = 1/1.01, I2 = 6 × 0.01.
        Assert.Equal(6 * 1.01 * 1.01 * voltageUnbalance, currentUnbalance, 1e-9);
        Assert.Equal(0, solution.Current(Conductor.N).Magnitude, 1e-9);
    }

    [Fact]
    public void The_third_harmonic_of_a_rectifier_crests_with_its_voltage_and_adds_up_in_the_neutral()
    {
        var panel = new VirtualPanel(
            ServiceKind.Wye,
            Ideal.Source(),
            PanelLoad.Rectifier(Conductor.A, Conductor.N, 500, 0),
            PanelLoad.Rectifier(Conductor.B, Conductor.N, 500, 0),
            PanelLoad.Rectifier(Conductor.C, Conductor.N, 500, 0));
        var solution = panel.Solve();
        Assert.Equal(0, solution.Current(Conductor.N).Magnitude, 1e-9);
        foreach (var line in new[] { Conductor.A, Conductor.B, Conductor.C })
        {
            var expected = 3 * solution.Potential(line).AngleDegrees;
            Assert.Equal(0, Angle.WrapDegrees(solution.Current(line, 3).AngleDegrees - expected), 1e-9);
            Assert.Equal(0.78 * 5, solution.Current(line, 3).Magnitude, 1e-9);
        }

        Assert.Equal(3 * 0.78 * 5, solution.Current(Conductor.N, 3).Magnitude, 1e-9);
    }

    [Theory]
    [InlineData(Rotation.Abc, 120)]
    [InlineData(Rotation.Acb, -120)]
    public void The_5th_harmonic_of_a_drive_turns_backward_and_the_7th_forward(Rotation rotation, double turn)
    {
        var solution = new VirtualPanel(ServiceKind.Delta, Ideal.Source(rotation: rotation), PanelLoad.Drive(3000)).Solve();
        Assert.Equal(turn, Step(5), 1e-9);
        Assert.Equal(-turn, Step(7), 1e-9);

        double Step(int order) => Angle.WrapDegrees(
            solution.Current(Conductor.B, order).AngleDegrees - solution.Current(Conductor.A, order).AngleDegrees);
    }

    [Theory]
    [InlineData(3, 0)]
    [InlineData(5, 120)]
    [InlineData(7, -120)]
    public void Background_distortion_has_the_sequence_of_its_order(int order, double step)
    {
        var source = Ideal.Source() with { Background = new Spectrum(new SpectrumLine(order, 0.02, 25)) };
        var solution = new VirtualPanel(ServiceKind.Wye, source).Solve();
        Assert.Equal(2, solution.Potential(Conductor.B, order).Magnitude, 1e-9);
        Assert.Equal(step, Angle.WrapDegrees(
            solution.Potential(Conductor.B, order).AngleDegrees - solution.Potential(Conductor.A, order).AngleDegrees), 1e-9);
    }

    [Fact]
    public void A_capacitor_draws_harmonic_current_in_proportion_to_the_order()
    {
        var source = Ideal.Source() with { Background = new Spectrum(new SpectrumLine(5, 0.02, 0)) };
        var solution = new VirtualPanel(
            ServiceKind.Wye, source, PanelLoad.CapacitorBank(ServiceKind.Wye, Ideal.Nominal, 3000)).Solve();
        Assert.Equal(10, solution.Current(Conductor.A).Magnitude, 1e-9);
        Assert.Equal(90, (solution.Current(Conductor.A) / solution.Potential(Conductor.A)).AngleDegrees, 1e-9);
        Assert.Equal(10 * 5 * 0.02, solution.Current(Conductor.A, 5).Magnitude, 1e-9);
    }

    [Fact]
    public void The_neutral_stands_above_ground_by_the_offset_and_the_drop_of_its_own_current()
    {
        var source = Ideal.Source() with { Neutral = new Impedance(0.2, 0), GroundOffset = new Phasor(1.5, 0) };
        var solution = new VirtualPanel(
            ServiceKind.Wye, source, PanelLoad.SinglePhase(Ideal.Nominal, Conductor.A, 1000, 1)).Solve();
        var toGround = solution.Potential(Conductor.N) - solution.Potential(Conductor.G);
        Assert.Equal(1.5 + (0.2 * 100 / 10.2), toGround.Real, 1e-9);
    }

    [Fact]
    public void Legs_of_a_split_service_stand_half_a_cycle_apart_and_the_neutral_returns_the_difference()
    {
        var nominal = new NominalVoltage(120, 240);
        var solution = new VirtualPanel(
            ServiceKind.Split,
            Ideal.Source(nominal),
            PanelLoad.SinglePhase(nominal, Conductor.A, 1200, 1),
            PanelLoad.SinglePhase(nominal, Conductor.B, 600, 1),
            PanelLoad.LineToLine(ServiceKind.Split, nominal, Conductor.A, Conductor.B, 2400, 1)).Solve();
        Assert.Equal(-solution.Potential(Conductor.A).Real, solution.Potential(Conductor.B).Real, 1e-9);
        Assert.Equal(20, solution.Current(Conductor.A).Real, 1e-9);
        Assert.Equal(-15, solution.Current(Conductor.B).Real, 1e-9);
        Assert.Equal(-5, solution.Current(Conductor.N).Real, 1e-9);
    }

    [Fact]
    public void A_load_is_on_from_one_switching_to_the_next()
    {
        var load = PanelLoad.SinglePhase(Ideal.Nominal, Conductor.A, 1000, 1).Switched(new LoadSchedule(false, [1, 2]));
        var panel = new VirtualPanel(ServiceKind.Wye, Ideal.Source(), load);
        Assert.Equal([0, 0, 1000, 1000, 0], new[] { 0, 0.999, 1, 1.999, 2 }.Select(time => Math.Round(panel.Solve(time).Watts, 6)));
    }

    [Fact]
    public void A_load_on_a_conductor_that_the_service_lacks_is_refused()
    {
        var error = Assert.Throws<ArgumentException>(() => new VirtualPanel(
            ServiceKind.Delta, Ideal.Source(), PanelLoad.SinglePhase(Ideal.Nominal, Conductor.A, 1000, 1)));
        Assert.Contains("conductor N, which a Delta service doesn't have", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_supply_too_weak_for_its_loads_is_said_to_collapse()
    {
        var source = Ideal.Source() with { Line = new Impedance(5, 5) };
        var panel = new VirtualPanel(ServiceKind.Wye, source, PanelLoad.Motor(Ideal.Nominal, 9000, 0.8));
        Assert.Contains("voltage collapses", Assert.Throws<InvalidOperationException>(() => panel.Solve()).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1.2)]
    [InlineData(double.NaN)]
    public void A_power_factor_outside_its_range_is_refused(double powerFactor) =>
        Assert.Contains("power factor", Assert.Throws<ArgumentOutOfRangeException>(
            () => PanelLoad.Motor(Ideal.Nominal, 1000, powerFactor)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_spectrum_with_orders_out_of_order_is_refused() =>
        Assert.Contains("ascend", Assert.Throws<ArgumentException>(
            () => new Spectrum(new SpectrumLine(5, 0.1, 0), new SpectrumLine(3, 0.1, 0))).Message, StringComparison.Ordinal);
}
