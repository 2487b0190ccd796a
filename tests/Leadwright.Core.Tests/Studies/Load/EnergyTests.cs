using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Load;

namespace Leadwright.Core.Tests.Studies.Load;

public sealed class EnergyTests
{
    private static readonly ImmutableArray<DayOfWeek> s_workdays = [DayOfWeek.Monday, DayOfWeek.Tuesday, DayOfWeek.Wednesday, DayOfWeek.Thursday, DayOfWeek.Friday];

    [Fact]
    public void Energy_is_split_by_direction_and_counts_only_what_is_known()
    {
        var data = StudyLog.Data(1800, (LogQuantity.ActivePower, LogPlace.Whole, [1000, -400, double.NaN, 600]));
        var (import, export) = data.Directions()!.Value;
        var total = EnergyTable.Total(import, export);
        Assert.Equal(800, total.ImportWattHours, 1e-9);
        Assert.Equal(200, total.ExportWattHours, 1e-9);
        Assert.Equal(5400, total.KnownSeconds);
        Assert.Equal(7200, total.Seconds);
        Assert.Equal([300.0 + 0, 500], EnergyTable.ByHour(import, export).Select(row => row.ImportWattHours).Order());
    }

    [Fact]
    public void Separate_registers_are_not_netted()
    {
        // Within one interval energy flowed both ways: 5 Wh in, 3 Wh out.
        var log = new IntervalLog(
            [
                new LogColumn("in", LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount),
                new LogColumn("out", LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount) { IsExport = true },
            ],
            StudyLog.Starts(2, 900), [[5, 0], [3, 0]], 900);
        var (import, export) = new StudyData(log).Directions()!.Value;
        var total = EnergyTable.Total(import, export);
        Assert.Equal((5, 3, 2), (total.ImportWattHours, total.ExportWattHours, total.NetWattHours));
    }

    [Fact]
    public void Estimated_energy_is_counted_and_told()
    {
        var data = StudyLog.Data(3600, (LogQuantity.ActivePower, LogPlace.Whole, [100, 200])).With(0, [Standing.Measured, Standing.Modelled]);
        var (import, export) = data.Directions()!.Value;
        var total = EnergyTable.Total(import, export);
        Assert.Equal((300, 200, Standing.Modelled), (total.ImportWattHours, total.ModelledWattHours, total.Weakest));
    }

    [Fact]
    public void Periods_follow_days_times_seasons_and_holidays()
    {
        var calendar = new TariffCalendar(
            "invented",
            [
                new TariffPeriod("winter peak", s_workdays, false, new(17, 0, 0), new(20, 0, 0)) { SeasonFrom = (11, 1), SeasonTo = (3, 31) },
                new TariffPeriod("night", [.. Enum.GetValues<DayOfWeek>()], true, new(22, 0, 0), new(6, 0, 0)),
            ],
            "day", [new DateOnly(2026, 3, 6)]);
        Assert.Equal("winter peak", calendar.At(new DateTime(2026, 3, 2, 17, 0, 0)));
        Assert.Equal("day", calendar.At(new DateTime(2026, 3, 2, 20, 0, 0)));
        Assert.Equal("day", calendar.At(new DateTime(2026, 3, 6, 18, 0, 0)));
        Assert.Equal("night", calendar.At(new DateTime(2026, 3, 6, 5, 59, 0)));
        Assert.Equal("night", calendar.At(new DateTime(2026, 3, 7, 22, 0, 0)));
        Assert.Equal("day", calendar.At(new DateTime(2026, 4, 1, 18, 0, 0)));

        // A whole Monday of 1 kW: 3 h winter peak, 8 h night, 13 h day.
        var import = StudyLog.Series(3600, StudyLog.Constant(24, 1000));
        var rows = EnergyTable.ByPeriod(import, StudyLog.Series(3600, StudyLog.Constant(24, 0)), calendar);
        Assert.Equal([("winter peak", 3000.0), ("night", 8000), ("day", 13000)], rows.Select(row => (row.Name, Math.Round(row.ImportWattHours, 6))));
    }

    [Fact]
    public void Base_and_near_peak_load_are_percentiles_of_whole_days()
    {
        // 0 to 95 W once each in a day: type-7 percentiles at 0.025·95 and 0.975·95.
        var (low, high, days) = LoadShape.BaseAndPeak(StudyLog.Series(900, [.. Enumerable.Range(0, 96).Select(value => (double)value)]));
        Assert.Equal((2.375, 92.625, 1), (low, high, days));
    }

    [Fact]
    public void A_cycling_load_is_found_with_its_size_and_pace()
    {
        // 2 kW on for 5 min every 20 min upon 300 W.
        double[] watts = [.. Enumerable.Range(0, 480).Select(minute => minute % 20 is >= 7 and < 12 ? 2300.0 : 300)];
        var cycle = Assert.Single(LoadCycle.Find(StudyLog.Series(60, watts)));
        Assert.Equal((2000, 24, 300, 1200), (cycle.Watts, cycle.Count, cycle.OnSeconds, cycle.PeriodSeconds));
    }
}
