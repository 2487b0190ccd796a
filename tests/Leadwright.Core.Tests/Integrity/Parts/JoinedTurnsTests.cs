using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Pieces;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>A high-leg service whose lines stand at 35, 39 and 12 degrees; in rows 20 to 27 the third channel stands turned by half a cycle.</summary>
public sealed class JoinedTurnsTests
{
    private const int Rows = 60, From = 20, To = 27;

    // A clamp of the high leg's channel that went to C reads C's 12 degrees less a quarter turn.
    [Fact]
    public void A_power_that_leaps_with_another_to_where_the_next_line_has_it_is_turned()
    {
        var angles = Angles(12 - 90);
        JoinedTurns.Join(Frame(), angles);
        Assert.All(Enumerable.Range(0, Rows), row => Assert.Equal(row is >= From and <= To ? 3 : 0, angles[1]!.Rows[row]));
    }

    // 39 to 60 degrees is no leap of 45, and −25 is no line's angle a quarter or half a turn away.
    [Theory]
    [InlineData(60)]
    [InlineData(-25)]
    public void One_that_hardly_leaps_or_goes_elsewhere_is_a_load(double degrees)
    {
        var angles = Angles(degrees);
        JoinedTurns.Join(Frame(), angles);
        Assert.All(angles[1]!.Rows, turn => Assert.Equal(0, turn));
    }

    [Fact]
    public void Two_clamps_of_which_one_reads_a_third_of_the_other_are_on_no_one_conductor()
    {
        var one = PartLog.Rows(Rows, row => 1.9 + (0.1 * (row % 2)));
        List<RowPiece> pieces = [new(From, To, default)];
        Assert.True(AlikeTest.StandApart(one, Array.ConvertAll(one, value => value / 3), pieces));
        // A tenth, and half a step of 0.1 A in 1.9: two gains and the rounding.
        Assert.False(AlikeTest.StandApart(one, Array.ConvertAll(one, value => 1.09 * value), pieces));
    }

    private static Core.Integrity.Relations.GuardFrame Frame() => new PartLog(ServiceKind.HighLeg).Volts(0, PartLog.Rows(Rows, _ => 120)).ToFrame();

    private static AngleHistory?[] Angles(double within) => [History(35, 35, 0), History(39, within, 0), History(12, -168, 1)];

    private static AngleHistory History(double usual, double within, sbyte turn)
    {
        var rows = new sbyte[Rows];
        Array.Fill(rows, turn, From, To - From + 1);
        return new AngleHistory([0, 180, 90, -90], rows, usual, new double[Rows]) { HasVars = true, Degrees = PartLog.Rows(Rows, row => row is >= From and <= To ? within : usual) };
    }
}
