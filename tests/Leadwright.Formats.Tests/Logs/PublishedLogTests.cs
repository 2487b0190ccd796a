using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;

namespace Leadwright.Formats.Tests.Logs;

/// <summary>Logs that others published, against figures worked out by an independent reader (tests/data/README.md).</summary>
public sealed class PublishedLogTests
{
    private static readonly LogFile s_steel = ReadLog.Of(TestData.File("interval/steel-15min-2018-jan-jun.csv"));
    private static readonly LogFile s_house = ReadLog.Of(TestData.File("interval/household-1min-2007-02-01.csv"));

    [Fact]
    public void The_works_has_every_quarter_of_an_hour_of_half_a_year()
    {
        var log = s_steel.Log;
        Assert.Equal(17376, log.Count);
        Assert.Equal(900, log.IntervalSeconds);
        Assert.Equal(new DateTime(2018, 1, 1), log.From);
        Assert.Equal(new DateTime(2018, 7, 1), log.To);
        Assert.Empty(s_steel.Clock.Where(finding => finding.Kind is ClockFindingKind.Gap or ClockFindingKind.Duplicate));
    }

    [Fact]
    public void The_works_stamps_ends_and_midnight_bears_the_day_that_ended()
    {
        Assert.Equal(StampPlace.End, s_steel.Stamps);
        Assert.Equal(DateOrder.DayMonthYear, s_steel.DateOrder);
        Assert.Contains(s_steel.Warnings, warning => warning.Says.StartsWith("The row stamped 00:00 stands at the end of the day", StringComparison.Ordinal));
    }

    [Fact]
    public void The_works_used_the_published_energy_and_peak()
    {
        var log = s_steel.Log;
        var energy = log.Values(log.IndexOf(LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount)).ToArray();
        Assert.Equal(521199.76, energy.Sum() / 1000, 2);
        Assert.Equal(228436.05, Sum(log, LogQuantity.ReactiveEnergy) / 1000, 2);
        Assert.Equal(153140, energy.Max());
        // The peak is stamped 15/01/2018 13:45 at its end.
        Assert.Equal(new DateTime(2018, 1, 15, 13, 30, 0), new DateTime(log.Starts.Span[Array.IndexOf(energy, energy.Max())]));
        Assert.Equal(0.19587, energy.Average() / energy.Max(), 5);
    }

    [Fact]
    public void The_works_months_are_told_by_stamps()
    {
        // Published by the month of the stamp as it stands; the row of midnight bears the day, and so the month, that it ends.
        var months = new double[6];
        var log = s_steel.Log;
        var energy = log.Values(log.IndexOf(LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount));
        for (var row = 0; row < log.Count; row++) months[new DateTime(log.Starts.Span[row]).Month - 1] += energy[row] / 1000;
        Assert.Equal([126238.29, 91497.34, 80230.41, 78769.80, 79059.28, 65404.64], months.Select(month => Math.Round(month, 2)));
    }

    [Fact]
    public void The_works_leading_vars_are_counted_for_themselves()
    {
        var leading = s_steel.Log.Columns.Single(column => column.IsExport);
        Assert.Equal(LogQuantity.ReactiveEnergy, leading.Quantity);
        Assert.Equal(73405.07, s_steel.Log.Values(s_steel.Log.Columns.IndexOf(leading)).ToArray().Sum() / 1000, 2);
    }

    [Fact]
    public void The_works_power_factor_in_percent_becomes_a_factor()
    {
        var log = s_steel.Log;
        var factor = log.Values(log.IndexOf(LogQuantity.PowerFactor, LogPlace.Whole));
        var watts = log.Values(log.IndexOf(LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount));
        var vars = log.Values(log.IndexOf(LogQuantity.ReactiveEnergy, LogPlace.Whole, LogStatistic.Amount));
        for (var row = 0; row < log.Count; row++)
        {
            if (watts[row] > 0) Assert.Equal(watts[row] / Math.Sqrt((watts[row] * watts[row]) + (vars[row] * vars[row])), factor[row], 0.001);
        }
    }

    [Fact]
    public void What_the_works_table_has_besides_is_told_and_not_dropped()
    {
        Assert.Contains(s_steel.Warnings, warning => warning.Says.StartsWith("Column 'WeekStatus' holds words and is left out: \"Weekday\", \"Weekend\"", StringComparison.Ordinal));
        var carbon = s_steel.Log.Columns.Single(column => column.Name == "CO2(tCO2)");
        Assert.Equal((LogQuantity.Other, "tCO2"), (carbon.Quantity, carbon.OtherUnit));
        Assert.Equal(11, s_steel.Columns.Length);
    }

    [Fact]
    public void The_house_used_the_published_energy_and_peak()
    {
        var log = s_house.Log;
        Assert.Equal((1440, 60.0), (log.Count, log.IntervalSeconds));
        var watts = log.Values(log.IndexOf(LogQuantity.ActivePower, LogPlace.Whole)).ToArray();
        Assert.Equal(30.4127, watts.Sum() / 60000, 4);
        Assert.Equal(7482, watts.Max(), 9);
        Assert.Equal(2.5044, log.Values(log.IndexOf(LogQuantity.ReactivePower, LogPlace.Whole)).ToArray().Sum() / 60000, 4);
        var volts = log.Values(log.IndexOf(LogQuantity.Voltage, LogPlace.Whole)).ToArray();
        Assert.Equal((233.05, 245.73), (volts.Min(), volts.Max()));
        Assert.Equal(240.3921, volts.Average(), 4);
        var blocks = watts.Chunk(15).Select(block => block.Average()).ToArray();
        Assert.Equal(4541.9, blocks.Max(), 0.05);
        Assert.Equal(new TimeSpan(8, 30, 0), new DateTime(log.Starts.Span[15 * Array.IndexOf(blocks, blocks.Max())]).TimeOfDay);
    }

    [Fact]
    public void The_house_states_no_units_and_volts_times_amperes_tell_kilowatts()
    {
        var power = s_house.Columns.Single(column => column.Heading == "Global_active_power");
        Assert.Equal(("kW", 1000.0), (power.Unit, power.Factor));
        Assert.Contains("of V·I", power.Why, StringComparison.Ordinal);
        Assert.Equal("kvar", s_house.Columns.Single(column => column.Heading == "Global_reactive_power").Unit);
    }

    [Fact]
    public void The_house_dates_leave_day_and_month_open_and_that_is_asked()
    {
        Assert.Contains(s_house.Questions, question => question == "Do the dates stand as day, month, year?");
        Assert.Equal(new DateTime(2007, 2, 1), s_house.Log.From);
        var stated = ReadLog.Of(TestData.File("interval/household-1min-2007-02-01.csv"), new LogReadOptions { DateOrder = DateOrder.MonthDayYear });
        Assert.Equal(new DateTime(2007, 1, 2), stated.Log.From);
        Assert.DoesNotContain(stated.Questions, question => question.StartsWith("Do the dates", StringComparison.Ordinal));
    }

    [Fact]
    public void Files_are_told_apart_by_their_rows()
    {
        var inputs = InputReader.Read([TestData.File("interval/household-1min-2007-02-01.csv"), TestData.File("waveform/motor/SC_HLT_001.csv")],
            new InputReadOptions { Csv = new() { RateHertz = 1000, Columns = ["IA (A)", "IB (A)", "IC (A)"] } });
        Assert.IsType<LogInput>(inputs[0]);
        Assert.IsType<SampledInput>(inputs[1]);
    }

    [Fact]
    public void A_profile_of_the_works_is_recognised_by_its_headings()
    {
        var profile = ColumnProfile.Of(s_steel);
        Assert.True(profile.Fits(s_steel.Columns.Select(column => column.Heading).Reverse()));
        var again = ReadLog.Of(TestData.File("interval/steel-15min-2018-jan-jun.csv"), new LogReadOptions { Profiles = [profile] });
        Assert.All(again.Columns.Where(column => column.Role == ColumnRole.Value), column => Assert.True(column.IsStated));
        Assert.Equal(s_steel.Log.Columns, again.Log.Columns);
    }

    private static double Sum(IntervalLog log, LogQuantity quantity)
    {
        var values = log.Values(log.IndexOf(quantity, LogPlace.Whole, LogStatistic.Amount));
        var sum = 0.0;
        foreach (var value in values) sum += value;
        return sum;
    }
}
