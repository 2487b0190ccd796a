using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Limits;

namespace Leadwright.Core.Tests.Studies.Limits;

/// <summary>A lead that was off for a part of the week: what the other leads measured still counts, and the line says what does not.</summary>
public sealed class LostLeadTests
{
    private const int Week = 1008;

    private static readonly LimitTable s_table = new("own", "", "", [new LimitRule("voltage-95", LimitQuantity.Voltage) { PerSeconds = 600, Least = 90, Most = 110, IsOfNominal = true, SharePercent = 95, PeriodDays = 7 }]);

    [Fact]
    public void Leads_that_stayed_on_are_judged_and_the_lost_one_is_named()
    {
        var line = Judge(230, 230, StandingsOf(Standing.Lost, 400));
        Assert.Equal(LimitVerdict.Pass, line.Verdict);
        Assert.NotEqual(LogPlace.Phase3, line.Place);
        var lost = Assert.Single(line.NotJudged);
        Assert.Equal((LogPlace.Phase3, LimitVerdict.NotEnoughData, Week - 400), (lost.Place, lost.Verdict, lost.Count));
        Assert.Equal("V3 not judged: 608 values of 1008 that a week holds", line.Why);
        Assert.Equal([LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3], line.Channels.Select(one => one.Place));
    }

    [Fact]
    public void A_lead_that_is_wrong_fails_though_another_one_is_lost()
    {
        var line = Judge(200, 230, StandingsOf(Standing.Lost, Week));
        Assert.Equal((LimitVerdict.Fail, LogPlace.Phase1), (line.Verdict, line.Place));
        Assert.Equal("V3 not judged: no value in the record", line.Why);
    }

    [Fact]
    public void What_a_lost_lead_read_meanwhile_is_never_judged()
    {
        // Zero volts while it was off would fail at once.
        var volts = StudyLog.Constant(Week, 230);
        for (var row = 0; row < 400; row++) volts[row] = 0;
        var line = Judge(230, 230, StandingsOf(Standing.Lost, 400), volts);
        Assert.Equal(LimitVerdict.Pass, line.Verdict);
        Assert.Equal(230, Assert.Single(line.NotJudged).Measured);
    }

    [Fact]
    public void An_estimated_stretch_counts_as_missing_and_a_mended_one_as_measured()
    {
        Assert.Equal(LogPlace.Phase3, Assert.Single(Judge(230, 230, StandingsOf(Standing.Modelled, 400)).NotJudged).Place);
        var mended = Judge(230, 230, StandingsOf(Standing.Mended, 400));
        Assert.Empty(mended.NotJudged);
        Assert.Equal(Standing.Mended, Assert.Single(mended.Channels, one => one.Place == LogPlace.Phase3).Weakest);
    }

    [Fact]
    public void All_leads_lost_decide_nothing()
    {
        var data = StudyLog.Data(600, (LogQuantity.Voltage, LogPlace.Phase1, StudyLog.Constant(Week, 230)), (LogQuantity.Voltage, LogPlace.Phase2, StudyLog.Constant(Week, 230)))
            .With(0, StandingsOf(Standing.Lost, 500)).With(1, StandingsOf(Standing.Lost, 500));
        var line = Assert.Single(LimitCheck.Judge(data, s_table, new LimitSite()));
        Assert.Equal(LimitVerdict.NotEnoughData, line.Verdict);
        Assert.Empty(line.NotJudged);
    }

    private static Standing[] StandingsOf(Standing standing, int count)
    {
        var standings = new Standing[Week];
        standings.AsSpan(0, count).Fill(standing);
        return standings;
    }

    private static LimitLine Judge(double first, double second, Standing[] third, double[]? thirdVolts = null) => Assert.Single(LimitCheck.Judge(
        StudyLog.Data(
            600, (LogQuantity.Voltage, LogPlace.Phase1, StudyLog.Constant(Week, first)), (LogQuantity.Voltage, LogPlace.Phase2, StudyLog.Constant(Week, second)),
            (LogQuantity.Voltage, LogPlace.Phase3, thirdVolts ?? StudyLog.Constant(Week, 231))).With(2, third),
        s_table, new LimitSite()));
}
