using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Panels;

public class PanelPopulationTests
{
    private static readonly Conductor[] s_lines = [Conductor.A, Conductor.B, Conductor.C];

    [Theory]
    [MemberData(nameof(VirtualPanelTests.Sites), MemberType = typeof(VirtualPanelTests))]
    public void The_same_seed_and_number_give_the_same_case_in_any_order(ServiceKind service, LoadFamily family)
    {
        var population = new PanelPopulation { Service = service, Family = family, Seed = 5, VariesDisplay = true, VariesConventions = true };
        var forward = population.Cases(12).ToList();
        for (var index = 11; index >= 0; index--)
        {
            var again = population.Case(index);
            Assert.Equal(forward[index].Truth, again.Truth);
            Assert.Equal(forward[index].Readings.Channels, again.Readings.Channels);
            Assert.Equal(forward[index].Readings.Phases, again.Readings.Phases);
        }

        Assert.NotEqual(forward[0].Readings.Channels, (population with { Seed = 6 }).Case(0).Readings.Channels);
    }

    [Theory]
    [MemberData(nameof(VirtualPanelTests.Sites), MemberType = typeof(VirtualPanelTests))]
    public void Voltages_of_every_site_stay_within_healthy_bounds(ServiceKind service, LoadFamily family)
    {
        var population = new PanelPopulation { Service = service, Family = family, Faults = FaultStyle.None };
        foreach (var @case in population.Cases(100))
        {
            var nominal = @case.Panel.Source.Nominal.LineToNeutralVolts;
            var solution = @case.Panel.Solve();
            foreach (var line in s_lines.Where(Service.Of(service).Conductors.Contains))
            {
                var expected = service == ServiceKind.HighLeg && line == @case.HighLeg ? Math.Sqrt(3) : 1;
                Assert.InRange((solution.Potential(line) - solution.Potential(Conductor.N)).Magnitude / nominal / expected, 0.86, 1.12);
            }

            Assert.True(@case.Truth.IsRight);
            Assert.Empty(@case.Slips);
        }
    }

    [Theory]
    [InlineData(LoadFamily.Ordinary, 0.75, 0.99, 0.01)]
    [InlineData(LoadFamily.Motors, 0.5, 0.9, 0.015)]
    [InlineData(LoadFamily.Leading, 0.7, 0.98, 0.02)]
    public void Loads_keep_the_power_factors_of_their_family(LoadFamily family, double lowest, double highest, double slack)
    {
        // Slack: motors answer to the unbalance of the supply, and impedances to its level.
        var factors = new List<double>();
        foreach (var @case in new PanelPopulation { Service = ServiceKind.Wye, Family = family, Faults = FaultStyle.None }.Cases(300))
        {
            var solution = @case.Panel.Solve();
            var power = s_lines.Aggregate(Phasor.Zero, (sum, line) =>
                sum + ((solution.Potential(line) - solution.Potential(Conductor.N)) * solution.Current(line).Conjugate));
            Assert.Equal(family == LoadFamily.Leading, power.Imaginary < 0);
            factors.Add(power.Real / power.Magnitude);
        }

        Assert.All(factors, factor => Assert.InRange(factor, lowest - slack, highest + slack));
        Assert.True(factors.Max() - factors.Min() > 0.8 * (highest - lowest), "The family must fill its range.");
    }

    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.Split)]
    [InlineData(ServiceKind.Single)]
    public void Export_sends_power_back_in_at_least_one_line_and_is_declared(ServiceKind service)
    {
        foreach (var @case in new PanelPopulation { Service = service, Family = LoadFamily.Export, Faults = FaultStyle.None }.Cases(100))
        {
            Assert.Contains(@case.Readings.Phases.Values, phase => phase.Watts < 0);
            Assert.True(@case.Options.MayExport);
        }
    }

    [Fact]
    public void Light_loads_stay_near_the_noise_and_unbalanced_ones_have_a_weak_phase()
    {
        foreach (var @case in new PanelPopulation { Service = ServiceKind.Wye, Family = LoadFamily.Light, Faults = FaultStyle.None }.Cases(100))
            Assert.All(s_lines, line => Assert.InRange(@case.Panel.Solve().Current(line).Magnitude / @case.Instrument.ClampRatingAmperes, 0.0005, 0.025));
        foreach (var @case in new PanelPopulation { Service = ServiceKind.Wye, Family = LoadFamily.Unbalanced, Faults = FaultStyle.None }.Cases(100))
        {
            var currents = s_lines.Select(line => @case.Panel.Solve().Current(line).Magnitude).Order().ToArray();
            Assert.InRange(currents[0] / currents[1], 0.03, 0.4);
        }
    }

    [Fact]
    public void Slips_leave_about_half_of_the_panels_right_and_use_every_kind()
    {
        var cases = new PanelPopulation { Service = ServiceKind.Wye, HasNeutralClamp = true }.Cases(2000).ToList();
        Assert.InRange(cases.Count(@case => @case.Truth.IsRight), 930, 1080);
        Assert.Equal(Enum.GetValues<SlipKind>().Length, cases.SelectMany(@case => @case.Slips).Distinct().Count());
        Assert.Equal([0, 1, 2, 3], cases.Select(@case => @case.Slips.Length).Distinct().Order());
        Assert.All(cases, @case => Assert.True(@case.Slips.Length > 0 || @case.Truth.IsRight));
        Assert.All(
            cases.SelectMany(@case => @case.Truth.Clamps.Values).Where(place => place.On is null),
            place => Assert.Equal(new ClampPlace(null, false, 1), place));
    }

    [Theory]
    [InlineData(ServiceKind.Wye, 48)]
    [InlineData(ServiceKind.Delta, 48)]
    [InlineData(ServiceKind.DeltaTwoClamp, 8)]
    [InlineData(ServiceKind.Split, 8)]
    [InlineData(ServiceKind.Single, 2)]
    public void Uniform_hook_ups_reach_every_arrangement_of_clamps_equally_often(ServiceKind service, int count)
    {
        var population = new PanelPopulation { Service = service, Faults = FaultStyle.Uniform48 };
        var truths = population.Cases(100 * count).Select(@case => @case.Truth).ToList();
        var expected = Ideal.Expected(service);
        Assert.All(truths, truth => Assert.Equal(expected.Leads, truth.Leads));
        var counts = truths.CountBy(truth => truth).Select(pair => pair.Value).ToList();
        Assert.Equal(count, counts.Count);
        Assert.All(counts, number => Assert.InRange(number, 55, 150));
    }

    [Fact]
    public void Another_style_of_fault_keeps_the_site()
    {
        var population = new PanelPopulation { Service = ServiceKind.Wye };
        var (slips, uniform) = (population.Case(3), (population with { Faults = FaultStyle.Uniform48 }).Case(3));
        Assert.Equal(slips.Panel.Source, uniform.Panel.Source);
        Assert.Equal(slips.Panel.Solve().Current(Conductor.B), uniform.Panel.Solve().Current(Conductor.B));
    }

    [Fact]
    public void Displays_and_conventions_vary_only_when_asked_to()
    {
        var plain = new PanelPopulation { Service = ServiceKind.Wye }.Cases(50).Select(@case => @case.Readings).ToList();
        Assert.All(plain, readings =>
        {
            Assert.NotNull(readings.Channels[Channel.V1].AngleDegrees);
            Assert.Equal(AngleSign.LeadPositive, readings.AngleSign);
            Assert.Equal(3, readings.Phases.Count);
        });
        var varied = new PanelPopulation { Service = ServiceKind.Wye, VariesDisplay = true, VariesConventions = true }
            .Cases(300).Select(@case => @case.Readings).ToList();
        Assert.Contains(varied, readings => readings.Channels[Channel.V1].AngleDegrees is null);
        Assert.Contains(varied, readings => readings.Phases.IsEmpty);
        Assert.Contains(varied, readings => readings.AngleSign == AngleSign.LagPositive);
        Assert.Contains(varied, readings => readings.CurrentAngleReference == CurrentAngleReference.OwnVoltage);
        Assert.Contains(varied, readings => readings.PowerSign == PowerSign.LoadNegative);
    }

    [Fact]
    public void Rotation_is_told_only_when_asked_to_and_turns_backward_at_the_stated_share()
    {
        var population = new PanelPopulation { Service = ServiceKind.Delta, ReversedRotationShare = 0.3, TellsRotation = true };
        var cases = population.Cases(1000).ToList();
        Assert.InRange(cases.Count(@case => @case.Rotation == Rotation.Acb), 240, 360);
        Assert.All(cases, @case => Assert.Equal(@case.Rotation, @case.Options.ToldRotation));
        Assert.Equal(Rotation.Unknown, (population with { TellsRotation = false }).Case(0).Options.ToldRotation);
    }
}
