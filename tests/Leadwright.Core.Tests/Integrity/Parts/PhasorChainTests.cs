using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Phasors;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Where a neutral lead was in the air, or a clamp on the neutral, by the law of the supply. Derivation: docs/methods/guard.md, "The law of the supply".</summary>
public sealed class PhasorChainTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Nothing_is_found_where_nothing_was_moved_and_the_order_of_the_lines_is(bool isAcb)
    {
        var course = Find(new FourWireLog(isAcb));
        Assert.Empty(course.Stretches);
        Assert.True(isAcb ? course.OddsOfAcb > 50 : course.OddsOfAcb < -50, $"{course.OddsOfAcb} nats");
    }

    [Theory]
    [InlineData(false, 0, 900)]
    [InlineData(true, 0, 900)]
    [InlineData(false, 300, 480)]
    [InlineData(true, 200, 900)]
    public void A_neutral_lead_in_the_air_is_found_in_its_rows(bool isAcb, int from, int end)
    {
        var course = Find(new FourWireLog(isAcb) { IsNeutralOff = row => row >= from && row < end });
        var stretch = Assert.Single(course.Stretches);
        Assert.Equal([0, 1, 2, -1], stretch.Arrangement.Leads);
        Assert.InRange(stretch.From, from - 2, from + 2);
        Assert.InRange(stretch.To, end - 3, end + 1);
        Assert.True(isAcb ? course.OddsOfAcb > 10 : course.OddsOfAcb < -10, $"{course.OddsOfAcb} nats");
    }

    [Theory]
    [InlineData(2, false, 0, 900)]
    [InlineData(0, true, 400, 700)]
    public void A_clamp_on_the_neutral_is_found_in_its_rows_with_the_way_round_it_hangs(int clamp, bool isTurned, int from, int end)
    {
        var course = Find(new FourWireLog
        {
            Clamps = row => [.. Enumerable.Range(0, 3).Select(own => own == clamp && row >= from && row < end ? 3 : own)],
            Scales = row => [.. Enumerable.Range(0, 3).Select(own => own == clamp && isTurned && row >= from && row < end ? -1.0 : 1)],
        });
        var stretch = Assert.Single(course.Stretches);
        Assert.Equal(3, stretch.Arrangement.Clamps[clamp]);
        Assert.Equal(isTurned, stretch.Arrangement.Reversed[clamp]);
        Assert.InRange(stretch.From, from - 2, from + 2);
        Assert.InRange(stretch.To, end - 3, end + 1);
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(10)]
    public void A_clamp_at_another_ratio_is_neither(double ratio) =>
        Assert.Empty(Find(new FourWireLog { Scales = row => row > 300 && row < 700 ? [ratio, 1, 1] : [1, 1, 1] }).Stretches);

    [Fact]
    public void Exchanged_clamps_are_neither() =>
        Assert.Empty(Find(new FourWireLog { Clamps = row => row > 300 && row < 700 ? [1, 0, 2] : [0, 1, 2] }).Stretches);

    private static PhasorCourse Find(FourWireLog made)
    {
        var frame = made.ToFrame();
        return PhasorChain.Find(frame, PartLog.Sound(frame), new CurrentHistory?[4], TestContext.Current.CancellationToken);
    }
}
