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

    [Theory]
    [InlineData(1, 1)]
    [InlineData(0.25, 0.25)]
    public void Voltages_that_keep_still_while_the_loads_do_are_not_more_alike_for_it(double loads, double expected)
    {
        var random = new SeededRandom(5);
        double[][] amperes = [new double[Count], new double[Count]], volts = [new double[Count], new double[Count]];
        for (var row = 0; row < Count; row++)
        {
            var moves = row is >= From and <= To ? loads : 1;
            for (var line = 0; line < 2; line++)
            {
                amperes[line][row] = 20 + (moves * random.Gaussian());
                volts[line][row] = 230 - (0.3 * amperes[line][row]);
            }
        }

        var activity = AlikeTest.Activity(amperes[0], amperes[1], Pieces());
        Assert.Equal(expected, activity, 0.05);
        var odds = AlikeTest.Odds(volts[0], volts[1], Pieces(), 4e-4, activity: activity);
        Assert.True(odds <= 0, $"{odds}");
        // Without their loads the quiet stretch would have been taken for one conductor.
        if (loads < 1) Assert.True(AlikeTest.Odds(volts[0], volts[1], Pieces(), 4e-4) > 12);
    }

    private static List<RowPiece> Pieces() => [new RowPiece(From, To, default!)];
}
