using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Core.Tests.Studies.Load;

/// <summary>Hand-computed examples; the demand of real files is held in the program's tests.</summary>
public sealed class DemandTests
{
    [Fact]
    public void A_rectangular_peak_across_a_block_border_shows_half_in_blocks_and_whole_in_a_sliding_window()
    {
        // A rectangle of 15 min that lies half in each of two blocks: the worst reading of fixed blocks is one half (derived).
        var watts = StudyLog.Constant(60, 0);
        for (var row = 22; row < 37; row++) watts[row] = 1000;
        var power = StudyLog.Series(60, watts);
        var block = Demand.Highest(power, DemandKind.Block, 15)!;
        var sliding = Demand.Highest(power, DemandKind.Sliding, 15)!;

        Assert.Equal(1000 * 8 / 15.0, block.Watts, 1e-9);
        Assert.Equal(StudyLog.Start.AddMinutes(15), block.From);
        Assert.Equal(1000, sliding.Watts, 1e-9);
        Assert.Equal(StudyLog.Start.AddMinutes(22), sliding.From);
        Assert.Equal(StudyLog.Start.AddMinutes(37), sliding.To);
        Assert.Equal(4, block.WindowCount);
        Assert.Equal(46, sliding.WindowCount);
    }

    [Fact]
    public void Load_factor_is_mean_over_peak()
    {
        var peak = Demand.Highest(StudyLog.Series(900, 10, 20, 40, 10), DemandKind.Block, 15)!;
        Assert.Equal(40, peak.Watts);
        Assert.Equal(0.5, peak.LoadFactor, 1e-12);
    }

    [Theory]
    [InlineData(10)]
    [InlineData(40)]
    public void A_length_that_is_no_whole_number_of_intervals_gives_nothing(double minutes) =>
        Assert.Null(Demand.Highest(StudyLog.Series(900, 1, 2, 3), DemandKind.Block, minutes));

    [Fact]
    public void An_estimated_interval_is_never_a_peak_but_is_told()
    {
        Standing[] standings = [Standing.Measured, Standing.Modelled, Standing.Mended, Standing.Lost];
        var peak = Demand.Highest(StudyLog.Series(900, [10, 90, 30, double.NaN], standings), DemandKind.Block, 15)!;
        Assert.Equal(30, peak.Watts);
        Assert.Equal(Standing.Mended, peak.Weakest);
        Assert.Equal(2, peak.LeftOutCount);
        Assert.Equal(90, peak.HighestModelledWatts);
    }

    [Fact]
    public void A_window_does_not_reach_across_a_gap()
    {
        long[] starts = [.. StudyLog.Starts(2, 900), StudyLog.Start.AddHours(3).Ticks, StudyLog.Start.AddHours(3.25).Ticks];
        var power = new Leadwright.Core.Studies.StudySeries(starts, 900, [10, 50, 60, 20]);
        Assert.Equal(40, Demand.Highest(power, DemandKind.Sliding, 30)!.Watts);
        Assert.Equal(1, Demand.Highest(power, DemandKind.Sliding, 30)!.LeftOutCount);
    }

    [Fact]
    public void Coincidence_is_the_peak_of_the_sum_over_the_sum_of_the_peaks()
    {
        var (a, b) = (StudyLog.Series(900, 4, 1), StudyLog.Series(900, 1, 5));
        var found = PeakCoincidence.Of(StudyLog.Series(900, 5, 6), [a, b], DemandKind.Block, 15)!;
        Assert.Equal(6.0 / 9, found.Factor, 1e-12);
        Assert.Equal([1, 5], found.Together.PhaseWatts);
    }
}
