using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>What was not read carries no weight: it must never speak against a hook-up, nor make the check surer.</summary>
public class MissingEvidenceTests
{
    /// <summary>Room for a reading that happened to speak, mildly, against the right hook-up.</summary>
    private const double Growth = 0.02;

    private static readonly PanelReadings s_all = TestPanels.Read(TestPanels.Wye(), TestPanels.Right);

    private static readonly Dictionary<string, Func<PanelReadings, PanelReadings>> s_removals = new()
    {
        ["nothing"] = readings => readings,
        ["nominal"] = readings => readings with { Nominal = null },
        ["voltage sum"] = readings => readings with { VoltageSumFraction = null },
        ["volts between lines"] = readings => readings with { LineToLineVolts = readings.LineToLineVolts.Clear() },
        ["powers"] = readings => readings with { Phases = readings.Phases.Clear() },
        ["angle of V2"] = readings => WithoutAngles(readings, Channel.V2),
        ["angles of V2 and V3"] = readings => WithoutAngles(readings, Channel.V2, Channel.V3),
        ["angle of I1"] = readings => WithoutAngles(readings, Channel.I1),
        ["angles of currents"] = readings => WithoutAngles(readings, Channel.I1, Channel.I2, Channel.I3),
        ["all angles"] = readings => WithoutAngles(readings, [.. readings.Channels.Keys]),
        ["angles and vars"] = readings => Only(s_removals!["all angles"](readings), power => power with { Vars = null }),
        ["angles and all powers but watts"] = readings =>
            Only(s_removals!["all angles"](readings), power => new PhasePower(power.Watts, null, null, null)),
        ["angles and all powers but power factors"] = readings =>
            Only(s_removals!["all angles"](readings), power => new PhasePower(null, null, null, power.PowerFactor)),
        ["angles and powers"] = readings => s_removals!["powers"](s_removals!["all angles"](readings)),
        ["amperes of I2"] = readings => readings with
        {
            Channels = readings.Channels.SetItem(Channel.I2, readings.Channels[Channel.I2] with { Rms = null }),
        },
    };

    public static TheoryData<string> Removals => [.. s_removals.Keys];

    [Theory]
    [MemberData(nameof(Removals))]
    public void Readings_left_out_of_a_right_hook_up_never_make_it_faulty_nor_the_check_surer(string removal)
    {
        var verdict = HookupCheck.Judge(s_removals[removal](s_all), new CheckOptions());
        Assert.NotEqual(Verdict.Faulty, verdict.Verdict);
        Assert.True(verdict.Best.Hookup.IsRight);
        Assert.InRange(verdict.ProbabilityCorrect, 0, HookupCheck.Judge(s_all, new CheckOptions()).ProbabilityCorrect + Growth);
    }

    [Theory]
    [InlineData("nothing", "powers")]
    [InlineData("angles of currents", "all angles")]
    [InlineData("all angles", "angles and vars")]
    [InlineData("angles and vars", "angles and all powers but watts")]
    [InlineData("angles and vars", "angles and all powers but power factors")]
    [InlineData("angles and all powers but watts", "angles and powers")]
    public void Each_further_reading_left_out_makes_the_check_no_surer(string one, string more)
    {
        var (before, after) = (Probability(one), Probability(more));
        Assert.True(after <= before + Growth, $"{one}: {before:0.0000}; {more}: {after:0.0000}");

        static double Probability(string removal) =>
            HookupCheck.Judge(s_removals[removal](s_all), new CheckOptions()).ProbabilityCorrect;
    }

    [Fact]
    public void Magnitudes_alone_leave_the_verdict_open()
    {
        var right = HookupCheck.Judge(s_removals["angles and powers"](s_all), new CheckOptions());
        Assert.Equal(Verdict.Undecided, right.Verdict);
        Assert.True(right.Has(NoteKind.NoCurrentAngles));
        Assert.True(right.Has(NoteKind.NoVoltageAngles));
    }

    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.Delta)]
    [InlineData(ServiceKind.DeltaTwoClamp)]
    [InlineData(ServiceKind.Split)]
    [InlineData(ServiceKind.Single)]
    public void Magnitudes_alone_call_no_service_right(ServiceKind service)
    {
        var drawn = new PanelPopulation { Service = service, Faults = FaultStyle.None, Seed = 3 }.Case(1);
        var readings = (drawn.Instrument with { Display = InstrumentDisplay.MagnitudesOnly }).Read(drawn.Panel.Solve(), drawn.Truth, 1);
        var verdict = HookupCheck.Judge(readings, drawn.Options);
        Assert.Equal(Verdict.Undecided, verdict.Verdict);
        Assert.True(verdict.Best.Hookup.IsRight);
    }

    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.DeltaTwoClamp)]
    [InlineData(ServiceKind.Single)]
    public void One_current_alone_says_nothing(ServiceKind service)
    {
        var readings = new PanelReadings
        {
            Service = service,
            Channels = ImmutableSortedDictionary<Channel, ChannelReading>.Empty.Add(Channel.I1, new ChannelReading(5, null)),
        };
        var verdict = HookupCheck.Judge(readings, new CheckOptions());
        Assert.Equal(Verdict.Undecided, verdict.Verdict);
        Assert.True(verdict.Has(NoteKind.NotAllRead));
    }

    [Fact]
    public void Magnitudes_alone_name_a_line_lead_in_the_air_and_the_neutral_lead_on_a_line()
    {
        foreach (var (place, kind) in new[] { ((Conductor?)null, FaultKind.LeadOpen), (Conductor.N, FaultKind.LeadOnNeutral) })
        {
            var wrong = TestPanels.Right with { Leads = TestPanels.Right.Leads.SetItem(Lead.V2, place) };
            var readings = (Instrument.Ideal with { Display = InstrumentDisplay.MagnitudesOnly, StrayLowFraction = 0.03, StrayHighFraction = 0.05 })
                .Read(TestPanels.Wye(), wrong, 3);
            var verdict = HookupCheck.Judge(readings, new CheckOptions());
            Assert.Equal(Verdict.Faulty, verdict.Verdict);
            Assert.Contains(verdict.Named().Take(2), answer => answer.Faults.Any(fault => fault.Kind == kind && fault.Leads.Contains(Lead.V2)));
        }

        var exchanged = TestPanels.Right with
        {
            Leads = TestPanels.Right.Leads.SetItem(Lead.V1, Conductor.N).SetItem(Lead.VN, Conductor.A),
        };
        var reads = TestPanels.Read(TestPanels.Wye(), exchanged, InstrumentDisplay.MagnitudesOnly);
        var answer = HookupCheck.Judge(reads, new CheckOptions());
        Assert.Equal(Verdict.Faulty, answer.Verdict);
        Assert.Contains(answer.Best.Faults, fault => fault.Kind == FaultKind.NeutralExchanged && fault.Leads.SequenceEqual([Lead.V1, Lead.VN]));
    }

    private static PanelReadings WithoutAngles(PanelReadings readings, params Channel[] channels) => readings with
    {
        Channels = readings.Channels.SetItems(channels.Select(channel =>
            KeyValuePair.Create(channel, readings.Channels[channel] with { AngleDegrees = null }))),
    };

    private static PanelReadings Only(PanelReadings readings, Func<PhasePower, PhasePower> keep) => readings with
    {
        Phases = readings.Phases.ToImmutableSortedDictionary(phase => phase.Key, phase => keep(phase.Value)),
    };
}
