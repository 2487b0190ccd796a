using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies;
using Leadwright.Core.Studies.Events;
using Leadwright.Core.Studies.Findings;

namespace Leadwright.Core.Tests.Studies.Findings;

public sealed class EventPatternsTests
{
    private const int Day = 1440, Week = 7 * Day;

    // One six in four throws, a double six in twenty-four: the wagers of the Chevalier de Méré, 671/1296 and 1 − (35/36)^24. The other two by exact fractions (Python's fractions and math.comb).
    [Theory]
    [InlineData(1, 4, 1.0 / 6, 671.0 / 1296)]
    [InlineData(1, 24, 1.0 / 36, 0.4914038761)]
    [InlineData(3, 10, 0.1, 0.0701908264)]
    [InlineData(20, 50, 0.25, 0.0139176087)]
    public void The_tail_is_that_of_the_binomial_distribution(int hits, int trials, double chance, double probability) =>
        Assert.Equal(probability, BinomialTail.AtLeast(hits, trials, chance), 1e-9);

    [Fact]
    public void Events_at_each_rise_of_a_load_come_together_with_it()
    {
        // 20 kW go on at odd hours, so that no hour of the day stands out, and a dip falls into each of these minutes.
        int[] ons = [130, 1700, 3333, 4800, 6210, 7900, 9150];
        var found = Patterns(Load(ons, []), ons.Select(At));
        Assert.Equal(("voltage events", 7), (found.Subject, found.Count));
        var rise = found.Patterns[0];
        Assert.Equal(("rise of load", "some 20 kW", 7), (rise.With, rise.Detail, rise.Hits));
        // Seven rises cover 21 of 10,080 minutes.
        Assert.Equal(21.0 / Week, rise.Chance, 1e-12);
        Assert.True(rise.IsBeyondChance && rise.Odds > 1e6);
        Assert.All(found.Patterns.Skip(1), pattern => Assert.False(pattern.IsBeyondChance, pattern.ToString()));
    }

    [Fact]
    public void Events_far_from_every_step_do_not()
    {
        int[] ons = [130, 1700, 3333, 4800, 6210, 7900, 9150];
        Assert.All(Patterns(Load(ons, []), ons.Select(row => At(row + 371))).Patterns, pattern => Assert.False(pattern.IsBeyondChance, pattern.ToString()));
    }

    [Fact]
    public void A_fall_of_the_load_is_told_apart_from_a_rise()
    {
        int[] ons = [130, 1700, 3333, 4800, 6210], offs = [900, 2600, 4100, 5500, 7077];
        var found = Patterns(Load(ons, offs), offs.Select(At));
        Assert.Equal(("fall of load", 5), (found.Patterns[0].With, found.Patterns[0].Hits));
        Assert.Equal(0, Assert.Single(found.Patterns, pattern => pattern.With == "rise of load").Hits);
    }

    [Fact]
    public void Events_at_one_hour_of_each_day_show_that_hour_and_no_day()
    {
        var found = Patterns(Load([], []), Enumerable.Range(0, 7).Select(day => At((day * Day) + 375)));
        var hour = found.Patterns[0];
        Assert.Equal(("hour of the day", "06:00 to 07:00", 7), (hour.With, hour.Detail, hour.Hits));
        Assert.Equal(1.0 / 24, hour.Chance, 1e-12);
        // (1/24)^7, for 24 hours and two kinds of look (by hand).
        Assert.Equal(2 * Math.Pow(24, -6), hour.Probability, 1e-15);
        Assert.False(Assert.Single(found.Patterns, pattern => pattern.With == "day of the week").IsBeyondChance);
    }

    [Fact]
    public void Events_on_one_day_of_the_week_show_that_day()
    {
        // 2026-03-04 is a Wednesday; the hours differ.
        var found = Patterns(Load([], []), Enumerable.Range(0, 8).Select(at => At((2 * Day) + (at * 170) + 5)));
        Assert.Equal(("day of the week", "Wednesday", 8), (found.Patterns[0].With, found.Patterns[0].Detail, found.Patterns[0].Hits));
    }

    [Fact]
    public void Hours_that_were_not_recorded_are_not_counted_as_chances()
    {
        // Recorded from six to seven only: every event lies in that hour, and that says nothing.
        var rows = Enumerable.Range(0, Week).Where(row => row % Day / 60 == 6).ToArray();
        var log = new IntervalLog([new LogColumn("P", LogQuantity.ActivePower)], [.. rows.Select(row => At(row).Ticks)], [StudyLog.Constant(rows.Length, 1000)], 60);
        var found = EventPatterns.Of(new StudyData(log), null, Dips(Enumerable.Range(0, 7).Select(day => At((day * Day) + 375))))!;
        Assert.Equal(1, Assert.Single(found.Patterns, pattern => pattern.With == "hour of the day").Probability);
    }

    [Fact]
    public void Events_within_a_minute_count_once_and_three_are_too_few()
    {
        Assert.Null(EventPatterns.Of(Load([], []), null, Dips(Enumerable.Range(0, 9).Select(at => At(100).AddSeconds(5 * at)))));
        Assert.Null(EventPatterns.Of(Load([], []), null, Dips([At(10), At(20), At(30)])));
    }

    [Fact]
    public void Of_a_log_without_events_sudden_falls_of_the_voltage_are_looked_at()
    {
        int[] ons = [130, 1700, 3333, 4800, 6210];
        var volts = StudyLog.Constant(Week, 231);
        foreach (var on in ons)
        {
            for (var row = on; row < on + 30; row++) volts[row] = 227;
        }

        var load = Load(ons, []);
        var data = StudyLog.Data(60, (LogQuantity.ActivePower, LogPlace.Whole, load.Log.Values(0).ToArray()), (LogQuantity.Voltage, LogPlace.Phase1, volts));
        var found = EventPatterns.Of(data, data.ActivePower(LogPlace.Whole), null)!;
        Assert.Equal(("sudden falls of voltage", 5, "rise of load", 5), (found.Subject, found.Count, found.Patterns[0].With, found.Patterns[0].Hits));
    }

    private static EventPatterns Patterns(StudyData data, IEnumerable<DateTime> times) => EventPatterns.Of(data, data.ActivePower(LogPlace.Whole), Dips(times))!;

    private static ImmutableArray<StudyEvent> Dips(IEnumerable<DateTime> times) => [.. times.Select(time => new StudyEvent("dip", ["V1"], time, 0.1, 70))];

    private static DateTime At(int row) => StudyLog.Start.AddMinutes(row).AddSeconds(20);

    // 10 kW with a slow wave of minutes; 20 kW more from each start on, over forty minutes or, where stops are given, until the next of them: the ramp back is slow, so that only what is meant is a step.
    private static StudyData Load(int[] ons, int[] offs)
    {
        var watts = new double[Week];
        for (var row = 0; row < Week; row++)
        {
            watts[row] = 10_000 + (20 * Math.Sin(row / 5.0));
            if (ons.LastOrDefault(on => on <= row, -1) is >= 0 and var on && !offs.Any(off => off > on && off <= row)) watts[row] += offs.Length > 0 ? 20_000 : 20_000 * Math.Max(0, 1 - ((row - on) / 400.0));
        }

        return StudyLog.Data(60, (LogQuantity.ActivePower, LogPlace.Whole, watts));
    }
}
