using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Tests.Hookups.Others;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>What is rare by itself and was held to be rarer still: two wrong ratios at once, an open lead that reads nothing, nothing connected at all.</summary>
public sealed class RareTogetherTests
{
    /// <summary>Two ratios of three off, loads switching: the currents' sum and the voltages' drops tell both.</summary>
    [Theory]
    [InlineData(ServiceKind.Delta, 30)]
    [InlineData(ServiceKind.Wye, 57)]
    public void Two_wrong_ratios_are_named_from_a_recording(ServiceKind service, int number)
    {
        var score = OtherScore.Of(new OtherPopulation(service, OtherMedium.Sampled, OtherSite.Usual, 1), number);

        Assert.Equal(2, score.Drawn!.Truth.Clamps.Count(clamp => clamp.Value.Scale != 1));
        Assert.True(score.IsNamed);
        Assert.Equal(2, score.Said!.Best.Faults.Count(fault => fault.Kind == FaultKind.RatioWrong));
    }

    /// <summary>Inputs that share no lead read nothing on both sides of one that is in the air, and the third voltage is whole.</summary>
    [Theory]
    [InlineData(Channel.V31, Lead.V2)]
    [InlineData(Channel.V12, Lead.V3)]
    [InlineData(Channel.V23, Lead.V1)]
    public void On_three_wires_two_dead_voltages_are_the_lead_between_them(Channel live, Lead open)
    {
        var channels = new[] { Channel.V12, Channel.V23, Channel.V31 };
        var readings = new PanelReadings { Service = ServiceKind.Delta, Nominal = new NominalVoltage(230, 400), AngleSign = AngleSign.LeadPositive };
        foreach (var channel in channels)
            readings = readings with { Channels = readings.Channels.SetItem(channel, channel == live ? new ChannelReading(401, 0) : new ChannelReading(0.1, null)) };

        var verdict = HookupCheck.Judge(readings, new CheckOptions());

        Assert.Equal([open], verdict.Best.Hookup.Leads.Where(lead => lead.Value is null).Select(lead => lead.Key));
    }

    /// <summary>A dead input and a clamp that reads as little as one on nothing: where both may hang in the air, the clamp is not surely in place.</summary>
    [Fact]
    public void Beside_a_dead_voltage_a_clamp_that_reads_next_to_nothing_is_not_surely_in_place()
    {
        var readings = new PanelReadings { Service = ServiceKind.Single, Nominal = new NominalVoltage(230, 230), AngleSign = AngleSign.LeadPositive };
        readings = readings with { Channels = readings.Channels.SetItem(Channel.V1, new ChannelReading(0.1, null)).SetItem(Channel.I1, new ChannelReading(0.9, 0)) };

        var verdict = HookupCheck.Judge(readings, new CheckOptions());

        Assert.NotEqual(Verdict.Correct, verdict.Verdict);
        Assert.InRange(verdict.Best.Probability, 0, 0.9);
    }
}
