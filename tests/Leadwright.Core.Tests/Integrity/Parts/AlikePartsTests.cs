using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Two channels on one conductor: what their ratio says, and from which row to which.</summary>
public sealed class AlikePartsTests
{
    private static readonly List<RowPiece> s_piece = [new RowPiece(10, 15, default)];

    // The ratio stands at one within and half a percent off outside, to the two thousandths that inputs agree to: 2.5 ln(1 + 0.005²/(4·0.002²)).
    [Fact]
    public void A_ratio_that_stands_at_one_within_and_apart_outside_says_by_how_much()
    {
        var (one, other) = (PartLog.Steady(60, 230), PartLog.Rows(60, row => row is >= 10 and <= 15 ? 230 : 230 / Math.Exp(0.005)));
        Assert.Equal(2.5 * Math.Log(1 + (25e-6 / 16e-6)), AlikeTest.LevelOdds(one, other, s_piece), 1e-6);
        // Where it stands within as it does outside it says as much against it; and five nats are the most.
        Assert.Equal(-2.5 * Math.Log(1 + (25e-6 / 16e-6)), AlikeTest.LevelOdds(one, PartLog.Steady(60, 230 / Math.Exp(0.005)), s_piece), 1e-6);
        Assert.Equal(5, AlikeTest.LevelOdds(one, PartLog.Rows(60, row => row is >= 10 and <= 15 ? 230 : 220), s_piece));
    }

    [Theory]
    [InlineData(36, true)]
    [InlineData(35, false)]
    public void Thirty_rows_outside_tell_what_is_usual_and_fewer_do_not(int rows, bool tells)
    {
        var (one, other) = (PartLog.Steady(rows, 230), PartLog.Rows(rows, row => row is >= 10 and <= 15 ? 230 : 229));
        Assert.Equal(tells, AlikeTest.LevelOdds(one, other, s_piece) > 0);
    }

    [Theory]
    [InlineData(10, 11, true)]
    [InlineData(10, 10, false)]
    [InlineData(10, 13, true)]
    public void Two_rows_within_are_enough_and_of_four_the_first_and_the_last_are_left_out(int from, int to, bool tells)
    {
        // In a piece of four rows the ends are mixed: they stand far off and are not asked.
        var (one, other) = (PartLog.Steady(60, 230), PartLog.Rows(60, row => row < from || row > to ? 229 : to - from > 2 && (row == from || row == to) ? 150 : 230));
        Assert.Equal(tells, AlikeTest.LevelOdds(one, other, [new RowPiece(from, to, default)]) > 0);
    }

    [Fact]
    public void Rows_in_which_a_channel_reads_nothing_say_nothing_of_a_ratio()
    {
        var random = new SeededRandom(4);
        var (one, other) = (new double[600], new double[600]);
        for (var row = 0; row < 600; row++)
        {
            one[row] = 20 + (2 * random.Gaussian());
            other[row] = row is >= 200 and < 300 ? one[row] : 20 + (2 * random.Gaussian());
        }

        List<RowPiece> pieces = [new RowPiece(200, 299, default)];
        Assert.Equal(40, AlikeTest.Odds(one, other, pieces, 0.006));
        (one[220], other[240]) = (0, 0);
        Assert.Equal(40, AlikeTest.Odds(one, other, pieces, 0.006));
        Assert.Equal(0, AlikeTest.Odds(one, null, pieces, 0.006));
    }

    [Fact]
    public void How_much_a_channel_and_a_ratio_move_is_the_spread_of_the_changes_of_their_logarithms()
    {
        // Changes of 2, 4 and -6 hundredths in turn: the median is 2, their distances from it 0, 2 and 8, and the median of these 2.
        var one = PartLog.Rows(101, row => 10 * Math.Exp((row % 3) switch { 0 => 0, 1 => 0.02, _ => 0.06 }));
        Assert.Equal(1.4826 * 0.02, AlikeTest.Moves(one), 1e-9);
        Assert.Equal(1.4826 * 0.02, AlikeTest.Spread(one, PartLog.Steady(101, 3)), 1e-9);
        // After three rows each is where it was.
        Assert.Equal(0, AlikeTest.Spread(one, PartLog.Steady(101, 3), 3), 1e-9);
        Assert.Equal(0, AlikeTest.Spread(one, one), 1e-9);
    }

    // Judged twelve rows too early and too late; the second clamp on the first one's conductor before or behind.
    [Theory]
    [InlineData(188, false)]
    [InlineData(212, false)]
    [InlineData(188, true)]
    [InlineData(212, true)]
    public void The_edge_of_clamps_on_one_conductor_is_put_to_its_row(int judgedAt, bool isLeft)
    {
        const int Count = 400, Border = 200;
        var random = new SeededRandom(14);
        var (one, other) = (new double[Count], new double[Count]);
        for (var row = 0; row < Count; row++)
        {
            one[row] = random.Uniform(10, 30);
            other[row] = row < Border == isLeft ? one[row] * (1 + (0.002 * random.Gaussian())) : random.Uniform(10, 30);
        }

        var frame = new PartLog().Amperes(0, one).Amperes(1, other).Amperes(2, PartLog.Steady(Count, 12)).ToFrame();
        List<JudgedPiece> judged = [Judged(0, judgedAt - 1, isLeft), Judged(judgedAt, Count - 1, !isLeft)];
        AlikeEdges.Refine(frame, judged);
        // By chance the two stand close now and then.
        Assert.InRange(judged[1].From, Border - 1, Border + 1);
        Assert.Equal((0, judged[1].From - 1, Count - 1), (judged[0].From, judged[0].To, judged[1].To));
    }

    private static JudgedPiece Judged(int from, int to, bool isAlike)
    {
        var hookup = Hookup.Expected([Lead.V1, Lead.V2, Lead.V3, Lead.VN], [Clamp.I1, Clamp.I2, Clamp.I3]);
        if (isAlike) hookup = hookup with { Clamps = hookup.Clamps.SetItem(Clamp.I2, hookup.Clamps[Clamp.I1]) };
        return new JudgedPiece(from, to, default, hookup, 0.9, 5, []);
    }
}
