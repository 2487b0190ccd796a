using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Limits;

namespace Leadwright.Core.Tests.Studies.Limits;

/// <summary>The counts of EN 50160: a week has 1008 values of ten minutes, 95 % allows 50 outside.</summary>
public sealed class LimitCheckTests
{
    private const int Week = 1008;

    private static readonly LimitRule s_rule = new("voltage-95", LimitQuantity.Voltage)
    {
        PerSeconds = 600, Least = 90, Most = 110, IsOfNominal = true, SharePercent = 95, PeriodDays = 7,
    };

    [Theory]
    [InlineData(50, LimitVerdict.Pass)]
    [InlineData(51, LimitVerdict.Fail)]
    public void A_week_allows_fifty_values_outside(int outside, LimitVerdict verdict)
    {
        var line = Judge(Volts(Week, outside));
        Assert.Equal(verdict, line.Verdict);
        Assert.Equal((207, 253), (Math.Round(line.Least, 9), Math.Round(line.Most, 9)));
        Assert.Equal((Week, Week), (line.Count, line.NeededCount));
    }

    [Fact]
    public void Less_than_a_week_is_not_enough_to_pass_but_shows_what_was_measured()
    {
        var line = Judge(Volts(500, 10));
        Assert.Equal(LimitVerdict.NotEnoughData, line.Verdict);
        Assert.Equal("500 values of 1008 that a week holds", line.Why);
        Assert.Equal(98, line.WithinPercent, 1e-9);
    }

    [Fact]
    public void More_outside_than_a_week_allows_fails_before_the_week_is_over() =>
        Assert.Equal(LimitVerdict.Fail, Judge(Volts(500, 51)).Verdict);

    [Fact]
    public void Flagged_values_are_left_out()
    {
        var data = Volts(Week, 60);
        var flags = new bool[Week];
        for (var row = 0; row < 20; row++) flags[row] = true;
        var line = Judge(data with { Flagged = flags });
        Assert.Equal(LimitVerdict.Pass, line.Verdict);
        Assert.Equal((20, Week - 20), (line.FlaggedCount, line.Count));
    }

    [Fact]
    public void An_interruption_in_a_log_is_left_out_with_its_edges()
    {
        // Forty values outside pass; with the twenty of the interruption, half an interval of it at either end, they would not.
        var volts = Volts(Week, 40).Log.Values(0).ToArray();
        for (var row = 300; row < 320; row++) volts[row] = row is 300 or 319 ? 115 : 0;
        var line = Judge(StudyLog.Data(600, (LogQuantity.Voltage, LogPlace.Phase1, volts)));
        Assert.Equal(LimitVerdict.Pass, line.Verdict);
        Assert.Equal((20, Week - 20), (line.FlaggedCount, line.Count));
    }

    [Fact]
    public void A_lead_that_reads_nothing_beside_others_that_do_is_no_interruption()
    {
        var data = StudyLog.Data(
            600, (LogQuantity.Voltage, LogPlace.Phase1, StudyLog.Constant(Week, 230)), (LogQuantity.Voltage, LogPlace.Phase2, StudyLog.Constant(Week, 0)));
        Assert.All(LimitCheck.Judge(data, new LimitTable("own", "", "", [s_rule]), new LimitSite()), line => Assert.Equal(0, line.FlaggedCount));
    }

    [Fact]
    public void A_rebuilt_voltage_is_no_witness_of_an_interruption()
    {
        var standings = new Standing[Week];
        for (var row = 100; row < 110; row++) standings[row] = Standing.Modelled;
        var volts = StudyLog.Constant(Week, 230);
        for (var row = 100; row < 110; row++) volts[row] = 0;
        Assert.Equal(0, Judge(StudyLog.Data(600, (LogQuantity.Voltage, LogPlace.Phase1, volts)).With(0, standings)).FlaggedCount);
    }

    [Fact]
    public void Estimated_values_count_as_missing()
    {
        var standings = new Standing[Week];
        for (var row = 0; row < 100; row++) standings[row] = Standing.Modelled;
        var line = Judge(Volts(Week, 0).With(0, standings));
        Assert.Equal(LimitVerdict.NotEnoughData, line.Verdict);
        Assert.Equal(Week - 100, line.Count);
    }

    [Fact]
    public void Shorter_intervals_are_brought_to_ten_minutes_by_the_root_of_the_mean_square()
    {
        // Ten minutes of half 220 and half 240 V: √((220² + 240²)/2) = 230.217 V.
        var volts = Enumerable.Range(0, Week * 10).Select(row => row % 10 < 5 ? 220.0 : 240).ToArray();
        var line = Judge(StudyLog.Data(60, (LogQuantity.Voltage, LogPlace.Phase1, volts)));
        Assert.Equal(LimitVerdict.Pass, line.Verdict);
        Assert.Equal(Math.Sqrt(((220.0 * 220) + (240 * 240)) / 2), line.Measured, 1e-9);
    }

    [Fact]
    public void Longer_intervals_cannot_be_judged()
    {
        var line = Judge(StudyLog.Data(900, (LogQuantity.Voltage, LogPlace.Phase1, StudyLog.Constant(672, 230))));
        Assert.Equal(LimitVerdict.NotEnoughData, line.Verdict);
        Assert.Contains("600 s", line.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void The_worst_channel_and_the_worst_week_are_shown()
    {
        var good = StudyLog.Constant(2 * Week, 230);
        var bad = StudyLog.Constant(2 * Week, 230);
        for (var row = Week; row < Week + 100; row++) bad[row] = 200;
        var line = Judge(StudyLog.Data(600, (LogQuantity.Voltage, LogPlace.Phase1, good), (LogQuantity.Voltage, LogPlace.Phase2, bad)));
        Assert.Equal((LimitVerdict.Fail, LogPlace.Phase2, StudyLog.Start.AddDays(7)), (line.Verdict, line.Place, line.From));
    }

    [Fact]
    public void A_missing_nominal_voltage_and_a_missing_quantity_are_said()
    {
        Assert.Equal("the nominal voltage is not stated", Judge(Volts(Week, 0) with { Nominal = null }).Why);
        var table = new LimitTable("own", "", "", [new LimitRule("f", LimitQuantity.Frequency) { PerSeconds = 10, Least = 49.5 }]);
        Assert.Equal("not in the record", Assert.Single(LimitCheck.Judge(Volts(Week, 0), table, new LimitSite())).Why);
    }

    [Fact]
    public void Currents_are_judged_against_the_stated_demand_current()
    {
        // 20 % of 50 A is 10 A: 10 % of a demand current of 100 A.
        var data = StudyLog.Data(
            600, (LogQuantity.Current, LogPlace.Phase1, StudyLog.Constant(Week, 50 * Math.Sqrt(1.04))), (LogQuantity.CurrentDistortion, LogPlace.Phase1, StudyLog.Constant(Week, 20)));
        var table = new LimitTable("own", "", "", [new LimitRule("tdd", LimitQuantity.CurrentDistortion) { PerSeconds = 600, Most = 8, SharePercent = 95, PeriodDays = 7 }]);
        var line = Assert.Single(LimitCheck.Judge(data, table, new LimitSite { DemandAmperes = 100 }));
        Assert.Equal(10, line.Measured, 1e-9);
        Assert.Equal(LimitVerdict.Fail, line.Verdict);
        Assert.Contains("demand current is not stated", Assert.Single(LimitCheck.Judge(data, table, new LimitSite())).Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Twelve_short_term_values_make_a_long_term_one()
    {
        // Plt = ∛(Σ Pst³ / 12): one Pst of 2 among eleven of 0 gives ∛(8/12).
        var pst = new double[12];
        pst[3] = 2;
        var table = new LimitTable("own", "", "", [new LimitRule("plt", LimitQuantity.LongTermFlicker) { PerSeconds = 7200, Most = 1 }]);
        var line = Assert.Single(LimitCheck.Judge(StudyLog.Data(600, (LogQuantity.ShortTermFlicker, LogPlace.Phase1, pst)), table, new LimitSite()));
        Assert.Equal(Math.Cbrt(8.0 / 12), line.Measured, 1e-12);
        Assert.Equal(LimitVerdict.Pass, line.Verdict);
    }

    private static LimitLine Judge(StudyData data) => Assert.Single(LimitCheck.Judge(data, new LimitTable("own", "", "", [s_rule]), new LimitSite()));

    private static StudyData Volts(int count, int outside)
    {
        var volts = StudyLog.Constant(count, 230);
        for (var row = 0; row < outside; row++) volts[row] = 206;
        return StudyLog.Data(600, (LogQuantity.Voltage, LogPlace.Phase1, volts));
    }
}
