using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Pieces;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Voltages that answer by one law inside a stretch and by another outside. Derivation: docs/methods/guard.md, "Where the voltages break into two laws".</summary>
public sealed class AnswerBreakTests
{
    [Fact]
    public void A_ratio_of_all_clamps_is_found_to_the_hour_though_neighbours_move_the_voltages()
    {
        var frame = Made(10, true, 240, 540).ToFrame();
        var found = AnswerBreak.Find(frame, PartLog.Sound(frame), TestContext.Current.CancellationToken)!;
        Assert.Equal((-1, 10), (found.Clamp, found.Ratio));
        Assert.InRange(found.From, 240 - found.PerBlock, 240 + found.PerBlock);
        Assert.InRange(found.To, 540 - found.PerBlock, 540 + found.PerBlock);
    }

    [Fact]
    public void A_ratio_of_one_clamp_is_that_clamps()
    {
        var frame = Made(0.2, false, 240, 540).ToFrame();
        var found = AnswerBreak.Find(frame, PartLog.Sound(frame), TestContext.Current.CancellationToken)!;
        Assert.Equal((0, 0.2), (found.Clamp, found.Ratio));
    }

    [Fact]
    public void One_law_needs_no_other()
    {
        var frame = Made(1, true, 0, 0).ToFrame();
        Assert.Null(AnswerBreak.Find(frame, PartLog.Sound(frame), TestContext.Current.CancellationToken));
    }

    [Fact]
    public void Its_ends_are_the_rows_in_which_all_currents_leap()
    {
        var frame = Made(10, true, 240, 540).ToFrame();
        var chained = Chained.Of(frame, TestContext.Current.CancellationToken);
        foreach (var current in chained.Currents.Take(3))
            Assert.Equal(Enumerable.Range(0, SourceLog.Rows).Select(row => row is >= 240 and < 540 ? 10.0 : 1), current!.Rows.Select(state => current.Scales[state]));
    }

    private static SourceLog Made(double ratio, bool isOfAll, int from, int end)
    {
        var made = new SourceLog(true);
        var random = new SeededRandom(7);
        for (var row = 0; row < SourceLog.Rows; row++)
        {
            // A neighbour of one line, then of another: as large a change of a voltage as the recorded loads make.
            made.Volts[(int)random.Uniform(0, 3)][row] += 0.5 * random.Gaussian();
            for (var line = 0; line < (isOfAll ? 3 : 1); line++)
            {
                if (row >= from && row < end) made.Scale(row, line, ratio);
            }
        }

        return made;
    }
}
