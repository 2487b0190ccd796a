using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity;

public sealed class AlikeTestTests
{
    private const int Count = 20_000, From = 4000, To = 7999;

    [Fact]
    public void Two_large_loads_are_not_one_conductor_because_their_scatter_is_a_small_share_of_them()
    {
        // Scatter of 0.1 A each: a ratio of 12 A to 13 A moves by 0.016 a row, one of 33 A to 36 A by 0.006, which is what two clamps on one conductor show.
        var random = new SeededRandom(3);
        var (one, other) = (new double[Count], new double[Count]);
        for (var row = 0; row < Count; row++)
        {
            var load = row is >= From and <= To or >= 12_000 and < 16_000 ? 33 : 12;
            (one[row], other[row]) = (load + (0.1 * random.Gaussian()), (1.1 * load) + (0.1 * random.Gaussian()));
        }

        Assert.True(AlikeTest.Odds(one, other, Pieces(), 0.006) <= 0);
    }

    [Fact]
    public void Two_clamps_on_one_conductor_for_a_while_are_alike_there()
    {
        var random = new SeededRandom(4);
        var (one, other) = (new double[Count], new double[Count]);
        for (var row = 0; row < Count; row++)
        {
            one[row] = 20 + (2 * random.Gaussian());
            other[row] = row is >= From and <= To ? one[row] * (1 + (0.003 * random.Gaussian())) : 20 + (2 * random.Gaussian());
        }

        Assert.True(AlikeTest.Odds(one, other, Pieces(), 0.006) > 12);
    }

    private static List<RowPiece> Pieces() => [new RowPiece(From, To, default!)];
}
