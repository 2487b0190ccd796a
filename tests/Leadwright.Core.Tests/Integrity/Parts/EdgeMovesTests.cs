using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

public sealed class EdgeMovesTests
{
    private const int Count = 40, From = 10, To = 29;

    [Fact]
    public void The_one_that_leaps_at_both_edges_moved_by_twice_the_logarithm_of_its_leap()
    {
        var moved = PartLog.Rows(Count, row => row is >= From and <= To ? 20 : 10);
        Assert.Equal(2 * Math.Log(2), EdgeMoves.More(moved, PartLog.Steady(Count, 20), From, To), 1e-12);
        Assert.Equal(-2 * Math.Log(2), EdgeMoves.More(PartLog.Steady(Count, 20), moved, From, To), 1e-12);
    }

    [Fact]
    public void An_edge_of_the_recording_says_nothing()
    {
        var moved = PartLog.Rows(Count, row => row <= To ? 20 : 10);
        Assert.Equal(Math.Log(2), EdgeMoves.More(moved, PartLog.Steady(Count, 20), 0, To), 1e-12);
        Assert.Equal(0, EdgeMoves.More(moved, PartLog.Steady(Count, 20), 0, Count - 1));
    }
}
