using System.Globalization;
using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;

namespace Leadwright.Formats.Tests.Logs;

/// <summary>Tables of one row a day, as billing intervals are exported (common practice, no source). The tables are invented; the Sundays on which clocks change in 2026 are those of
/// directive 2000/84/EC: 29 March and 25 October.</summary>
public sealed class DayTableTests
{
    [Fact]
    public void One_row_a_day_with_the_ends_of_its_quarters_is_a_log_of_quarters()
    {
        var text = $"Meter 4711\nActive energy (kWh)\n\nDate;{Clocks(96, 1)};Total\n02.03.2026;{Values(0, 96)};9,9\n03.03.2026;{Values(96, 96)};9,9\n";
        var file = ReadLog.Of(TestData.Text("a.csv", text));

        Assert.Equal((192, 900.0, new DateTime(2026, 3, 2), StampPlace.End), (file.Log.Count, file.Log.IntervalSeconds, file.Log.From, file.Stamps));
        var energy = file.Log.IndexOf(LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Amount);
        for (var row = 0; row < 192; row++) Assert.Equal(1000 * Value(row), file.Log.Values(energy)[row], 6);
        Assert.Contains(file.Warnings, warning => warning.Says == "The table has one row a day with 96 values; they are read one after the other, 15 minutes each.");
        Assert.Contains(file.Warnings, warning => warning.Says == "Column \"Total\" stands once a day and is not read.");
        Assert.Empty(file.Questions);
        // The same bytes through the door of every verb.
        Assert.IsType<LogInput>(Assert.Single(InputReader.Read([TestData.Text("a.csv", text)], new InputReadOptions())));
    }

    [Theory]
    [InlineData(24, 3600)]
    [InlineData(48, 1800)]
    [InlineData(96, 900)]
    [InlineData(144, 600)]
    [InlineData(288, 300)]
    public void Headings_that_count_the_intervals_are_understood_and_ask_nothing_of_their_stamps(int count, double seconds)
    {
        var heads = string.Join(',', Enumerable.Range(1, count).Select(number => string.Create(CultureInfo.InvariantCulture, $"V{number:000}")));
        var values = string.Join(',', Enumerable.Range(0, count).Select(row => Value(row).ToString(CultureInfo.InvariantCulture)));
        var file = ReadLog.Of(TestData.Text("a.csv", $"Day,Unit,{heads}\n2026-03-02,kW,{values}\n2026-03-03,kW,{values}\n2026-03-04,kW,{values}\n"));

        Assert.Equal((3 * count, seconds, new DateTime(2026, 3, 2), StampPlace.Start), (file.Log.Count, file.Log.IntervalSeconds, file.Log.From, file.Stamps));
        Assert.Equal(1000 * Value(5), file.Log.Values(file.Log.IndexOf(LogQuantity.ActivePower, LogPlace.Whole))[count + 5], 6);
        Assert.Empty(file.Questions);
    }

    [Fact]
    public void A_hundred_columns_hold_the_longest_day_and_the_shortest()
    {
        var heads = string.Join(';', Enumerable.Range(1, 100));
        foreach (var (sunday, count) in new[] { (new DateTime(2026, 10, 25), 100), (new DateTime(2026, 3, 29), 92) })
        {
            var text = $"Date;{heads}\n{Day(sunday.AddDays(-1))};{Values(0, 96)};;;;\n{Day(sunday)};{Values(96, count)}{new string(';', 100 - count)}\n{Day(sunday.AddDays(1))};{Values(96 + count, 96)};;;;\n";
            var file = ReadLog.Of(TestData.Text("load_kWh.csv", text));
            AssertEven(file, sunday.AddDays(-1), 192 + count);
            Assert.Contains(file.Clock, finding => finding.Kind == (count == 100 ? ClockFindingKind.DaylightBack : ClockFindingKind.DaylightForward));
            Assert.Contains(file.Warnings, warning => warning.Says == "The unit kWh is taken from the file's name, since the table says none.");
        }
    }

    [Fact]
    public void Headings_with_an_hour_twice_hold_the_longest_day_and_an_empty_hour_is_the_shortest()
    {
        // 00:00 to 02:45, once more 02:00 to 02:45, 03:00 to 23:45.
        var clocks = string.Join(';', Enumerable.Range(0, 12).Concat(Enumerable.Range(8, 88)).Select(quarter => $"kWh {Clock(quarter)}"));
        string Row(DateTime day, int from, Func<int, bool> isThere)
        {
            var at = from;
            return $"{Day(day)};{string.Join(';', Enumerable.Range(0, 100).Select(cell => isThere(cell) ? Value(at++).ToString(CultureInfo.GetCultureInfo("de-DE")) : ""))}\n";
        }

        bool Usual(int cell) => cell is < 12 or > 15;
        var autumn = new DateTime(2026, 10, 25);
        AssertEven(ReadLog.Of(TestData.Text("a.csv", $"Date;{clocks}\n{Row(autumn.AddDays(-1), 0, Usual)}{Row(autumn, 96, _ => true)}{Row(autumn.AddDays(1), 196, Usual)}")), autumn.AddDays(-1), 292);
        var spring = new DateTime(2026, 3, 29);
        AssertEven(
            ReadLog.Of(TestData.Text("a.csv", $"Date;{clocks}\n{Row(spring.AddDays(-1), 0, Usual)}{Row(spring, 96, cell => cell is < 8 or > 15)}{Row(spring.AddDays(1), 188, Usual)}")), spring.AddDays(-1), 284);
    }

    [Fact]
    public void Cells_that_hold_nothing_are_missing_and_leave_the_others_where_they_are()
    {
        var cells = Values(0, 96).Split(';');
        (cells[10], cells[40], cells[95]) = ("", "---", "");
        var log = ReadLog.Of(TestData.Text("a.csv", $"Date;{Clocks(96, 0)}\n02.03.2026;{string.Join(';', cells)}\n03.03.2026;{Values(96, 96)}\n")).Log;
        Assert.Equal(192, log.Count);
        var values = log.Values(0);
        for (var row = 0; row < 192; row++)
        {
            if (row is 10 or 40 or 95) Assert.True(double.IsNaN(values[row]));
            else Assert.Equal(Value(row), values[row], 9);
        }
    }

    [Fact]
    public void What_nobody_says_is_asked_and_what_a_person_says_is_taken()
    {
        var text = $"Date;{Clocks(96, 0)}\n02.03.2026;{Values(0, 96)}\n03.03.2026;{Values(96, 96)}\n";
        var file = ReadLog.Of(TestData.Text("a.csv", text));
        Assert.Contains(LogQuestions.Columns, file.Questions);
        var column = Assert.Single(file.Columns, column => column.Role == ColumnRole.Value);
        Assert.Equal("Values, 96 a day", column.Heading);

        var stated = ReadLog.Of(TestData.Text("a.csv", text), new LogReadOptions { Columns = [new ColumnStatement("3", LogQuantity.ActivePower) { Unit = "kW" }], Stamps = StampPlace.Start });
        Assert.Empty(stated.Questions);
        Assert.Equal(1000 * Value(7), stated.Log.Values(stated.Log.IndexOf(LogQuantity.ActivePower, LogPlace.Whole))[7], 6);
        // What was confirmed is remembered by the headings as they are shown.
        Assert.True(ReadLog.Of(TestData.Text("a.csv", text), new LogReadOptions { Profiles = [ColumnProfile.Of(stated)] }).IsConfirmed);
    }

    [Fact]
    public void Several_rows_for_a_day_are_refused_with_the_column_that_tells_them_apart()
    {
        var text = $"Date;Channel;{Clocks(96, 0)}\n" + string.Concat(Enumerable.Range(2, 4).Select(day => $"0{day}.03.2026;import;{Values(0, 96)}\n0{day}.03.2026;export;{Values(5, 96)}\n"));
        var failure = Assert.Throws<FormatReadException>(() => ReadLog.Of(TestData.Text("a.csv", text)));
        Assert.Equal("one row a day with 96 values, but several rows for a day, told apart by their column \"Channel\" (\"import\", \"export\")", failure.Found);
    }

    [Fact]
    public void A_log_whose_columns_count_harmonics_is_no_table_of_days()
    {
        var heads = string.Join(';', Enumerable.Range(1, 48).Select(order => $"h{order}"));
        var rows = string.Concat(Enumerable.Range(0, 20).Select(row => $"02.03.2026;{Clock(row)};{string.Join(';', Enumerable.Range(1, 48).Select(order => order + row))}\n"));
        var log = ReadLog.Of(TestData.Text("a.csv", $"Date;Time;{heads}\n{rows}")).Log;
        Assert.Equal((20, 48), (log.Count, log.Columns.Length));
    }

    [Fact]
    public void Damaged_tables_of_days_give_a_log_or_a_refusal()
    {
        var bytes = Encoding.UTF8.GetBytes($"Date;Unit;{Clocks(96, 0)}\n02.03.2026;kWh;{Values(0, 96)}\n03.03.2026;kWh;{Values(96, 96)}\n");
        var random = new Random(4);
        for (var round = 0; round < 300; round++)
        {
            var damaged = bytes[..random.Next(bytes.Length / 2, bytes.Length)];
            for (var change = 0; change < 8; change++) damaged[random.Next(damaged.Length)] = (byte)random.Next(256);
            try
            {
                Assert.True(ReadLog.Of(new InputFile("a.csv", damaged)).Log.Count > 0);
            }
            catch (FormatReadException)
            {
                // Said so.
            }
        }
    }

    private static void AssertEven(LogFile file, DateTime from, int count)
    {
        Assert.Equal((count, 900.0, from), (file.Log.Count, file.Log.IntervalSeconds, file.Log.From));
        var values = file.Log.Values(0);
        for (var row = 0; row < count; row++)
        {
            Assert.Equal(from.AddMinutes(15 * row), new DateTime(file.Log.Starts.Span[row]));
            Assert.Equal(1000 * Value(row), values[row], 6);
        }
    }

    private static double Value(int row) => 1 + (row % 89 * 0.25) + (row % 7);

    private static string Values(int from, int count) => string.Join(';', Enumerable.Range(from, count).Select(row => Value(row).ToString(CultureInfo.GetCultureInfo("de-DE"))));

    private static string Clocks(int count, int first) => string.Join(';', Enumerable.Range(first, count).Select(Clock));

    private static string Clock(int quarter) => string.Create(CultureInfo.InvariantCulture, $"{quarter / 4:00}:{quarter % 4 * 15:00}");

    private static string Day(DateTime day) => day.ToString("dd.MM.yyyy", CultureInfo.InvariantCulture);
}
