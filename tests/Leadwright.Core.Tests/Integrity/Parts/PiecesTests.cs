using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Pieces in which nothing changes, from what each chain says of each of twenty rows.</summary>
public sealed class PiecesTests
{
    private const int Count = 20;

    [Fact]
    public void A_row_of_neither_side_between_two_pieces_goes_with_what_comes_after_it()
    {
        // Sound to row 7, one row of another ratio, then a ratio of ten: scale 4 and scale 2 of the list.
        Assert.Equal([(0, 7, 0), (8, 19, 2)], Pieces(Scales((8, 9, 4), (9, 20, 2))));
    }

    [Fact]
    public void Before_the_sound_state_comes_back_it_goes_with_what_was_wrong() => Assert.Equal([(0, 10, 2), (11, 19, 0)], Pieces(Scales((0, 10, 2), (10, 11, 4))));

    [Fact]
    public void A_clamp_is_not_moved_and_moved_back_within_one_row_but_within_two_it_is()
    {
        Assert.Equal([(0, 19, 0)], Pieces(Scales((8, 9, 2))));
        Assert.Equal([(0, 7, 0), (8, 9, 2), (10, 19, 0)], Pieces(Scales((8, 10, 2))));
    }

    [Fact]
    public void A_voltage_that_was_another_for_one_row_is_a_piece_of_its_own()
    {
        var voltages = new byte[Count];
        voltages[8] = 1;
        Assert.Equal([(0, 7, 0), (8, 8, 0), (9, 19, 0)], Pieces(new byte[Count], voltages));
    }

    [Fact]
    public void Two_rows_in_which_one_thing_came_before_another_belong_to_one_change()
    {
        // The voltages change in row 8, the clamp in row 10: rows 8 and 9 have a part of both sides.
        var voltages = new byte[Count];
        Array.Fill(voltages, (byte)1, 8, 12);
        Assert.Equal([(0, 7, 0), (8, 19, 2)], Pieces(Scales((10, 20, 2)), voltages));
        // A third row is time enough to be a state of its own.
        Assert.Equal([(0, 7, 0), (8, 10, 0), (11, 19, 2)], Pieces(Scales((11, 20, 2)), voltages));
    }

    [Fact]
    public void Rows_whose_power_does_not_tell_go_with_what_came_before_and_at_the_start_with_what_comes()
    {
        var turns = new sbyte[Count];
        Array.Fill(turns, (sbyte)-1, 0, 3);
        Array.Fill(turns, (sbyte)1, 10, 10);
        Array.Fill(turns, (sbyte)-1, 8, 4);
        var pieces = Chains(new byte[Count], null, turns).Pieces();
        Assert.Equal([(0, 11, 0), (12, 19, 1)], pieces.Select(piece => (piece.From, piece.To, piece.Key.Turn(0))));
        Assert.All(pieces, piece => Assert.Equal(15, piece.Key.Turn(1)));
    }

    [Fact]
    public void A_key_keeps_the_numbers_of_its_channels_and_lies_between_two_when_each_is_of_one_of_them()
    {
        var (left, right) = (new RowKey(1, 0x432, 0x8765), new RowKey(2, 0x43A, 0x876B));
        Assert.Equal([2, 3, 4], Enumerable.Range(0, 3).Select(left.Turn));
        Assert.Equal([5, 6, 7, 8], Enumerable.Range(0, 4).Select(left.Scale));
        Assert.True(new RowKey(2, 0x432, 0x876B).IsBetween(left, right));
        Assert.True(left.IsBetween(left, right) && right.IsBetween(left, right));
        Assert.False(new RowKey(3, 0x432, 0x8765).IsBetween(left, right));
        Assert.False(new RowKey(1, 0x532, 0x8765).IsBetween(left, right));
        Assert.False(new RowKey(1, 0x432, 0x9765).IsBetween(left, right));
    }

    private static byte[] Scales(params (int From, int End, byte Scale)[] stretches)
    {
        var rows = new byte[Count];
        foreach (var (from, end, scale) in stretches) Array.Fill(rows, scale, from, end - from);
        return rows;
    }

    private static IEnumerable<(int From, int To, int Scale)> Pieces(byte[] scales, byte[]? voltages = null) =>
        Chains(scales, voltages, null).Pieces().Select(piece => (piece.From, piece.To, piece.Key.Scale(1)));

    private static Chained Chains(byte[] scales, byte[]? voltages, sbyte[]? turns)
    {
        var frame = new PartLog().Amperes(1, PartLog.Steady(Count, 5)).ToFrame();
        var history = PartLog.Sound(frame) with { Rows = voltages ?? new byte[Count] };
        var current = new CurrentHistory([1, 0, 10, 0.1, 2, 0.5, 5, 0.2], scales, VoltageAnswer.Learn(frame, history, 1)) { Unproved = scales };
        var angle = turns is null ? null : new AngleHistory([0, 180], turns, 0, []) { Degrees = new double[Count] };
        return new Chained(frame, history, [angle, null, null], [null, current, null, null], null);
    }
}
