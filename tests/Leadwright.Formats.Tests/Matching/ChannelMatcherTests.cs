using Leadwright.Core.Circuits;
using Leadwright.Core.Signals;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Matching;

namespace Leadwright.Formats.Tests.Matching;

public sealed class ChannelMatcherTests
{
    private const string Sound = "V1=0 V2=1 V3=2 I1=3 I2=4 I3=5";

    // Names after IEC and ANSI custom (L1 L2 L3, A B C, R S T; U or V): common practice, no source.
    [Theory]
    [InlineData("VA VB VC IA IB IC")]
    [InlineData("UA UB UC IA IB IC")]
    [InlineData("Va Vb Vc Ia Ib Ic")]
    [InlineData("Van Vbn Vcn Ia Ib Ic")]
    [InlineData("VAN VBN VCN I1 I2 I3")]
    [InlineData("U1 U2 U3 I1 I2 I3")]
    [InlineData("UL1 UL2 UL3 IL1 IL2 IL3")]
    [InlineData("U_L1 U_L2 U_L3 I_L1 I_L2 I_L3")]
    [InlineData("V1N V2N V3N I1 I2 I3")]
    [InlineData("UL1-N UL2-N UL3-N IL1 IL2 IL3")]
    [InlineData("VR VS VT IR IS IT")]
    [InlineData("Ua1 Ub1 Uc1 Ia1 Ib1 Ic1")]
    [InlineData("I_A I_B I_C", "I1=0 I2=1 I3=2")]
    [InlineData("Bus1_Ua Bus1_Ub Bus1_Uc Feeder7_Ia Feeder7_Ib Feeder7_Ic")]
    [InlineData("CH1:Ua CH2:Ub CH3:Uc CH4:Ia CH5:Ib CH6:Ic")]
    [InlineData("IA IB IC VA VB VC", "V1=3 V2=4 V3=5 I1=0 I2=1 I3=2")]
    [InlineData("IC IB IA VC VB VA", "V1=5 V2=4 V3=3 I1=2 I2=1 I3=0")]
    [InlineData("VA VB VC IA IB IC IN 3I0 3U0 VN", "V1=0 V2=1 V3=2 I1=3 I2=4 I3=5 IN=6")]
    public void Names_of_the_trade_are_matched(string names, string expected = Sound) =>
        Assert.Equal(expected, Shown(Match(Named(names), ServiceKind.Wye)));

    [Theory]
    [InlineData("Voltage_A Voltage_B Voltage_C Current_A Current_B Current_C")]
    [InlineData("Voltage_L1 Voltage_L2 Voltage_L3 Current_L1 Current_L2 Current_L3")]
    public void Words_are_matched(string names) =>
        Assert.Equal(Sound, Shown(Match(Named(names.Replace('_', ' '), split: names.Split(' ')), ServiceKind.Wye)));

    [Fact]
    public void Phase_and_unit_will_do_when_names_say_nothing_and_that_is_told()
    {
        var matching = Match(
            [("CH 1", "A", "V"), ("CH 2", "B", "V"), ("CH 3", "C", "kV"), ("CH 4", "L1", "A"), ("CH 5", "L2", "mA"), ("CH 6", "L3", "A"), ("CH 7", "N", "A")],
            ServiceKind.Wye);

        Assert.Equal(Sound + " IN=6", Shown(matching));
        Assert.All(matching.Matches, match => Assert.Equal(MatchBasis.PhaseAndUnit, match.Basis));
        Assert.Equal("unit kV and phase C", matching.Matches[2].Why);
        Assert.Equal(2, matching.Notes.Count(note => note.Contains("matched by phase and unit alone", StringComparison.Ordinal)));
    }

    [Fact]
    public void Bare_conductor_names_take_their_kind_from_the_unit() =>
        Assert.Equal("V1=0 V2=1 V3=2 I1=3 I2=4 I3=5", Shown(Match(
            [("L1-N", "", "V"), ("L2-N", "", "V"), ("L3-N", "", "V"), ("L1", "", "A"), ("L2", "", "A"), ("L3", "", "A")], ServiceKind.Wye)));

    [Theory]
    [InlineData("VAB VBC VCA IA IB IC", "V12=0 V23=1 V31=2 I1=3 I2=4 I3=5")]
    [InlineData("U12 U23 U31 I1 I2 I3", "V12=0 V23=1 V31=2 I1=3 I2=4 I3=5")]
    [InlineData("UL12 UL23 UL31 IL1 IL2 IL3", "V12=0 V23=1 V31=2 I1=3 I2=4 I3=5")]
    [InlineData("UL1L2 UL2L3 UL3L1 IL1 IL2 IL3", "V12=0 V23=1 V31=2 I1=3 I2=4 I3=5")]
    [InlineData("Vab Vcb Vac Ia Ib Ic", "V12=0 V23=~1 V31=~2 I1=3 I2=4 I3=5")]
    [InlineData("VA VB VC IA IB IC", Sound)]
    public void Three_wire_services_take_voltages_between_leads_or_to_the_star_point(string names, string expected) =>
        Assert.Equal(expected, Shown(Match(Named(names), ServiceKind.Delta)));

    [Fact]
    public void Two_clamp_service_takes_clamps_1_and_3() =>
        Assert.Equal("V12=0 V23=1 I1=2 I3=3", Shown(Match(Named("Vab Vbc Ia Ic"), ServiceKind.DeltaTwoClamp)));

    [Fact]
    public void Split_and_single_services_take_what_they_have()
    {
        Assert.Equal("V1=0 V2=1 I1=2 I2=3", Shown(Match(Named("V1 V2 I1 I2"), ServiceKind.Split)));
        Assert.Equal("V1=0 I1=1", Shown(Match(Named("U1 I1"), ServiceKind.Single)));
    }

    [Theory]
    [InlineData("3U0")]
    [InlineData("3I0")]
    [InlineData("U0")]
    [InlineData("3Uo")]
    [InlineData("Bay7_3I0")]
    public void Residuals_are_never_taken(string name)
    {
        var matching = Match([("UA", "A", "V"), ("UB", "B", "V"), (name, "C", "V")], ServiceKind.Wye);

        Assert.Equal("V1=0 V2=1", Shown(matching));
        Assert.Contains("is a residual", Assert.Single(matching.Unmatched).Why, StringComparison.Ordinal);
        Assert.Contains("No channel was found for V3.", matching.Notes);
    }

    [Fact]
    public void Contradicting_name_and_fields_are_left_over_and_told()
    {
        var matching = Match([("UA", "A", "V"), ("UB", "A", "V"), ("IC", "C", "V")], ServiceKind.Wye);

        Assert.Equal("V1=0", Shown(matching));
        Assert.Equal(
            ["the name 'UB' and the phase A contradict each other", "the name 'IC' and the unit V contradict each other"],
            matching.Unmatched.Select(channel => channel.Why));
    }

    [Fact]
    public void Relay_record_gives_its_three_voltages()
    {
        var matching = Match(Published("relay-a", "1"), ServiceKind.Wye);

        Assert.Equal("V1=0 V2=1 V3=2", Shown(matching));
        Assert.Equal(["3U0"], matching.Unmatched.Select(channel => channel.SourceName));
        Assert.Contains("No channel was found for I1, I2, I3.", matching.Notes);
    }

    [Fact]
    public void Substation_record_gives_its_first_bay_and_names_the_others()
    {
        var matching = Match(Published("substation", "xtz"), ServiceKind.Wye);

        // Channels 1 to 8 are two busbars' voltages, from 9 on four channels a bay: tests/data/README.md.
        Assert.Equal("V1=0 V2=1 V3=2 I1=8 I2=9 I3=10", Shown(matching));
        Assert.Contains(matching.Notes, note => note.StartsWith("The recording holds 2 sets of voltages:", StringComparison.Ordinal));
        Assert.Contains(matching.Notes, note => note.StartsWith("The recording holds 8 sets of currents:", StringComparison.Ordinal));
        Assert.Equal(48 - 6, matching.Unmatched.Length);
    }

    [Fact]
    public void Record_of_1991_gives_its_first_set() =>
        Assert.Equal("V1=4 V2=5 V3=6 I1=0 I2=1 I3=2", Shown(Match(Published("rev-1991", "D51_RCD_2346_20150917_105253_065_F"), ServiceKind.Wye)));

    [Fact]
    public void Naming_one_channel_of_a_bay_takes_the_bay()
    {
        var matching = Match(Published("substation", "xtz"), ServiceKind.Wye, "V1=5,I1=13");

        Assert.Equal("V1=4 V2=5 V3=6 I1=12 I2=13 I3=14", Shown(matching));
        Assert.Equal(MatchBasis.Told, matching.Matches[0].Basis);
    }

    [Theory]
    [InlineData("V1=UX, V2 = 2 ,V3=3,I1=Ia-213,I2=-,I3=5", "V1=0 V2=1 V3=2 I1=3 I3=4")]
    [InlineData("v1=ux", "V1=0")]
    [InlineData("V21=UX", "V12=~0")]
    [InlineData("V1=7", "V1=5")]
    public void A_person_may_say_which_is_which_by_name_or_number(string told, string expected) =>
        Assert.Equal(expected, Shown(Match([("UX", "", "V"), ("CH", "", "V"), ("CH", "", "V"), ("Ia-213", "", ""), ("x", "", "A"), ("7", "", "V")],
            ServiceKind.Wye, told, withoutFree: true)));

    [Theory]
    [InlineData("V1", "Cannot read '--channels': column 1: expected a pair such as V1=UA, found \"V1\"")]
    [InlineData("V1=UA,V9=UB", "column 2: expected one of V1, V2, V3, V12, V23, V31, I1, I2, I3, IN before the '=', found \"V9\"")]
    [InlineData("V1=UZ", "expected the name or number (1 to 3) of a channel in the recording, found \"UZ\".\nThe recording holds: 1 \"UA\" (V), 2 \"CH\" (V), 3 \"CH\" (V).")]
    [InlineData("V1=4", "expected the name or number (1 to 3)")]
    [InlineData("V1=0", "expected the name or number (1 to 3)")]
    [InlineData("V1=CH", "expected the name of one channel, found 'CH', which is the name of 2 channels.\nGive its number: 2, 3.")]
    [InlineData("V1=UA,V1=2", "expected each channel once, found V1 a second time")]
    public void A_wrong_assignment_is_refused_with_reason(string told, string message)
    {
        var error = Assert.Throws<FormatReadException>(() => Match([("UA", "A", "V"), ("CH", "", "V"), ("CH", "", "V")], ServiceKind.Wye, told));

        Assert.Contains(message, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void When_nothing_matches_the_error_lists_the_channels_and_the_option_to_use()
    {
        var error = Assert.Throws<FormatReadException>(() => Match([("test/out1", "", "none"), ("pressure", "", "bar")], ServiceKind.Split));

        Assert.Equal(
            "Cannot read 'x.cfg': expected channels named as voltages and currents of a 'split' service, found none among 1 \"test/out1\" (none), 2 \"pressure\" (bar).\n"
            + "Say which is which, by name or number, as in --channels \"V1=1,V2=2,I1=2,I2=2\".",
            error.Message);
    }

    [Fact]
    public void A_record_without_analog_channels_is_refused() =>
        Assert.Contains("found no analog channel", Assert.Throws<FormatReadException>(() => Match([], ServiceKind.Wye)).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("VA VB VC IA IB IC", ServiceKind.Wye)]
    [InlineData("V12 V23 V31 I1 I2 I3", ServiceKind.Delta)]
    [InlineData("V12 V23 V31 I1 I3", ServiceKind.DeltaTwoClamp)]
    [InlineData("V12 V23 V31 I1 I2 I3 IN", ServiceKind.Wye)]
    [InlineData("V1 V2 I1 I2", ServiceKind.Split)]
    [InlineData("V1 I1", ServiceKind.Single)]
    public void Channels_say_what_to_match_by_where_nobody_stated_the_service(string names, ServiceKind kind) =>
        Assert.Equal(kind, ChannelMatcher.ServiceFor(
            new SampledRecording(
                [.. Named(names).Select(channel => new SampledChannel(channel.Name, channel.Phase, channel.Unit, new double[1]))],
                [new RateSegment(0, 1, 1000, 0)], null, null),
            null));

    [Theory]
    [InlineData(ServiceKind.HighLeg, "VA VB VC IA IB IC", Sound)]
    [InlineData(ServiceKind.Network, "VA VB IA IB", "V1=0 V2=1 I1=2 I2=3")]
    public void Other_services_take_the_channels_they_have(ServiceKind service, string names, string expected) =>
        Assert.Equal(expected, Shown(Match(Named(names), service)));

    private static (string Name, string Phase, string Unit)[] Named(string names, string[]? split = null) =>
        [.. (split ?? names.Split(' ')).Select(name => (split is null ? name : name.Replace('_', ' '), "", ""))];

    private static SampledRecording Published(string folder, string stem) => ComtradeReader.Read(
        TestData.File($"comtrade/{folder}/{stem}.cfg"), TestData.File($"comtrade/{folder}/{stem}.dat")).Recording;

    private static ChannelMatching Match(
        (string Name, string Phase, string Unit)[] channels, ServiceKind service, string? told = null, bool withoutFree = false)
    {
        var matching = Match(
            new SampledRecording(
                [.. channels.Select(channel => new SampledChannel(channel.Name, channel.Phase, channel.Unit, new double[1]))],
                [new RateSegment(0, 1, 1000, 0)], null, null),
            service, told);
        return withoutFree
            ? matching with { Matches = [.. matching.Matches.Where(match => match.Basis == MatchBasis.Told)] }
            : matching;
    }

    private static ChannelMatching Match(SampledRecording recording, ServiceKind service, string? told = null) =>
        ChannelMatcher.Match(recording, service, told, "x.cfg");

    // V12=~1 is the recording's channel 1 the other way round.
    private static string Shown(ChannelMatching matching) => string.Join(' ', matching.Matches.Select(match =>
        $"{match.Channel}={(match.IsTurned ? "~" : "")}{match.SourceIndex}"));
}
