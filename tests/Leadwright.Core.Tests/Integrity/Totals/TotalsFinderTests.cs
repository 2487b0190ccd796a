using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Tests.Integrity.Parts;

namespace Leadwright.Core.Tests.Integrity.Totals;

/// <summary>What is told where the recorder wrote no power by phase.</summary>
public sealed class TotalsFinderTests
{
    private const int From = 200, End = 330;

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_right_hook_up_has_nothing_wrong(bool hasTwoClamps) => Assert.Empty(new TotalLog(hasTwoClamps).Guard().Spans);

    [Theory]
    [InlineData(true, 0)]
    [InlineData(true, 2)]
    [InlineData(false, 1)]
    public void A_clamp_turned_for_a_day_shows_in_the_size_of_the_total(bool hasTwoClamps, int clamp)
    {
        var span = Assert.Single(Guard(hasTwoClamps, TotalLog.Right.Leads, With(clamp, (clamp, -1))).Spans);
        Assert.Equal((SpanKind.ClampReversed, (Clamp)clamp), (span.Kind, Assert.Single(span.Clamps)));
        AssertEdges(span);
        Assert.False(span.IsDoubtful);
    }

    [Fact]
    public void Clamps_exchanged_go_on_with_each_others_current()
    {
        var span = Assert.Single(Guard(false, TotalLog.Right.Leads, [(1, 1), (0, 1), (2, 1)]).Spans);
        Assert.Equal(SpanKind.ClampsExchanged, span.Kind);
        Assert.Equal([Clamp.I1, Clamp.I2], span.Clamps);
        AssertEdges(span);
    }

    [Fact]
    public void Leads_exchanged_take_their_voltages_along()
    {
        var span = Assert.Single(Guard(true, [0, 2, 1], TotalLog.Right.Clamps).Spans);
        Assert.Equal(SpanKind.LeadsExchanged, span.Kind);
        Assert.Equal([Lead.V2, Lead.V3], span.Leads);
        AssertEdges(span);
    }

    [Fact]
    public void A_clamp_turned_from_first_to_last_shows_as_well()
    {
        var report = new TotalLog(true) { Hookup = _ => (TotalLog.Right.Leads, With(2, (2, -1))) }.Guard();
        var span = Assert.Single(report.Spans);
        Assert.Equal((SpanKind.ClampReversed, Clamp.I3), (span.Kind, Assert.Single(span.Clamps)));
        Assert.Equal((report.From, report.To), (span.From, span.To));
    }

    // A total goes on being its volt-amperes whatever the angle: capacitors left on beside few loads turn it and are no fault.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Capacitors_turn_a_total_and_take_nothing_from_its_size(bool hasTwoClamps) =>
        Assert.Empty(new TotalLog(hasTwoClamps) { Degrees = row => row % 144 < 50 ? -75 : 30 }.Guard().Spans);

    private static GuardReport Guard(bool hasTwoClamps, int[] leads, (int, int)[] clamps) =>
        new TotalLog(hasTwoClamps) { Hookup = row => row is >= From and < End ? (leads, clamps) : TotalLog.Right }.Guard();

    private static (int, int)[] With(int clamp, (int, int) place)
    {
        var clamps = TotalLog.Right.Clamps;
        clamps[clamp] = place;
        return clamps;
    }

    private static void AssertEdges(GuardSpan span)
    {
        Assert.InRange((span.From - PartLog.Start).TotalMinutes / 10, From - 1, From + 1);
        Assert.InRange((span.To - PartLog.Start).TotalMinutes / 10, End - 1, End + 1);
    }
}
