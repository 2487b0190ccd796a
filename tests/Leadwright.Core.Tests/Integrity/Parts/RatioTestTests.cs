using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>A ratio of two on one clamp, rows 400 to 459, and what else makes voltages answer otherwise.</summary>
public sealed class RatioTestTests
{
    private const int From = 400, To = 459;

    [Fact]
    public void A_current_that_leaps_by_the_ratio_at_both_ends_and_is_answered_half_is_explained_by_it() => Assert.True(Gain(Made(2)) > 20);

    [Fact]
    public void The_rows_in_which_the_change_fell_and_those_further_off_do_not_blur_the_leap()
    {
        var made = Made(2);
        // Mixed rows at the edges, and a large load four rows before and behind.
        foreach (var row in (int[])[From - 1, To + 1]) made.Scale(row, 0, 1.5);
        foreach (var row in (int[])[From, To]) made.Scale(row, 0, 0.75);
        foreach (var row in (int[])[From - 4, To + 4]) made.Draw(row, 0, 70);
        Assert.True(Gain(made) > 20);
    }

    [Fact]
    public void A_load_that_doubles_the_current_is_answered_and_no_ratio_wins() =>
        Assert.InRange(Gain(new SourceLog(true, (row, line) => line > 0 ? Load(row, line) : Load(row, line) * (row is >= From and <= To ? 2 : 1))), double.MinValue, -20);

    [Fact]
    public void Without_a_leap_at_both_ends_there_is_no_ratio_to_win()
    {
        Assert.Equal(double.NegativeInfinity, Gain(Made(1)));
        // One that begins and does not end.
        var made = Made(2);
        for (var row = To + 1; row < SourceLog.Rows; row++) made.Scale(row, 0, 2);
        Assert.Equal(double.NegativeInfinity, Gain(made));
    }

    [Fact]
    public void At_the_end_of_a_recording_one_leap_is_enough()
    {
        var made = Made(1);
        for (var row = 740; row < SourceLog.Rows; row++) made.Scale(row, 0, 2);
        Assert.True(Gain(made, 740, SourceLog.Rows - 1) > 20);
    }

    private static SourceLog Made(double ratio)
    {
        var made = new SourceLog(true, Load);
        for (var row = From; row <= To; row++) made.Scale(row, 0, ratio);
        return made;
    }

    // Loads that move, but for a few rows beside the edges.
    private static double Load(int row, int line) =>
        new[] { From, To + 1, 740 }.Any(edge => Math.Abs(row - edge) < 6) ? 20 : 20 + (8 * Math.Sin(row * row * (0.37 + (0.11 * line))));

    private static double Gain(SourceLog made, int from = From, int to = To)
    {
        var frame = made.ToFrame();
        var isLeftOut = Enumerable.Range(0, frame.Count).Select(row => row >= from - 2 && row <= to + 2).ToArray();
        VoltageAnswer[] answers = [.. Enumerable.Range(0, 4).Select(index => VoltageAnswer.Learn(frame, PartLog.Sound(frame), index, isLeftOut))];
        return RatioTest.Gain(frame, answers, 1, from, to);
    }
}
