using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Panels;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>Two lines and the neutral of a wye.</summary>
public class NetworkServiceTests
{
    private static readonly NominalVoltage s_nominal = new(120, 208);

    [Theory]
    [InlineData(Rotation.Abc, -120)]
    [InlineData(Rotation.Acb, 120)]
    public void Either_order_of_the_two_lines_is_right(Rotation rotation, double second)
    {
        var readings = Read(Right, rotation);
        Assert.Equal(second, readings.Channels[Channel.V2].AngleDegrees!.Value, 1.0);
        var verdict = HookupCheck.Judge(readings, new CheckOptions());
        Assert.Equal((Verdict.Correct, rotation), (verdict.Verdict, verdict.Best.Rotation));
        Assert.False(verdict.Has(NoteKind.RotationReadsReversed));
    }

    [Fact]
    public void Leads_and_clamps_exchanged_together_read_like_the_other_order()
    {
        var hookup = Right.WithLeads((Lead.V1, Conductor.B), (Lead.V2, Conductor.A))
            .WithClamps((Clamp.I1, Conductor.B, false), (Clamp.I2, Conductor.A, false));
        Assert.True(ReadsAlike.Check(Read(Right, Rotation.Abc), hookup, Rotation.Abc, Right, Rotation.Acb));
        Assert.False(ReadsAlike.Check(Read(Right, Rotation.Abc), hookup, Rotation.Abc, Right, Rotation.Abc));
    }

    [Fact]
    public void Exchanged_and_reversed_clamps_are_told_apart_as_they_are_not_on_a_split_service()
    {
        var exchanged = Right.WithClamps((Clamp.I1, Conductor.B, false), (Clamp.I2, Conductor.A, false));
        var reversed = Right.WithClamps((Clamp.I1, Conductor.A, true), (Clamp.I2, Conductor.B, true));
        foreach (var (hookup, kind) in new[] { (exchanged, FaultKind.ClampsExchanged), (reversed, FaultKind.ClampReversed) })
        {
            var verdict = HookupCheck.Judge(Read(hookup, Rotation.Abc), new CheckOptions());
            Assert.Equal(Verdict.Faulty, verdict.Verdict);
            Assert.All(verdict.Best.Faults, fault => Assert.Equal(kind, fault.Kind));
        }
    }

    [Fact]
    public void An_open_neutral_lead_leaves_half_the_voltage_between_the_lines_on_each()
    {
        var readings = Read(Right.WithLeads((Lead.VN, null)), Rotation.Abc);
        Assert.Equal(104, readings.Channels[Channel.V1].Rms!.Value, 2.0);
        var verdict = HookupCheck.Judge(readings, new CheckOptions());
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Equal(FaultKind.NeutralOpen, Assert.Single(verdict.Best.Faults).Kind);
    }

    internal static Hookup Right { get; } = Ideal.Expected(ServiceKind.Network);

    internal static PanelReadings Read(Hookup hookup, Rotation rotation) => TestPanels.Read(
        new VirtualPanel(
            ServiceKind.Network,
            new PanelSource
            {
                Nominal = s_nominal, FrequencyHertz = 60, Rotation = rotation, Line = new Impedance(0.01, 0.01), Neutral = new Impedance(0.01, 0.01),
                DeviationB = new PhaseDeviation(0.006, 0.3),
            },
            PanelLoad.SinglePhase(s_nominal, Conductor.A, 2_500, 0.94),
            PanelLoad.SinglePhase(s_nominal, Conductor.B, 1_700, 0.9),
            PanelLoad.LineToLine(ServiceKind.Network, s_nominal, Conductor.A, Conductor.B, 900, 0.98)).Solve(),
        hookup);
}
