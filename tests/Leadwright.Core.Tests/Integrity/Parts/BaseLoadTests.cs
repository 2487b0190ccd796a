using Leadwright.Core.Integrity.Chains;
using Leadwright.Core.Integrity.Recorder;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Four days of ten minutes; every line carries 3 A by night and 20 A by day, never less, and one clamp shows nothing from the second day to the end of the third.</summary>
public sealed class BaseLoadTests
{
    private const int Day = 144, From = 150, End = 430;
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

    [Fact]
    public void Twenty_hours_are_too_few() =>
        Assert.False(Find((row, line) => line == 1 && row is >= From and < From + 120 ? 0.01 : Usual(row)).IsFound);

    private static double Usual(int row) => row % Day is > 40 and < 110 ? 20 : 3;

    private static (bool IsFound, byte[] Rows) Find(Func<int, int, double> amperes)
    {
        var part = new PartLog();
        for (var line = 0; line < 3; line++)
        {
            var at = line;
            part = part.Volts(line, PartLog.Steady(4 * Day, 230)).Amperes(line, PartLog.Rows(4 * Day, row => amperes(row, at)));
        }

        var frame = part.ToFrame();
        var voltages = PartLog.Sound(frame);
        var history = new CurrentHistory(s_scales, new byte[frame.Count], null!) { Unproved = [] };
        return (BaseLoad.Override(frame, voltages, [null, history, null, null]), history.Rows);
    }
}
