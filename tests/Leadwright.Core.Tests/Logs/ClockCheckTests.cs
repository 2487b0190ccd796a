using Leadwright.Core.Logs;

namespace Leadwright.Core.Tests.Logs;

public sealed class ClockCheckTests
{
    private const long Minute = TimeSpan.TicksPerMinute;
    private static readonly long s_start = new DateTime(2026, 6, 1, 0, 0, 0, DateTimeKind.Unspecified).Ticks;

    [Fact]
    public void An_even_clock_has_no_findings() => Assert.Empty(ClockCheck.Look(Even(100), 900));

    [Fact]
    public void No_stamp_and_one_stamp_have_no_findings_and_no_interval()
    {
        Assert.Empty(ClockCheck.Look([], 900));
        Assert.Empty(ClockCheck.Look([s_start], 900));
        Assert.Equal(0, ClockCheck.IntervalOf([]));
        Assert.Equal(0, ClockCheck.IntervalOf([s_start]));
    }

    [Fact]
    public void The_interval_is_the_commonest_step()
    {
        var stamps = Even(50).Where((_, row) => row % 9 != 4).ToArray();
        Assert.Equal(900, ClockCheck.IntervalOf(stamps));
        Assert.Equal(900, ClockCheck.IntervalOf([.. stamps.Reverse()]));
        // Stamps to the millisecond that never agree: the median, as a whole second.
        Assert.Equal(60, ClockCheck.IntervalOf([.. Enumerable.Range(0, 40).Select(row => s_start + (row * Minute) + (row * row % 97 * TimeSpan.TicksPerMillisecond))]));
    }

    [Fact]
    public void A_gap_is_told_with_what_is_missing()
    {
        var stamps = Even(40).Where((_, row) => row is < 10 or >= 15).ToArray();
        var gap = Assert.Single(ClockCheck.Look(stamps, 900));
        Assert.Equal(new ClockFinding(ClockFindingKind.Gap, 10, 5, stamps[9], stamps[10], 4500), gap);
    }

    [Fact]
    public void A_clock_that_loses_two_seconds_an_hour_drifts()
    {
        // 0.5 s late in each quarter of an hour, stamps in whole seconds: 95 steps make 47.5 s.
        var stamps = Enumerable.Range(0, 96).Select(row => s_start + (row * 15 * Minute) + (row / 2 * TimeSpan.TicksPerSecond)).ToArray();
        var drift = Assert.Single(ClockCheck.Look(stamps, 900));
        Assert.Equal(ClockFindingKind.Drift, drift.Kind);
        Assert.Equal(47.5, drift.Seconds, 0.2);
        Assert.Equal(96, drift.RowCount);
    }

    [Fact]
    public void Stamps_that_scatter_are_uneven()
    {
        var stamps = Enumerable.Range(0, 96).Select(row => s_start + (row * Minute) + (row * 37 % 11 * TimeSpan.TicksPerSecond)).ToArray();
        var uneven = Assert.Single(ClockCheck.Look(stamps, 60));
        Assert.Equal(ClockFindingKind.Uneven, uneven.Kind);
        // Evenly spread over 0 to 10 s: a standard deviation of the square root of 10.
        Assert.Equal(Math.Sqrt(10), uneven.Seconds, 0.1);
    }

    [Theory]
    // The clocks of central Europe and of North America in 2026: directive 2000/84/EC and the Energy Policy Act of 2005.
    [InlineData(2026, 3, 29, 2, ClockFindingKind.DaylightForward)]
    [InlineData(2026, 10, 25, 3, ClockFindingKind.DaylightBack)]
    [InlineData(2026, 3, 8, 2, ClockFindingKind.DaylightForward)]
    [InlineData(2026, 11, 1, 2, ClockFindingKind.DaylightBack)]
    public void Daylight_saving_is_told_from_gaps_and_steps(int year, int month, int day, int hour, ClockFindingKind kind)
    {
        var change = new DateTime(year, month, day, hour, 0, 0, DateTimeKind.Unspecified).Ticks;
        var moved = (kind == ClockFindingKind.DaylightForward ? 60 : -60) * Minute;
        long[] stamps = [.. Enumerable.Range(-12, 12).Select(row => change + (row * 5 * Minute)), .. Enumerable.Range(0, 30).Select(row => change + moved + (row * 5 * Minute))];
        var finding = Assert.Single(ClockCheck.Look(stamps, 300));
        Assert.Equal((kind, 12, change - (5 * Minute), change + moved), (finding.Kind, finding.Row, finding.Before, finding.At));
    }

    [Fact]
    public void An_hour_on_a_weekday_is_a_gap_or_a_step()
    {
        var change = new DateTime(2026, 3, 30, 2, 0, 0, DateTimeKind.Unspecified).Ticks;
        long[] Jump(long by) => [.. Enumerable.Range(-12, 12).Select(row => change + (row * 5 * Minute)), .. Enumerable.Range(0, 30).Select(row => change + by + (row * 5 * Minute))];
        Assert.Equal(ClockFindingKind.Gap, Assert.Single(ClockCheck.Look(Jump(60 * Minute), 300)).Kind);
        Assert.Equal(ClockFindingKind.StepBack, Assert.Single(ClockCheck.Look(Jump(-60 * Minute), 300)).Kind);
    }

    [Fact]
    public void A_step_back_by_less_than_an_interval_is_a_step_back()
    {
        long[] stamps = [.. Even(12), .. Enumerable.Range(12, 12).Select(row => s_start + (row * 15 * Minute) - (8 * Minute))];
        var step = Assert.Single(ClockCheck.Look(stamps, 900));
        Assert.Equal((ClockFindingKind.StepBack, 480.0), (step.Kind, step.Seconds));
    }

    [Fact]
    public void Duplicates_and_rows_out_of_order_are_told()
    {
        var even = Even(10);
        long[] stamps = [even[0], even[1], even[1], even[2], even[4], even[3], even[5], even[6]];
        Assert.Equal([ClockFindingKind.Duplicate, ClockFindingKind.Gap, ClockFindingKind.OutOfOrder], ClockCheck.Look(stamps, 900).Select(finding => finding.Kind));
    }

    private static long[] Even(int count) => [.. Enumerable.Range(0, count).Select(row => s_start + (row * 15 * Minute))];
}
