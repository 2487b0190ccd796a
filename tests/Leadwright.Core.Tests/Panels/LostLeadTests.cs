using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Panels;

/// <summary>Source of the values: derived for this project, docs/methods/wrong-connection-effects.md.</summary>
public class LostLeadTests
{
    [Theory]
    [InlineData("lead-a-off-neutral-on")]
    [InlineData("lead-a-off-floating-star")]
    [InlineData("neutral-off-equal-inputs")]
    [InlineData("neutral-exchanged-with-a")]
    [InlineData("two-leads-on-one")]
    public void Lost_and_misplaced_leads_leave_their_signature(string name)
    {
        var right = Ideal.Expected(ServiceKind.Wye);
        var hookup = name switch
        {
            "lead-a-off-neutral-on" => right.WithLeads((Lead.V1, null)),
            "lead-a-off-floating-star" => right.WithLeads((Lead.V1, null)) with { Leads = right.Leads.SetItem(Lead.V1, null).Remove(Lead.VN) },
            "neutral-off-equal-inputs" => right.WithLeads((Lead.VN, null)),
            "neutral-exchanged-with-a" => right.WithLeads((Lead.V1, Conductor.N), (Lead.VN, Conductor.A)),
            _ => right.WithLeads((Lead.V2, Conductor.A)),
        };
        var row = Vectors.Read("lost-leads.csv").Single(row => row["event"] == name);
        var readings = Ideal.Read(Ideal.Balanced(ServiceKind.Wye, 0.9), hookup);
        Assert.Equal(row.Number("v1"), readings.Channels[Channel.V1].Rms!.Value / 100, 1e-6);
        Assert.Equal(row.Number("v2"), readings.Channels[Channel.V2].Rms!.Value / 100, 1e-6);
        Assert.Equal(row.Number("v3"), readings.Channels[Channel.V3].Rms!.Value / 100, 1e-6);
        Assert.Equal(row.Number("v12"), readings.LineToLineVolts[Channel.V12] / 100, 1e-6);
        Assert.Equal(row.Number("v23"), readings.LineToLineVolts[Channel.V23] / 100, 1e-6);
        Assert.Equal(row.Number("v31"), readings.LineToLineVolts[Channel.V31] / 100, 1e-6);
    }

    [Fact]
    public void A_lost_lead_of_a_three_wire_instrument_stands_at_the_mean_of_the_others()
    {
        var hookup = Ideal.Expected(ServiceKind.Delta).WithLeads((Lead.V1, null));
        var readings = Ideal.Read(Ideal.Balanced(ServiceKind.Delta, 0.9), hookup);
        Assert.Equal(86.6025, readings.Channels[Channel.V12].Rms!.Value, 1e-4);
        Assert.Equal(173.2051, readings.Channels[Channel.V23].Rms!.Value, 1e-4);
        Assert.Equal(86.6025, readings.Channels[Channel.V31].Rms!.Value, 1e-4);

        // V12 and V31 are in phase: both point from the mean to an end of the same line.
        Assert.Equal(0, Angle.WrapDegrees(
            readings.Channels[Channel.V12].AngleDegrees!.Value - readings.Channels[Channel.V31].AngleDegrees!.Value), 1e-6);
    }

    [Fact]
    public void A_neutral_lead_exchanged_with_lead_1_turns_the_others_to_150_degrees_either_side()
    {
        var hookup = Ideal.Expected(ServiceKind.Wye).WithLeads((Lead.V1, Conductor.N), (Lead.VN, Conductor.A));
        var readings = Ideal.Read(Ideal.Balanced(ServiceKind.Wye, 0.9), hookup);

        // The table's angles 180, -150, 150 count from phase A; readings count from V1, which stands at 180.
        Assert.Equal(-150, Angle.WrapDegrees(readings.Channels[Channel.V2].AngleDegrees!.Value + 180), 1e-6);
        Assert.Equal(150, Angle.WrapDegrees(readings.Channels[Channel.V3].AngleDegrees!.Value + 180), 1e-6);
    }

    [Fact]
    public void An_open_neutral_lead_makes_the_voltages_sum_to_zero_and_their_triplens_vanish()
    {
        var source = Ideal.Source() with
        {
            DeviationA = new PhaseDeviation(0.03, 1),
            Background = new Spectrum(new SpectrumLine(3, 0.02, 30), new SpectrumLine(5, 0.03, 10)),
        };
        var solution = new VirtualPanel(
            ServiceKind.Wye, source, PanelLoad.Linear(ServiceKind.Wye, Ideal.Nominal, 3000, 0.9)).Solve();
        var right = Ideal.Expected(ServiceKind.Wye);
        var (connected, open) = (Ideal.Read(solution, right), Ideal.Read(solution, right.WithLeads((Lead.VN, null))));
        Assert.True(connected.VoltageSumFraction > 0.05);
        Assert.Equal(0, open.VoltageSumFraction!.Value, 1e-12);

        // With phases alike the third harmonic is the same on all three, and nothing of it is left; the fifth stays.
        var alike = new VirtualPanel(ServiceKind.Wye, source with { DeviationA = default });
        var recording = Instrument.Ideal.Sample(alike, right.WithLeads((Lead.VN, null)), new SamplingPlan(6400, 0.2), 1);
        foreach (var channel in recording.Channels.Where(channel => channel.Unit == "V"))
        {
            Assert.Equal(0, SamplerTests.Transform(channel.Samples.Span, 30).Magnitude, 1e-9);
            Assert.Equal(3, SamplerTests.Transform(channel.Samples.Span, 50).Magnitude, 1e-9);
        }
    }

    [Fact]
    public void Two_leads_on_one_conductor_read_nothing_between_them()
    {
        var hookup = Ideal.Expected(ServiceKind.Delta).WithLeads((Lead.V2, Conductor.A));
        var readings = Ideal.Read(Ideal.Balanced(ServiceKind.Delta, 0.9), hookup);
        Assert.Equal(0, readings.Channels[Channel.V12].Rms!.Value, 1e-9);
    }

    [Fact]
    public void A_lead_in_the_air_picks_up_one_to_nine_percent_at_any_angle_where_there_is_a_neutral_lead()
    {
        var instrument = Instrument.Ideal with { StrayLowFraction = 0.01, StrayHighFraction = 0.09 };
        var solution = Ideal.Balanced(ServiceKind.Wye, 0.9);
        var hookup = Ideal.Expected(ServiceKind.Wye).WithLeads((Lead.V2, null));
        var strays = Enumerable.Range(0, 400).Select(seed => instrument.Read(solution, hookup, (ulong)seed).Channels[Channel.V2]).ToList();
        Assert.All(strays, stray => Assert.InRange(stray.Rms!.Value, 1, 9));
        for (var quadrant = -180; quadrant < 180; quadrant += 90)
            Assert.InRange(strays.Count(stray => stray.AngleDegrees >= quadrant && stray.AngleDegrees < quadrant + 90), 60, 140);
    }
}
