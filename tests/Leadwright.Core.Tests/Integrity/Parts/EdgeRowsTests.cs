using Leadwright.Core.Integrity.Samples;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Rows ten ticks apart; a jump is by how much the halves of a row differ.</summary>
public sealed class EdgeRowsTests
{
    [Fact]
    public void The_two_rows_of_a_change_read_what_stands_before_and_behind() =>
        Assert.Equal([10, 10, 10, 0, 0, 0], Settled([10, 10, 9, 4, 0, 0], [2, 3]));

    // Its halves differ by a twentieth: it holds the first few samples of what comes.
    [Fact]
    public void A_row_that_is_touched_by_the_change_beside_it_goes_with_it()
    {
        double[][] values = [[0, 0, 0.5, 6, 9, 10, 10]];
        EdgeRows.Settle([0, 10, 20, 30, 40, 50, 60], values, 1, [0, 0, 0.5, 6, 2, 0, 0], 10);
        Assert.Equal([0, 0, 0, 0, 10, 10, 10], values[0]);
    }

    [Fact]
    public void A_row_whose_halves_are_alike_keeps_its_value() => Assert.Equal([10, 10, 9, 4, 0, 0], Settled([10, 10, 9, 4, 0, 0], []));

    [Fact]
    public void A_long_course_keeps_its_values_but_for_its_first() =>
        Assert.Equal([10, 10, 8, 6, 4, 2, 1], Settled([10, 9, 8, 6, 4, 2, 1], [1, 2, 3, 4, 5]));

    [Fact]
    public void Nothing_is_taken_from_beyond_a_gap() =>
        Assert.Equal([10, 10, 10, 0], Settled([10, 9, 4, 0], [1, 2], [0, 10, 20, 500]));

    private static double[] Settled(double[] volts, int[] edges, long[]? starts = null)
    {
        double[] jumps = [.. volts.Select((_, row) => edges.Contains(row) ? 2.0 : 0)];
        double[][] values = [[.. volts]];
        EdgeRows.Settle(starts ?? [.. volts.Select((_, row) => 10L * row)], values, 1, jumps, 10);
        return values[0];
    }
}
