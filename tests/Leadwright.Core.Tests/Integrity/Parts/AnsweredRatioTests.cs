using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Ratios in rows 300 to 499 of eight hundred minutes, told by how the voltages answer.</summary>
public sealed class AnsweredRatioTests
{
    private const int From = 300, To = 499;

    [Theory]
    [InlineData(10)]
    [InlineData(0.5)]
    public void A_ratio_of_all_clamps_is_found_to_the_row(double ratio)
    {
        var made = new SourceLog(true, Load);
        for (var line = 0; line < 3; line++) Scale(made, line, ratio);
        AssertFound(made, ratio, 0, 1, 2);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_ratio_of_one_clamp_is_that_clamps(bool hasPowers)
    {
        var made = new SourceLog(hasPowers, Load);
        Scale(made, 1, 2);
        AssertFound(made, 2, 1);
    }

    [Fact]
    public void A_site_that_draws_twice_as_much_for_hours_is_answered_and_no_ratio() =>
        Assert.Null(Find(new SourceLog(true, (row, line) => (row is >= From and <= To ? 2 : 1) * Load(row, line))));

    [Fact]
    public void Where_nothing_happened_nothing_is_found() => Assert.Null(Find(new SourceLog(true, Load)));

    [Fact]
    public void The_neutral_lead_in_the_air_weakens_the_answers_and_no_current_leaps()
    {
        // Every phase answers to its own current with a third of what it did.
        var made = new SourceLog(true, Load);
        for (var row = From; row <= To; row++)
        {
            var mean = (made.Volts[0][row] + made.Volts[1][row] + made.Volts[2][row]) / 3;
            for (var line = 0; line < 3; line++) made.Volts[line][row] = mean + ((made.Volts[line][row] - mean) / 3);
        }

        Assert.Null(Find(made));
    }

    [Fact]
    public void A_ratio_that_the_clamps_own_history_knows_is_left_to_it()
    {
        var made = new SourceLog(true, Load);
        Scale(made, 0, 10);
        var frame = made.ToFrame();
        var answers = Answers(frame);
        Assert.NotNull(AnsweredRatio.Find(frame, PartLog.Sound(frame), answers, new CurrentHistory?[4], new AngleHistory?[3], isApart: true));
        var rows = new byte[frame.Count];
        Array.Fill(rows, (byte)1, From, To - From + 1);
        Assert.Null(AnsweredRatio.Find(frame, PartLog.Sound(frame), answers, [new CurrentHistory([1, 10], rows, answers[0]) { Unproved = rows }, null, null, null], new AngleHistory?[3], isApart: true));
    }

    // Loads that move, but for a few rows beside the edges.
    private static double Load(int row, int line) => new[] { From, To + 1 }.Any(edge => Math.Abs(row - edge) < 6) ? 15 : 15 + (6 * Math.Sin(row * row * (0.37 + (0.11 * line))));

    private static void Scale(SourceLog made, int line, double ratio)
    {
        for (var row = From; row <= To; row++) made.Scale(row, line, ratio);
    }

    private static void AssertFound(SourceLog made, double ratio, params int[] clamps)
    {
        var found = Find(made);
        Assert.NotNull(found);
        Assert.Equal((From, To, ratio), (found.From, found.To, found.Ratio));
        Assert.Equal(clamps, found.Clamps);
    }

    private static AnsweredRatio.Stretch? Find(SourceLog made)
    {
        var frame = made.ToFrame();
        var found = AnsweredRatio.Find(frame, PartLog.Sound(frame), Answers(frame), new CurrentHistory?[4], new AngleHistory?[3], isApart: false);
        // As the guard does: once more with answers that were learned without those rows.
        return found is null ? null : AnsweredRatio.Find(frame, PartLog.Sound(frame), Answers(frame, found.Rows(frame.Count)), new CurrentHistory?[4], new AngleHistory?[3], isApart: true);
    }

    private static VoltageAnswer[] Answers(GuardFrame frame, bool[]? isLeftOut = null) => [.. Enumerable.Range(0, 4).Select(index => VoltageAnswer.Learn(frame, PartLog.Sound(frame), index, isLeftOut))];
}
