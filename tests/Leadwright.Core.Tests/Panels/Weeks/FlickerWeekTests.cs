using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels.Weeks;

namespace Leadwright.Core.Tests.Panels.Weeks;

public sealed class FlickerWeekTests
{
    private const double Day = 86400;

    private static readonly WeekRecipe s_recipe = new()
    {
        Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400), Site = SiteKind.Workshop, Seed = 7, IntervalSeconds = 60,
        Mishaps = [new Mishap(MishapKind.LeadOff, 2 * Day, 7 * Day, 2) { Size = 0.03 }, new Mishap(MishapKind.Outage, (4 * Day) + 7200, (4 * Day) + 10800)],
    };

    private static readonly FlickerSource s_welder = new(0, 40, 1.1, 7, 15.5);

    // IEC 61000-4-15 Ed. 2, Table 5: rectangular changes at which Pst is 1 (tests/vectors/flicker, with its README); the standard allows 5 %.
    [Theory]
    [InlineData(7)]
    [InlineData(39)]
    [InlineData(110)]
    public void A_supply_that_changes_as_the_standard_s_table_says_has_the_standard_s_flicker(int changes)
    {
        var row = RepositoryFile.Table("vectors/flicker/flicker_pst_points.csv")
            .Single(point => point["lamp_V"] == "230" && point["line_Hz"] == "50" && point["changes_per_minute"] == changes.ToString(CultureInfo.InvariantCulture));
        var depth = row.Number("dVV_percent_for_Pst1_derived");
        Assert.InRange(FlickerWeek.ShortTerm(changes, depth, 50), 0.95, 1.05);
        Assert.InRange(FlickerWeek.ShortTerm(changes, 2 * depth, 50), 1.9, 2.1);
    }

    [Fact]
    public void It_flickers_while_work_is_on_most_of_all_on_the_line_of_the_load_and_not_where_nothing_can_be_measured()
    {
        var table = FlickerWeek.Table(VirtualWeek.Make(s_recipe), s_welder);
        Assert.Equal((600.0, 7 * 144), (table.IntervalSeconds, table.Count));
        double[] own = Pst(table, 0), other = Pst(table, 1), off = Pst(table, 2);
        // Tuesday at ten, Tuesday at midnight, Saturday at ten.
        Assert.InRange(own[Row(1, 10)], 0.8, 1.6);
        Assert.InRange(other[Row(1, 10)], 0.2, 0.8);
        Assert.InRange(own[Row(1, 23)], 0.1, 0.41);
        Assert.InRange(own[Row(5, 10)], 0.1, 0.41);
        Assert.False(double.IsNaN(off[Row(1, 10)]));
        Assert.All(Enumerable.Range(Row(2, 0), 5 * 144), row => Assert.True(double.IsNaN(off[row])));
        // The supply is out from two to three in the night of Friday.
        Assert.All(Enumerable.Range(Row(4, 2), 6), row => Assert.True(double.IsNaN(own[row])));
        Assert.False(double.IsNaN(own[Row(4, 4)]));
    }

    [Fact]
    public void Its_voltages_are_those_of_the_log_and_the_same_recipe_gives_the_same_table()
    {
        var week = VirtualWeek.Make(s_recipe);
        var (one, other) = (FlickerWeek.Table(week, s_welder), FlickerWeek.Table(week, s_welder));
        for (var column = 0; column < one.Columns.Length; column++) Assert.Equal(one.Values(column).ToArray(), other.Values(column).ToArray());
        var volts = week.Log.Values(week.Log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1))[..10].ToArray();
        Assert.Equal(Math.Sqrt(volts.Average(value => value * value)), one.Values(0)[0], 0.051);
    }

    [Fact]
    public void A_week_that_does_not_fit_is_refused()
    {
        Assert.Throws<ArgumentException>(() => FlickerWeek.Table(VirtualWeek.Make(s_recipe with { IntervalSeconds = 900, Mishaps = [] }), s_welder));
        Assert.Throws<ArgumentException>(() => FlickerWeek.Table(VirtualWeek.Make(s_recipe with { Service = ServiceKind.Delta, Mishaps = [] }), s_welder));
    }

    private static int Row(int day, int hour) => (144 * day) + (6 * hour);

    private static double[] Pst(IntervalLog table, int line) => table.Values(table.IndexOf(LogQuantity.ShortTermFlicker, LogPlace.Phase1 + line)).ToArray();
}
