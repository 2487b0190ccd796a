using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Tests.Integrity.Parts;

/// <summary>Three lines of 10, 14 and 20 A in which something happens from row 20 to row 39.</summary>
public sealed class SharedLoadTests
{
    private const int Count = 60, From = 20, To = 39;
    private static readonly double[] s_usual = [10, 14, 20];

    [Fact]
    public void A_load_of_three_lines_steps_by_the_same_amperes_in_each() => Assert.True(IsShared((line, _) => s_usual[line] + 8));

    [Fact]
    public void A_load_of_three_lines_that_goes_is_one_as_well() => Assert.True(IsShared((line, _) => s_usual[line] - 8));

    [Fact]
    public void One_clamp_at_ten_times_shares_no_load() => Assert.False(IsShared((line, _) => line == 0 ? 100 : s_usual[line]));

    // Of 10, 12 and 14 A they step by 90, 108 and 126 A: no farther apart than a load's steps may be, but by one ratio.
    [Fact]
    public void All_clamps_at_ten_times_at_once_share_no_load() => Assert.False(IsShared((line, _) => 100 + (20 * line), line => 10 + (2 * line)));

    // 8 A of this line and, with what else is switched beside it, 12.5 or 13.5 A of another: apart by 1.56 and 1.69.
    [Theory]
    [InlineData(12.5, true)]
    [InlineData(13.5, false)]
    public void The_steps_of_one_load_are_apart_by_no_more_than_what_else_is_switched(double step, bool isShared) =>
        Assert.Equal(isShared, IsShared((line, _) => s_usual[line] + (line == 1 ? step : 8)));

    [Fact]
    public void A_load_of_two_lines_of_three_does_not_speak_for_the_third() => Assert.False(IsShared((line, _) => s_usual[line] + (line == 2 ? 0 : 8)));

    [Fact]
    public void One_edge_is_enough()
    {
        // All three come together; before they go the others fall back one by one.
        Assert.True(IsShared((line, row) => s_usual[line] + (line == 0 || row < 30 ? 8 : 0)));
        Assert.True(IsShared((line, row) => s_usual[line] + (line == 0 || row >= 30 ? 8 : 0)));
        Assert.False(IsShared((line, row) => s_usual[line] + (line == 0 || row is >= 26 and < 34 ? 8 : 0)));
    }

    [Fact]
    public void The_row_in_which_the_change_falls_may_be_mixed() => Assert.True(IsShared((line, row) => s_usual[line] + (row is From or To ? 1 + (2 * line) : 8)));

    [Fact]
    public void A_clamp_that_shows_nothing_because_the_load_of_all_lines_is_off_stays_so()
    {
        // Of the 10 A that went 4 come back in another line, which is less than half of them; 6 are more.
        Assert.True(StaysOff(4));
        Assert.False(StaysOff(6));
    }

    // From 10, 14 and 20 A to a tenth in the first line: ln 10 is 2.30, and six tenths of it 1.38, a factor of 3.98.
    [Theory]
    [InlineData(4.1, true)]
    [InlineData(3.9, false)]
    public void A_site_that_closes_takes_nearly_as_much_of_every_line(double factor, bool isOfTheSite) =>
        Assert.Equal(isOfTheSite, SharedLoad.IsOfTheSite(Frame((line, _) => line == 0 ? 1 : s_usual[line] / factor), 0, From, To));

    [Fact]
    public void It_does_so_when_it_opens_again_as_well() =>
        Assert.False(SharedLoad.IsOfTheSite(Frame((line, row) => line == 0 ? 1 : row < 30 ? s_usual[line] / 10 : s_usual[line]), 0, From, To));

    private static bool IsShared(Func<int, int, double> within, Func<int, double>? usual = null, double scale = 0) => SharedLoad.IsAtAnEdge(Frame(within, usual), 0, From, To, scale);

    private static bool StaysOff(double comesBack) =>
        SharedLoad.StaysOff(Frame((line, row) => line == 0 ? 0 : s_usual[line] - 10 + (line == 1 && row is >= 28 and < 34 ? comesBack : 0)), 0, From, To);

    private static GuardFrame Frame(Func<int, int, double> within, Func<int, double>? usual = null)
    {
        var log = new PartLog();
        for (var line = 0; line < 3; line++) log.Amperes(line, PartLog.Rows(Count, row => row is >= From and <= To ? within(line, row) : usual?.Invoke(line) ?? s_usual[line]));
        return log.ToFrame();
    }
}
