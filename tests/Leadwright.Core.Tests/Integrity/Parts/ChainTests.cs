using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>The likeliest history of two states, by the sum of what it costs and what its rows say.</summary>
public sealed class ChainTests
{
    // Into the wrong state five, back into the sound one three; each row says two. Four rows, eight nats, do not pay for both.
    [Theory]
    [InlineData(10, 15, true)]
    [InlineData(10, 14, false)]
    [InlineData(27, 30, true)]
    [InlineData(28, 30, false)]
    [InlineData(0, 5, true)]
    [InlineData(0, 4, false)]
    public void A_stretch_is_told_when_its_rows_pay_for_both_its_edges_and_at_the_end_for_one(int from, int end, bool isTold)
    {
        var history = Find(30, from, end);
        Assert.Equal(isTold ? Enumerable.Range(from, end - from) : [], Enumerable.Range(0, 30).Where(row => history[row] == 1));
    }

    [Fact]
    public void In_twenty_times_a_thousand_rows_every_edge_costs_three_more()
    {
        // ln 20 = 3.0 for each: fourteen nats for both.
        Assert.Equal(8, Find(20_000, 5000, 5008).Count(state => state == 1));
        Assert.Equal(0, Find(20_000, 5000, 5006).Count(state => state == 1));
    }

    [Theory]
    [InlineData(12, 8)]
    [InlineData(7, 0)]
    public void Steps_that_fit_a_change_pay_for_it(double says, double score)
    {
        // Into state 1 by the step into row 4, out of it by that into row 8: eleven and five are the price.
        var chain = Linked(says, _ => true);
        Assert.Equal(score, chain.Score, 1e-12);
        Assert.Equal(score > 0 ? [4, 5, 6, 7] : [], Stretch(chain.History()));
    }

    [Fact]
    public void A_step_across_a_gap_says_nothing() => Assert.Empty(Stretch(Linked(12, row => row != 4).History()));

    [Theory]
    [InlineData(59, 0.5, true)]
    [InlineData(60, 0.5, false)]
    [InlineData(59, 0.09, false)]
    public void What_looks_like_a_lead_in_the_air_for_less_than_a_minute_is_a_dip_unless_it_reads_next_to_nothing(int rows, double volts, bool isDip)
    {
        var (frame, states, history) = Dip(rows, volts, VoltageStateKind.Leads);
        SupplyDips.TakeBack(frame, states, history);
        Assert.Equal(isDip ? 0 : rows, history.Count(state => state != 0));
    }

    [Fact]
    public void An_outage_is_no_dip_and_neither_is_anything_in_rows_of_minutes()
    {
        var (frame, states, history) = Dip(20, 0.5, VoltageStateKind.Outage);
        SupplyDips.TakeBack(frame, states, history);
        Assert.Equal(20, history.Count(state => state != 0));
        (frame, states, history) = Dip(3, 0.5, VoltageStateKind.Leads, 11);
        SupplyDips.TakeBack(frame, states, history);
        Assert.Equal(3, history.Count(state => state != 0));
    }

    private static byte[] Find(int rows, int from, int end)
    {
        var chain = new StateChain([3, 5], rows);
        for (var row = 0; row < rows; row++)
        {
            chain.Says[0] = 0;
            chain.Says[1] = row >= from && row < end ? 2 : -2;
            chain.Take();
        }

        return chain.History();
    }

    private static LinkedChain Linked(double says, Func<int, bool> isLinked)
    {
        var chain = new LinkedChain([5, 11], 12);
        for (var row = 0; row < 12; row++)
        {
            (chain.Links[1], chain.Links[2]) = (row == 4 ? says : 0, row == 8 ? says : 0);
            chain.Take(row > 0 && isLinked(row));
        }

        return chain;
    }

    private static IEnumerable<int> Stretch(byte[] history) => Enumerable.Range(0, history.Length).Where(row => history[row] == 1);

    private static (GuardFrame Frame, VoltageState[] States, byte[] History) Dip(int rows, double volts, VoltageStateKind kind, double seconds = 1)
    {
        var log = new PartLog(seconds: seconds) { Nominal = new NominalVoltage(230, 400) };
        for (var line = 0; line < 3; line++) log.Volts(line, PartLog.Rows(200, row => line == 0 && row >= 50 && row < 50 + rows ? volts * 230 : 230));
        var frame = log.ToFrame();
        var states = VoltageStates.Of(frame);
        var history = new byte[200];
        Array.Fill(history, (byte)Array.FindIndex(states, state => state.Kind == kind), 50, rows);
        return (frame, states, history);
    }
}
