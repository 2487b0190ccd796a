using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Hookups.Waves;

public sealed class StepEvidenceTests
{
    private static readonly NominalVoltage s_nominal = new(230, 400);
    private static readonly Hookup s_right = Hookup.Expected(
        [Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);

    // A board that gives back more than it takes: by displacement alone every clamp looks turned round.
    private static readonly PanelLoad[] s_exporting =
    [
        PanelLoad.Linear(ServiceKind.Wye, s_nominal, 9_000, 0.92),
        PanelLoad.Generation(ServiceKind.Wye, 27_000, 800),
    ];

    private static PanelLoad[] OneOnEachLine =>
    [
        PanelLoad.SinglePhase(s_nominal, Conductor.A, 2_500, 1).Switched(new LoadSchedule(false, [1.1, 4.2])),
        PanelLoad.SinglePhase(s_nominal, Conductor.B, 2_000, 0.8).Switched(new LoadSchedule(true, [2.0, 4.9])),
        PanelLoad.SinglePhase(s_nominal, Conductor.C, 3_000, 0.95).Switched(new LoadSchedule(false, [3.1])),
    ];

    [Fact]
    public void An_exporting_site_that_is_right_is_called_right()
    {
        var verdict = Judge(s_right, 1, [.. s_exporting, .. OneOnEachLine]);
        Assert.Equal(Verdict.Correct, verdict.Verdict);
        Assert.True(verdict.Best.Probability > 0.99, $"{verdict.Best.Probability}");
        Assert.Equal(5, verdict.StepCount);
    }

    [Fact]
    public void All_clamps_turned_on_an_exporting_site_are_named()
    {
        var turned = s_right with
        {
            Clamps = s_right.Clamps.SetItem(Clamp.I1, new(Conductor.A, true, 1)).SetItem(Clamp.I2, new(Conductor.B, true, 1))
                .SetItem(Clamp.I3, new(Conductor.C, true, 1)),
        };
        var verdict = Judge(turned, 1, [.. s_exporting, .. OneOnEachLine]);
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Equal(turned.Clamps, verdict.Best.Hookup.Clamps);
        Assert.Contains(verdict.Evidence, evidence => evidence.Kind == EvidenceKind.Steps && evidence.LogOdds > 10);
    }

    [Fact]
    public void The_trap_of_power_factor_866_is_seen_through()
    {
        // Moved forward and all reversed reads 100 % of the power at power factor .866 with every channel positive (arithmetic of
        // displacement + 60 degrees; common practice, no source for the trap's being met).
        var trap = s_right with
        {
            Clamps = s_right.Clamps.SetItem(Clamp.I1, new(Conductor.B, true, 1)).SetItem(Clamp.I2, new(Conductor.C, true, 1))
                .SetItem(Clamp.I3, new(Conductor.A, true, 1)),
        };
        var verdict = Judge(trap, 1, [PanelLoad.Linear(ServiceKind.Wye, s_nominal, 30_000, 0.866), .. OneOnEachLine]);
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Equal(trap.Clamps, verdict.Best.Hookup.Clamps);
    }

    [Fact]
    public void A_stiff_bus_says_nothing()
    {
        var verdict = Judge(s_right, 1e-4, [.. s_exporting, .. OneOnEachLine]);
        Assert.NotEqual(Verdict.Faulty, verdict.Verdict);
        Assert.DoesNotContain(verdict.Evidence, evidence => evidence.Kind == EvidenceKind.Steps && Math.Abs(evidence.LogOdds) > 3);
    }

    [Fact]
    public void Balanced_steps_leave_the_hexagon_open()
    {
        // Three lines at once move all voltages together, which the supply could have done: a sixth of a turn stays open.
        var balanced = PanelLoad.Linear(ServiceKind.Wye, s_nominal, 9_000, 0.9).Switched(new LoadSchedule(false, [1.2, 2.4, 3.8]));
        var verdict = Judge(s_right, 1, [.. s_exporting, balanced]);
        Assert.NotEqual(Verdict.Faulty, verdict.Verdict);
        Assert.Equal(3, verdict.StepCount);
    }

    [Fact]
    public void A_clamp_on_nothing_while_its_line_moves_is_named()
    {
        var open = s_right with { Clamps = s_right.Clamps.SetItem(Clamp.I2, new(null, false, 1)) };
        var busy = PanelLoad.SinglePhase(s_nominal, Conductor.B, 1_500, 1).Switched(new LoadSchedule(false, [0.7, 1.6, 3.6, 5.4]));
        var verdict = Judge(open, 1, [PanelLoad.Linear(ServiceKind.Wye, s_nominal, 15_000, 0.9), busy, .. OneOnEachLine]);
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Null(verdict.Best.Hookup.Clamps[Clamp.I2].On);
    }

    [Fact]
    public void A_clamp_on_nothing_is_named_on_a_service_with_one_line()
    {
        // There is no other clamp to compare with: only the voltage shows the loads that the clamp should have seen.
        var nominal = new NominalVoltage(230, 230);
        var open = Hookup.Expected([Lead.V1, Lead.VN], [Clamp.I1]) with { Clamps = ImmutableSortedDictionary<Clamp, ClampPlace>.Empty.Add(Clamp.I1, new ClampPlace(null, false, 1)) };
        var busy = PanelLoad.SinglePhase(nominal, Conductor.A, 1_500, 1).Switched(new LoadSchedule(false, [0.7, 1.6, 2.5, 3.6, 4.5, 5.4]));
        var readings = RecordedPanel.Of(ServiceKind.Single, nominal, open, 2, PanelLoad.SinglePhase(nominal, Conductor.A, 2_500, 0.9), busy);
        var verdict = HookupCheck.Judge(readings, new CheckOptions());
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Null(verdict.Best.Hookup.Clamps[Clamp.I1].On);
        Assert.Contains(verdict.Evidence, evidence => evidence.Kind == EvidenceKind.Steps && evidence.LogOdds > 3);
    }

    [Fact]
    public void One_change_of_a_lone_voltage_names_nothing()
    {
        // A neighbour or the supply does that too; and a light load that stands still is no fault.
        var nominal = new NominalVoltage(230, 230);
        var right = Hookup.Expected([Lead.V1, Lead.VN], [Clamp.I1]);
        var readings = RecordedPanel.Of(
            ServiceKind.Single, nominal, right, 2, PanelLoad.SinglePhase(nominal, Conductor.A, 400, 0.9),
            PanelLoad.SinglePhase(nominal, Conductor.A, 30, 1).Switched(new LoadSchedule(false, [2.5])));
        Assert.NotEqual(Verdict.Faulty, HookupCheck.Judge(readings, new CheckOptions()).Verdict);
    }

    [Fact]
    public void A_clamp_on_nothing_is_named_where_both_legs_switch_one_after_the_other()
    {
        var nominal = new NominalVoltage(120, 240);
        var right = Hookup.Expected([Lead.V1, Lead.V2, Lead.VN], [Clamp.I1, Clamp.I2]);
        var open = right with { Clamps = right.Clamps.SetItem(Clamp.I1, new(null, false, 1)) };
        var readings = RecordedPanel.Of(
            ServiceKind.Split, nominal, open, 2,
            PanelLoad.SinglePhase(nominal, Conductor.A, 3_000, 0.9), PanelLoad.SinglePhase(nominal, Conductor.B, 3_000, 0.9),
            PanelLoad.SinglePhase(nominal, Conductor.A, 1_500, 1).Switched(new LoadSchedule(false, [0.6, 2.4, 4.2])),
            PanelLoad.SinglePhase(nominal, Conductor.B, 1_800, 0.95).Switched(new LoadSchedule(false, [1.2, 3.0, 4.8, 5.4])));
        var verdict = HookupCheck.Judge(readings, new CheckOptions());
        Assert.Equal(open.Clamps, verdict.Best.Hookup.Clamps);
        Assert.True(verdict.Best.Probability > 0.9, $"{verdict.Best.Probability}");
    }

    [Fact]
    public void A_neutral_lead_in_the_air_shows_when_loads_switch()
    {
        // Phasors of one moment can't tell it on a balanced supply; the neutral's own drop can.
        var open = s_right with { Leads = s_right.Leads.SetItem(Lead.VN, null) };
        var verdict = Judge(open, 1, [PanelLoad.Linear(ServiceKind.Wye, s_nominal, 15_000, 0.9), .. OneOnEachLine]);
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Null(verdict.Best.Hookup.Leads[Lead.VN]);
    }

    [Fact]
    public void A_clamp_on_nothing_is_named_where_loads_return_through_its_own_line()
    {
        // Of a high-leg board 240 V loads run between A and C: with C unread, what A's clamp sees comes back now there, now through N.
        var nominal = new NominalVoltage(120, 240);
        var open = s_right with { Clamps = s_right.Clamps.SetItem(Clamp.I3, new(null, false, 1)) };
        var verdict = HookupCheck.Judge(
            RecordedPanel.Of(
                ServiceKind.HighLeg, nominal, open, 2,
                PanelLoad.Linear(ServiceKind.HighLeg, nominal, 15_000, 0.85),
                PanelLoad.SinglePhase(nominal, Conductor.A, 2_500, 1).Switched(new LoadSchedule(false, [0.8, 3.4])),
                PanelLoad.LineToLine(ServiceKind.HighLeg, nominal, Conductor.A, Conductor.C, 4_000, 1).Switched(new LoadSchedule(false, [1.7, 4.3])),
                PanelLoad.LineToLine(ServiceKind.HighLeg, nominal, Conductor.A, Conductor.B, 3_000, 0.9).Switched(new LoadSchedule(false, [2.6]))),
            new CheckOptions());
        Assert.Equal(open.Clamps, verdict.Best.Hookup.Clamps);
        Assert.True(verdict.Best.Probability > 0.95, $"{verdict.Best.Probability}");
    }

    [Fact]
    public void A_clamp_on_the_neutral_of_a_split_service_is_named_by_the_leg_that_stands_still()
    {
        // With clamps on N and B a load on B moves both alike: the unread A stands still, as most lines do while another's load switches.
        var nominal = new NominalVoltage(120, 240);
        var right = Hookup.Expected([Lead.V1, Lead.V2, Lead.VN], [Clamp.I1, Clamp.I2]);
        var onNeutral = right with { Clamps = right.Clamps.SetItem(Clamp.I1, new(Conductor.N, true, 1)) };
        var verdict = HookupCheck.Judge(
            RecordedPanel.Of(
                ServiceKind.Split, nominal, onNeutral, 2,
                PanelLoad.SinglePhase(nominal, Conductor.A, 4_000, 0.9),
                PanelLoad.SinglePhase(nominal, Conductor.B, 7_000, 0.9),
                PanelLoad.SinglePhase(nominal, Conductor.A, 1_500, 1).Switched(new LoadSchedule(false, [0.8, 3.4])),
                PanelLoad.SinglePhase(nominal, Conductor.B, 2_500, 0.8).Switched(new LoadSchedule(false, [1.7, 2.5, 4.3, 5.1]))),
            new CheckOptions());
        Assert.Equal(onNeutral.Clamps, verdict.Best.Hookup.Clamps);
        Assert.True(verdict.Best.Probability > 0.95, $"{verdict.Best.Probability}");
    }

    private static HookupVerdict Judge(Hookup hookup, double sourceFactor, PanelLoad[] loads) =>
        HookupCheck.Judge(RecordedPanel.Wye(hookup, sourceFactor, [.. loads]), new CheckOptions { MayExport = true });
}
