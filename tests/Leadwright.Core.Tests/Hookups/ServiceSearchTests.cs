using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Panels;

namespace Leadwright.Core.Tests.Hookups;

public class ServiceSearchTests
{
    [Fact]
    public void A_high_leg_stated_wye_is_called_a_service_mismatch()
    {
        var readings = HighLegTests.Read(HighLegTests.Panel(Conductor.B), HighLegTests.Right) with
        {
            Service = ServiceKind.Wye,
            Nominal = new NominalVoltage(120, 208),
        };
        AssertMismatch(HookupCheck.Judge(readings, new CheckOptions()), ServiceKind.HighLeg, 120, ServiceKind.Wye);
    }

    [Theory]
    [InlineData(Rotation.Abc)]
    [InlineData(Rotation.Acb)]
    public void Two_lines_of_a_wye_stated_split_are_called_a_service_mismatch(Rotation rotation)
    {
        // 120 degrees apart instead of 180: the trade's test before assuming a split service (common practice, no source).
        var readings = NetworkServiceTests.Read(NetworkServiceTests.Right, rotation) with
        {
            Service = ServiceKind.Split,
            Nominal = new NominalVoltage(120, 240),
        };
        AssertMismatch(HookupCheck.Judge(readings, new CheckOptions()), ServiceKind.Network, 120, ServiceKind.Split);
    }

    [Fact]
    public void A_120_V_site_stated_230_400_is_called_a_service_mismatch()
    {
        var nominal = new NominalVoltage(120, 208);
        var solution = new VirtualPanel(
            ServiceKind.Wye, Ideal.Source(nominal), PanelLoad.Motor(nominal, 6_000, 0.84),
            PanelLoad.SinglePhase(nominal, Conductor.A, 1_500, 0.95), PanelLoad.SinglePhase(nominal, Conductor.B, 700, 0.95)).Solve();
        var readings = TestPanels.Read(solution, TestPanels.Right) with { Nominal = new NominalVoltage(230, 400) };
        AssertMismatch(HookupCheck.Judge(readings, new CheckOptions()), ServiceKind.Wye, 120, null);
    }

    // To ground: nothing, 1.732 and 1.732 times line to neutral, the live lines 60 degrees apart. From the triangle of the lines.
    [Theory]
    [InlineData(Conductor.A)]
    [InlineData(Conductor.B)]
    [InlineData(Conductor.C)]
    public void An_earthed_corner_stated_wye_is_no_open_lead_and_is_asked_about(Conductor corner)
    {
        var readings = Corner(corner);
        Assert.Equal(0, readings.Channels[Channel.V1 + (int)corner].Rms!.Value, 0.5);
        var live = new[] { Channel.V1, Channel.V2, Channel.V3 }.Where(channel => channel != Channel.V1 + (int)corner).ToArray();
        Assert.All(live, channel => Assert.Equal(480, readings.Channels[channel].Rms!.Value, 5.0));
        Assert.Equal(60, Math.Abs(Math.IEEERemainder(
            readings.Channels[live[0]].AngleDegrees!.Value - readings.Channels[live[1]].AngleDegrees!.Value, 360)), 1.0);

        var verdict = HookupCheck.Judge(readings with { Service = ServiceKind.Wye }, new CheckOptions());
        Assert.NotEqual(Verdict.Correct, verdict.Verdict);
        Assert.DoesNotContain(verdict.Best.Faults, fault => fault.Kind == FaultKind.LeadOpen);
        Assert.Contains(verdict.Services, share => share.Service == ServiceKind.Delta && share.Probability > 0.02);
        Assert.True(verdict.Has(NoteKind.ServiceInDoubt) || verdict.Best.Faults.Any(fault => fault.Kind == FaultKind.ServiceMismatch));
    }

    [Theory]
    [InlineData(Conductor.A)]
    [InlineData(Conductor.B)]
    public void An_earthed_corner_stated_delta_is_right_and_named(Conductor corner)
    {
        var verdict = HookupCheck.Judge(Corner(corner), new CheckOptions());
        Assert.Equal(Verdict.Correct, verdict.Verdict);
        Assert.Equal(corner, verdict.Best.Corner);
        Assert.False(verdict.Has(NoteKind.VoltageOffNominal));
    }

    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.Delta)]
    [InlineData(ServiceKind.DeltaTwoClamp)]
    [InlineData(ServiceKind.Split)]
    [InlineData(ServiceKind.Single)]
    [InlineData(ServiceKind.HighLeg)]
    [InlineData(ServiceKind.Network)]
    public void A_right_hook_up_on_the_stated_service_never_is_a_mismatch(ServiceKind service)
    {
        // bench/Leadwright.Populations --services measures 2,000 of each.
        var population = new PanelPopulation { Service = service, Faults = FaultStyle.None, Seed = 11 };
        Assert.All(population.Cases(120), drawn =>
        {
            var verdict = HookupCheck.Judge(drawn.Readings, drawn.Options);
            Assert.DoesNotContain(verdict.Best.Faults, fault => fault.Kind == FaultKind.ServiceMismatch);
            Assert.False(verdict.Has(NoteKind.ServiceInDoubt));
        });
    }

    [Theory]
    [InlineData(ServiceKind.Wye, 36)]
    [InlineData(ServiceKind.Delta, 34)]
    [InlineData(ServiceKind.DeltaTwoClamp, 40)]
    [InlineData(ServiceKind.Split, 40)]
    [InlineData(ServiceKind.Single, 40)]
    [InlineData(ServiceKind.HighLeg, 40)]
    [InlineData(ServiceKind.Network, 40)]
    public void A_service_that_was_not_stated_is_found_from_right_hook_ups(ServiceKind service, int least)
    {
        var population = new PanelPopulation { Service = service, Faults = FaultStyle.None, Seed = 12 };
        var verdicts = population.Cases(40)
            .Select(drawn => HookupCheck.Judge(drawn.Readings with { IsServiceOpen = true, Nominal = null }, drawn.Options)).ToList();
        Assert.All(verdicts, verdict => Assert.True(verdict.Service == service || verdict.Verdict == Verdict.Undecided));
        Assert.All(verdicts, verdict => Assert.Equal(1, verdict.Services.Sum(share => share.Probability), 1e-9));
        Assert.InRange(verdicts.Count(verdict => verdict.Service == service && !verdict.Has(NoteKind.ServiceInDoubt)), least, 40);
    }

    [Fact]
    public void Services_that_stay_close_leave_the_verdict_open()
    {
        // One size of voltage on each of two leads, no angle: 120 degrees and 180 read alike.
        var readings = new PanelReadings
        {
            Service = ServiceKind.Split, IsServiceOpen = true,
            Channels = new Dictionary<Channel, ChannelReading>
            {
                [Channel.V1] = new(120, null), [Channel.V2] = new(120.4, null), [Channel.I1] = new(20, null), [Channel.I2] = new(18, null),
            }.ToImmutableSortedDictionary(),
        };
        var verdict = HookupCheck.Judge(readings, new CheckOptions());
        Assert.Equal(Verdict.Undecided, verdict.Verdict);
        Assert.True(verdict.Has(NoteKind.ServiceInDoubt));
        Assert.Equal([ServiceKind.Split, ServiceKind.Network], verdict.Services.Select(share => share.Service));
    }

    private static void AssertMismatch(HookupVerdict verdict, ServiceKind fits, double lineToNeutral, ServiceKind? stated)
    {
        Assert.Equal(Verdict.Faulty, verdict.Verdict);
        Assert.Equal((fits, stated), (verdict.Service, verdict.StatedService));
        var fault = Assert.Single(verdict.Best.Faults);
        Assert.Equal(FaultKind.ServiceMismatch, fault.Kind);
        var set = Assert.IsType<SetService>(Assert.Single(fault.Movements));
        Assert.Equal((fits, lineToNeutral), (set.Service, set.Nominal.LineToNeutralVolts));
        Assert.True(verdict.Best.Probability > 0.9);
    }

    /// <summary>A delta with an earthed corner, the recorder's fourth lead on ground.</summary>
    private static PanelReadings Corner(Conductor corner)
    {
        var nominal = new NominalVoltage(480 / Math.Sqrt(3), 480);
        var source = new PanelSource
        {
            Nominal = nominal, FrequencyHertz = 60, EarthedCorner = corner, Line = new Impedance(0.02, 0.02),
            DeviationB = new PhaseDeviation(0.004, 0.2),
        };
        var solution = new VirtualPanel(
            ServiceKind.Delta, source, PanelLoad.Motor(nominal, 18_000, 0.84),
            PanelLoad.LineToLine(ServiceKind.Delta, nominal, Conductor.A, Conductor.B, 4_000, 0.97)).Solve();
        var hookup = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3], Service.Of(ServiceKind.Delta).Clamps);
        return TestPanels.Read(solution, hookup with { Leads = hookup.Leads.Add(Lead.VN, Conductor.G) });
    }
}
