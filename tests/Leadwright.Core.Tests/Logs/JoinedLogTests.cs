using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Logs;

public sealed class JoinedLogTests
{
    private static readonly LogColumn[] s_columns =
    [
        new("V", LogQuantity.Voltage), new("P", LogQuantity.ActivePower), new("Vmin", LogQuantity.Voltage, LogPlace.Whole, LogStatistic.Minimum), new("Vmax", LogQuantity.Voltage, LogPlace.Whole, LogStatistic.Maximum),
        new("Wh", LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount), new("kWh", LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Counter), new("angle", LogQuantity.CurrentAngle),
    ];

    private static readonly long s_start = new DateTime(2026, 3, 2, 8, 0, 0).Ticks;

    [Fact]
    public void Each_column_is_joined_as_what_it_says_of_an_interval()
    {
        var joined = new JoinedLog(4);
        joined.Add(Of([0, 1, 2, 3], [[3, 4, 3, 4], [100, 200, 300, 400], [5, 2, 4, 3], [5, 2, 4, 9], [1, 2, 3, 4], [10, 11, 12, 13], [170, -170, 170, -170]]), 0, TestContext.Current.CancellationToken);
        var log = joined.ToLog();
        Assert.Equal([s_start], log.Starts.ToArray());
        Assert.Equal(4, log.IntervalSeconds);

        // Rms of 3, 4, 3, 4 is the root of 12.5; angles either side of 180 degrees have their mean there, not at 0.
        double[] wanted = [Math.Sqrt(12.5), 250, 2, 9, 10, 13];
        for (var column = 0; column < wanted.Length; column++) Assert.Equal(wanted[column], log.Values(column)[0], 9);
        Assert.Equal(180, Math.Abs(log.Values(6)[0]), 9);
    }

    [Fact]
    public void A_joined_row_begins_on_whole_multiples_of_its_length_and_none_bridges_a_gap()
    {
        // Begins two seconds before a multiple of four; six seconds are missing from second 9 on.
        int[] seconds = [2, 3, 4, 5, 6, 7, 8, 15, 16, 17, 18, 19];
        var joined = new JoinedLog(4);
        joined.Add(Of(seconds, Ramp(seconds)), 0, TestContext.Current.CancellationToken);
        var log = joined.ToLog();
        Assert.Equal([At(4), At(16)], log.Starts.ToArray());
        Assert.Equal([5.5, 17.5], log.Values(1).ToArray());
    }

    [Fact]
    public void Pieces_give_what_the_whole_gives_wherever_they_are_cut()
    {
        int[] seconds = [.. Enumerable.Range(0, 40)];
        var whole = new JoinedLog(5);
        whole.Add(Of(seconds, Ramp(seconds)), 0, TestContext.Current.CancellationToken);
        var wanted = whole.ToLog();
        for (var cut = 1; cut < seconds.Length; cut++)
        {
            var parts = new JoinedLog(5);
            parts.Add(Of(seconds[..cut], Ramp(seconds[..cut])), 0, TestContext.Current.CancellationToken);
            parts.Add(Of(seconds[cut..], Ramp(seconds[cut..])), 0, TestContext.Current.CancellationToken);
            var log = parts.ToLog();
            Assert.Equal(wanted.Starts.ToArray(), log.Starts.ToArray());
            for (var column = 0; column < s_columns.Length; column++) Assert.Equal(wanted.Values(column).ToArray(), log.Values(column).ToArray());
        }
    }

    [Fact]
    public void Rows_that_are_not_joined_keep_their_times_and_values()
    {
        int[] seconds = [2, 3, 4, 9, 10];
        var parts = new JoinedLog(1);
        parts.Add(new IntervalLog([.. s_columns], [.. seconds.Select(second => At(second) + 1234)], Ramp(seconds), 1), 0, TestContext.Current.CancellationToken);
        var log = parts.ToLog();
        Assert.Equal(seconds.Select(second => At(second) + 1234), log.Starts.ToArray());
        for (var column = 0; column < 6; column++) Assert.Equal(seconds.Select(second => (double)second), log.Values(column).ToArray());
    }

    [Fact]
    public void A_value_is_missing_where_half_of_its_rows_lack_it_and_an_amount_where_one_does()
    {
        var nan = double.NaN;
        var joined = new JoinedLog(4);
        joined.Add(Of([0, 1, 2, 3], [[3, nan, 3, 3], [100, nan, nan, 400], [5, 2, 4, 3], [5, 2, 4, 9], [1, nan, 3, 4], [10, 11, 12, nan], [0, 0, 0, 0]]), 0, TestContext.Current.CancellationToken);
        var log = joined.ToLog();
        Assert.Equal(3, log.Values(0)[0], 9);
        Assert.True(double.IsNaN(log.Values(1)[0]));
        Assert.True(double.IsNaN(log.Values(4)[0]));
        Assert.Equal(12, log.Values(5)[0]);
    }

    [Fact]
    public void A_piece_goes_on_from_where_the_clock_was_put_right_and_what_lies_before_it_is_counted()
    {
        var joined = new JoinedLog(2);
        joined.Add(Of([0, 1, 2, 3], Ramp([0, 1, 2, 3])), 0, TestContext.Current.CancellationToken);
        joined.Add(Of([3603, 3604, 3605], Ramp([3, 4, 5])), -TimeSpan.TicksPerHour, TestContext.Current.CancellationToken);
        var log = joined.ToLog();
        Assert.Equal([At(0), At(2), At(4)], log.Starts.ToArray());
        Assert.Equal([0.5, 2.5, 4.5], log.Values(1).ToArray());
        Assert.Equal(1, joined.LeftOutCount);
    }

    [Fact]
    public void A_piece_of_another_interval_or_with_other_columns_is_refused()
    {
        var joined = new JoinedLog(2);
        joined.Add(Of([0, 1, 2, 3], Ramp([0, 1, 2, 3])), 0, TestContext.Current.CancellationToken);
        Assert.Throws<ArgumentException>(() => joined.Add(new IntervalLog([.. s_columns], [At(10), At(20)], Ramp([1, 2]), 10), 0, TestContext.Current.CancellationToken));
        Assert.Throws<ArgumentException>(() => joined.Add(new IntervalLog([s_columns[0]], [At(10), At(11)], [[1, 2]], 1), 0, TestContext.Current.CancellationToken));
        Assert.Throws<InvalidOperationException>(() => new JoinedLog(2).ToLog());
    }

    private static long At(int seconds) => s_start + (seconds * TimeSpan.TicksPerSecond);

    private static double[][] Ramp(int[] seconds) => [.. s_columns.Select(_ => seconds.Select(second => (double)second).ToArray())];

    private static IntervalLog Of(int[] seconds, double[][] values) => new([.. s_columns], [.. seconds.Select(At)], values, 1);
}
