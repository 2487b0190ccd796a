using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Recorder;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Four days of ten minutes; every line carries 3 A by night and 20 A by day, never less, and one clamp shows nothing from the second day to the end of the third.</summary>
public sealed class BaseLoadTests
{
    private const int Day = 144, From = 150, Morning = 190, End = 430;
    private static readonly double[] s_scales = [1, 0, 10, 0.1];

    [Fact]
    public void A_line_that_never_rests_and_shows_nothing_for_two_days_was_not_in_its_clamp()
    {
        var (isFound, rows) = Find((row, line) => line == 1 && row is >= From and < End ? 0.01 : Usual(row));
        Assert.True(isFound);
        Assert.Equal(Enumerable.Range(0, 4 * Day).Select(row => row is >= From and < End ? 1 : 0), rows.Select(row => (int)row));
    }

    [Fact]
    public void Of_a_site_that_is_shut_as_a_whole_nothing_is_said() =>
        Assert.False(Find((row, line) => row is >= From and < End ? line == 1 ? 0.01 : 0.5 : Usual(row)).IsFound);

    [Fact]
    public void A_line_that_rests_at_other_times_as_well_may_rest_for_two_days() =>
        // Every night at a hundredth of an ampere.
        Assert.False(Find((row, line) => line == 1 && (row is >= From and < End || Usual(row) < 10) ? 0.01 : Usual(row)).IsFound);

    // Thirty-six rows are six hours; what is left of four days is more than three.
    [Theory]
    [InlineData(36, true)]
    [InlineData(35, false)]
    public void Six_hours_are_enough_where_three_days_without_a_rest_are_left(int rows, bool isFound) =>
        Assert.Equal(isFound, Find((row, line) => line == 1 && row >= Morning && row < Morning + rows ? 0.01 : Usual(row)).IsFound);

    [Fact]
    public void Of_fewer_days_a_whole_one_is_asked_for() =>
        // Of four days twenty-two hours leave more than three, and twenty-five fewer, but are a whole day; of three days twenty-two hours are too few.
        Assert.Equal((true, true, false), (
            Find((row, line) => line == 1 && row is >= From and < From + 132 ? 0.01 : Usual(row)).IsFound,
            Find((row, line) => line == 1 && row is >= From and < From + 150 ? 0.01 : Usual(row)).IsFound,
            Find((row, line) => line == 1 && row is >= From and < From + 132 ? 0.01 : Usual(row), 3).IsFound));

    private static double Usual(int row) => row % Day is > 40 and < 110 ? 20 : 3;

    private static (bool IsFound, byte[] Rows) Find(Func<int, int, double> amperes, int days = 4)
    {
        var part = new PartLog();
        for (var line = 0; line < 3; line++)
        {
            var at = line;
            part = part.Volts(line, PartLog.Steady(days * Day, 230)).Amperes(line, PartLog.Rows(days * Day, row => amperes(row, at)));
        }

        var frame = part.ToFrame();
        var voltages = PartLog.Sound(frame);
        var history = new CurrentHistory(s_scales, new byte[frame.Count], null!) { Unproved = [] };
        return (BaseLoad.Override(frame, voltages, [null, history, null, null]) is not null, history.Rows);
    }
}
