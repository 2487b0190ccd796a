using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Panels;

namespace Leadwright.Core.Tests.Hookups;

public class HighLegTests
{
    private static readonly NominalVoltage s_nominal = new(120, 240);

    /// <summary>The place of the high leg, and the rotation.</summary>
    public static TheoryData<Conductor, Rotation> Supplies => new()
    {
        { Conductor.A, Rotation.Abc }, { Conductor.B, Rotation.Abc }, { Conductor.C, Rotation.Abc },
        { Conductor.B, Rotation.Acb }, { Conductor.C, Rotation.Acb },
    };

    [Theory]
    [MemberData(nameof(Supplies))]
    public void A_high_leg_anywhere_with_leads_in_order_is_no_fault(Conductor highLeg, Rotation rotation)
    {
        var verdict = HookupCheck.Judge(Read(Panel(highLeg, rotation), Right), new CheckOptions { ToldRotation = rotation });
        Assert.Equal(Verdict.Correct, verdict.Verdict);
        Assert.Equal(highLeg, verdict.Best.HighLeg);
        Assert.Equal(rotation, verdict.Best.Rotation);
        Assert.Empty(verdict.Services);
    }

    [Theory]
    [InlineData(Clamp.I1)]
    [InlineData(Clamp.I2)]
    [InlineData(Clamp.I3)]
    public void A_reversed_clamp_is_named(Clamp clamp)
    {
        var verdict = HookupCheck.Judge(
            Read(Panel(Conductor.B), Right.WithClamps((clamp, Service.HomeOf(clamp), true))), new CheckOptions());
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        var fault = Assert.Single(verdict.Best.Faults);
        Assert.Equal((FaultKind.ClampReversed, clamp), (fault.Kind, fault.Clamps.Single()));
    }

    [Fact]
    public void Leads_of_the_high_leg_and_another_exchanged_are_told_from_a_high_leg_elsewhere_by_the_clamps()
    {
        var hookup = Right.WithLeads((Lead.V2, Conductor.C), (Lead.V3, Conductor.B));
        var verdict = HookupCheck.Judge(Read(Panel(Conductor.B), hookup), new CheckOptions());
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Equal(FaultKind.LeadsExchanged, Assert.Single(verdict.Best.Faults).Kind);
        Assert.Equal(Conductor.B, verdict.Best.HighLeg);

        // Clamps exchanged on a supply whose high leg is C read the same and are named so.
        Assert.Contains(verdict.Best.SameReading, same => same.HighLeg == Conductor.C && same.Hookup.Leads.All(lead => lead.Value == Service.HomeOf(lead.Key)));
    }

    [Fact]
    public void An_open_neutral_lead_shows_as_three_equal_voltages()
    {
        var readings = Read(Panel(Conductor.B), Right.WithLeads((Lead.VN, null)));

        // The star of the inputs is the centre of the lines: 240 V over root three.
        Assert.All(new[] { Channel.V1, Channel.V2, Channel.V3 }, channel => Assert.Equal(138.6, readings.Channels[channel].Rms!.Value, 3.0));
        var verdict = HookupCheck.Judge(readings, new CheckOptions());
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Equal(FaultKind.NeutralOpen, Assert.Single(verdict.Best.Faults).Kind);
    }

    [Fact]
    public void Single_phase_load_on_the_legs_and_three_phase_load_alone_are_both_right()
    {
        PanelLoad[] single =
        [
            PanelLoad.SinglePhase(s_nominal, Conductor.A, 4_000, 0.95), PanelLoad.SinglePhase(s_nominal, Conductor.C, 3_000, 0.93),
            PanelLoad.Motor(s_nominal, 900, 0.8),
        ];
        PanelLoad[] motors = [PanelLoad.Motor(s_nominal, 12_000, 0.82)];
        foreach (var loads in new[] { single, motors })
        {
            var solution = new VirtualPanel(ServiceKind.HighLeg, Source(Conductor.B, Rotation.Abc), [.. loads]).Solve();
            Assert.Equal(Verdict.Correct, HookupCheck.Judge(Read(solution, Right), new CheckOptions()).Verdict);
        }
    }

    [Fact]
    public void Neutral_clamp_closes_the_sum()
    {
        var hookup = Hookup.Expected(Service.Of(ServiceKind.HighLeg).Leads, [Clamp.I1, Clamp.I2, Clamp.I3, Clamp.IN]);
        var turned = hookup.WithClamps((Clamp.IN, Conductor.N, true));
        Assert.Equal(Verdict.Correct, HookupCheck.Judge(Read(Panel(Conductor.B), hookup), new CheckOptions()).Verdict);
        var verdict = HookupCheck.Judge(Read(Panel(Conductor.B), turned), new CheckOptions());
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Equal(Clamp.IN, Assert.Single(verdict.Best.Faults).Clamps.Single());
    }

    internal static Hookup Right { get; } = Ideal.Expected(ServiceKind.HighLeg);

    internal static PanelReadings Read(PanelSolution solution, Hookup hookup) => TestPanels.Read(solution, hookup);

    internal static PanelSolution Panel(Conductor highLeg, Rotation rotation = Rotation.Abc)
    {
        var legs = new[] { Conductor.A, Conductor.B, Conductor.C }.Where(line => line != highLeg).ToArray();
        return new VirtualPanel(
            ServiceKind.HighLeg, Source(highLeg, rotation),
            PanelLoad.Motor(s_nominal, 9_000, 0.84),
            PanelLoad.SinglePhase(s_nominal, legs[0], 2_500, 0.96),
            PanelLoad.SinglePhase(s_nominal, legs[1], 1_100, 0.9)).Solve();
    }

    private static PanelSource Source(Conductor highLeg, Rotation rotation) => new()
    {
        Nominal = s_nominal, FrequencyHertz = 60, Rotation = rotation, HighLeg = highLeg,
        Line = new Impedance(0.01, 0.01), Neutral = new Impedance(0.015, 0.01),
        DeviationB = new PhaseDeviation(0.006, 0.3), DeviationC = new PhaseDeviation(-0.004, -0.2),
    };
}
