using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Integrity.Pieces;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Shares of a hundred rows, counted on the fingers.</summary>
public sealed class UsableSharesTests
{
    private const int Count = 100;

    [Fact]
    public void A_stretch_takes_its_own_share_of_its_own_channel_alone()
    {
        var shares = Of(OfLead(SpanKind.LeadOpen, 10, 35, Lead.V2), OfClamp(SpanKind.ClampOpen, 0, 5, Clamp.I3));
        Assert.Equal(0.75, shares[Channel.V2], 1e-12);
        Assert.Equal(0.95, shares[Channel.I3], 1e-12);
        foreach (var channel in (Channel[])[Channel.V1, Channel.V3, Channel.I1, Channel.I2]) Assert.Equal(1, shares[channel]);
        Assert.False(shares.ContainsKey(Channel.IN));
    }

    [Fact]
    public void Hours_that_two_stretches_share_are_lost_once()
    {
        // 10 to 30 and 20 to 40 are thirty rows; 22 to 25 lies within; 50 to 60 are ten more.
        var shares = Of(
            OfClamp(SpanKind.Stuck, 10, 30, Clamp.I1), OfClamp(SpanKind.OverRange, 20, 40, Clamp.I1), OfClamp(SpanKind.OverRange, 22, 25, Clamp.I1), OfClamp(SpanKind.ClampOnNeutral, 50, 60, Clamp.I1));
        Assert.Equal(0.6, shares[Channel.I1], 1e-12);
    }

    [Fact]
    public void What_arithmetic_puts_right_and_what_is_the_truth_is_not_lost()
    {
        var shares = Of(
            OfClamp(SpanKind.ClampReversed, 0, 50, Clamp.I1), OfClamp(SpanKind.ClampsExchanged, 0, 50, Clamp.I1), OfClamp(SpanKind.RatioWrong, 0, 50, Clamp.I1),
            OfLead(SpanKind.LeadsExchanged, 0, 50, Lead.V1), OfLead(SpanKind.Outage, 0, 50, Lead.V1));
        Assert.All(shares.Values, share => Assert.Equal(1, share));
    }

    [Fact]
    public void A_doubtful_stretch_counts_for_nothing_and_one_just_sure_for_all()
    {
        var stretch = OfClamp(SpanKind.ClampOpen, 0, 20, Clamp.I2);
        Assert.Equal(1, Of(stretch with { Confidence = 0.79 })[Channel.I2]);
        Assert.Equal(0.8, Of(stretch with { Confidence = 0.8 })[Channel.I2], 1e-12);
    }

    [Fact]
    public void The_neutral_lead_takes_every_voltage_and_hours_without_rows_take_everything()
    {
        var shares = Of(OfLead(SpanKind.NeutralOpen, 0, 10, Lead.VN));
        Assert.Equal([0.9, 0.9, 0.9, 1, 1, 1], shares.Values.Select(share => Math.Round(share, 12)));
        Assert.All(Of(OfLead(SpanKind.NoData, 90, 100)).Values, share => Assert.Equal(0.9, share, 1e-12));
    }

    [Fact]
    public void Of_pairs_a_lead_takes_the_two_that_it_is_in()
    {
        var log = new PartLog(ServiceKind.Delta);
        for (var pair = 0; pair < 3; pair++) log.Pair(pair, PartLog.Steady(Count, 400));
        var shares = UsableShares.Of(log.ToFrame(), [OfLead(SpanKind.LeadOpen, 0, 25, Lead.V3)]);
        Assert.Equal([Channel.V12, Channel.V23, Channel.V31], shares.Keys);
        Assert.Equal([1, 0.75, 0.75], shares.Values.Select(share => Math.Round(share, 12)));
    }

    private static ImmutableSortedDictionary<Channel, double> Of(params ImmutableArray<GuardSpan> spans)
    {
        var log = new PartLog();
        for (var line = 0; line < 3; line++) log.Volts(line, PartLog.Steady(Count, 230)).Amperes(line, PartLog.Steady(Count, 10));
        return UsableShares.Of(log.ToFrame(), spans);
    }

    private static GuardSpan OfLead(SpanKind kind, int from, int to, params Lead[] leads) => Span(kind, from, to, leads, []);

    private static GuardSpan OfClamp(SpanKind kind, int from, int to, params Clamp[] clamps) => Span(kind, from, to, [], clamps);

    private static GuardSpan Span(SpanKind kind, int from, int to, Lead[] leads, Clamp[] clamps) => new(
        kind, [.. leads], [.. clamps], PartLog.Start.AddMinutes(10 * from), PartLog.Start.AddMinutes(10 * to), 0.95, new SpanFinding(SpanRelation.ReadingsWeighed, 5));
}
