using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Findings;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Core.Tests.Studies.Findings;

public sealed class WorstDaysTests
{
    private const int Day = 144;

    [Fact]
    public void Days_are_ranked_with_value_time_and_share()
    {
        // Three days of ten minutes: 228, 221 and 225 V at their lowest, the third day half recorded.
        var volts = StudyLog.Constant(3 * Day, 230);
        (volts[30], volts[Day + 60], volts[(2 * Day) + 6]) = (228, 221, 225);
        volts.AsSpan((2 * Day) + (Day / 2)).Fill(double.NaN);
        var lowest = Assert.Single(WorstDays.Of(StudyLog.Data(600, (LogQuantity.Voltage, LogPlace.Phase1, volts)), null, []), ranking => ranking.Name == "lowest voltage");
        Assert.Equal([(3, 221), (4, 225), (2, 228)], lowest.Days.Select(day => (day.Day.Day, (int)day.Value)));
        Assert.Equal(new DateTime(2026, 3, 3, 10, 0, 0), lowest.Days[0].At);
        Assert.Equal([1, 0.5, 1], lowest.Days.Select(day => day.KnownShare));
    }

    [Fact]
    public void What_an_event_did_to_an_interval_makes_no_day_worst()
    {
        var volts = StudyLog.Constant(2 * Day, 230);
        volts[50] = 120;
        var flags = new bool[2 * Day];
        flags[50] = true;
        var data = StudyLog.Data(600, (LogQuantity.Voltage, LogPlace.Phase1, volts)) with { Flagged = flags };
        var lowest = Assert.Single(WorstDays.Of(data, null, []), ranking => ranking.Name == "lowest voltage");
        Assert.All(lowest.Days, day => Assert.Equal(230, day.Value));
        var events = Assert.Single(WorstDays.Of(data, null, [new StudyEvent("dip", ["V1"], StudyLog.Start.AddMinutes(500), 0.2, 40)]), ranking => ranking.Name == "voltage events");
        Assert.Equal((2, 1), (Assert.Single(events.Days).Day.Day, (int)events.Days[0].Value));
    }

    [Fact]
    public void Demand_and_energy_rank_by_their_day()
    {
        var watts = StudyLog.Constant(2 * Day, 5000);
        watts[Day + 60] = watts[Day + 61] = watts[Day + 62] = 20_000;
        var data = StudyLog.Data(600, (LogQuantity.ActivePower, LogPlace.Whole, watts));
        var days = WorstDays.Of(data, LoadStudy.Of(data, new LoadStudyOptions { DemandMinutes = [30] }), []);
        var demand = Assert.Single(days, ranking => ranking.Name == "highest demand, 30 min");
        Assert.Equal((3, 20.0), (demand.Days[0].Day.Day, demand.Days[0].Value));
        // 120 kWh and 120 + 3 · 15 kW / 6 = 127.5 kWh (by hand).
        Assert.Equal([127.5, 120], Assert.Single(days, ranking => ranking.Name == "energy to the load").Days.Select(day => Math.Round(day.Value, 9)));
    }

    [Fact]
    public void A_record_within_one_day_ranks_nothing() =>
        Assert.Empty(WorstDays.Of(StudyLog.Data(600, (LogQuantity.Voltage, LogPlace.Phase1, StudyLog.Constant(100, 230))), null, []));
}
