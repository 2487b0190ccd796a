using System.Globalization;
using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;

namespace Leadwright.Formats.Tests.Logs;

public sealed class LogReaderTests
{
    [Fact]
    public void An_hour_that_stands_twice_runs_on_in_the_first_clock()
    {
        // 25 October 2026 is a last Sunday of October.
        var file = Read(Rows("2026-10-25 01:30", 4, 15) + Rows("2026-10-25 02:30", 2, 15) + Rows("2026-10-25 02:00", 8, 15));

        Assert.Equal(14, file.Log.Count);
        Assert.Equal(13 * 900, (file.Log.Starts.Span[^1] - file.Log.Starts.Span[0]) / TimeSpan.TicksPerSecond);
        Assert.Equal([ClockFindingKind.DaylightBack], file.Clock.Select(finding => finding.Kind));
        Assert.Contains(file.Warnings, warning => warning.Says.StartsWith("The clock was put back by an hour after 2026-10-25 02:45:00", StringComparison.Ordinal));
    }

    [Fact]
    public void An_hour_that_is_missing_in_spring_is_no_gap()
    {
        var file = Read(Rows("2026-03-29 01:00", 4, 15) + Rows("2026-03-29 03:00", 4, 15));

        Assert.Equal([ClockFindingKind.DaylightForward], file.Clock.Select(finding => finding.Kind));
        Assert.Equal(7 * 900, (file.Log.Starts.Span[^1] - file.Log.Starts.Span[0]) / TimeSpan.TicksPerSecond);
    }

    [Fact]
    public void An_hour_that_is_missing_on_a_working_day_is_a_gap()
    {
        var file = Read(Rows("2026-03-30 01:00", 4, 15) + Rows("2026-03-30 03:00", 4, 15));

        var gap = Assert.Single(file.Clock);
        Assert.Equal((ClockFindingKind.Gap, 4, 3600.0), (gap.Kind, gap.RowCount, gap.Seconds));
        Assert.Contains(file.Warnings, warning => warning.Says == "Intervals are missing between 2026-03-30 01:45:00 and 2026-03-30 03:00:00: 4.");
    }

    [Fact]
    public void Offsets_carry_a_log_through_the_change_of_clocks()
    {
        var file = Read("2026-10-25T02:30:00+02:00;1\n2026-10-25T02:45:00+02:00;2\n2026-10-25T02:00:00+01:00;3\n2026-10-25T02:15:00+01:00;4\n");

        Assert.Equal(4, file.Log.Count);
        Assert.Empty(file.Clock);
        Assert.Equal(new DateTime(2026, 10, 25, 3, 15, 0), new DateTime(file.Log.Starts.Span[3]));
        Assert.Contains(file.Warnings, warning => warning.Says.EndsWith("at that of the first row, UTC+02:00.", StringComparison.Ordinal));
    }

    [Fact]
    public void Rows_that_stand_twice_are_taken_once_and_told()
    {
        var file = Read("2026-03-02 10:00;1\n2026-03-02 10:15;2\n2026-03-02 10:15;2\n2026-03-02 10:30;3\n2026-03-02 10:30;9\n2026-03-02 10:45;4\n");

        Assert.Equal([1, 2, 3, 4], file.Log.Values(0).ToArray());
        Assert.Contains(file.Warnings, warning => warning.Says == "1 row stands twice with the same time and values; once is enough.");
        Assert.Contains(file.Warnings, warning => warning is { Says: "1 row bears the time of an earlier row but other values, and is left out.", Line: 6 });
        Assert.Equal(2, file.Clock.Count(finding => finding.Kind == ClockFindingKind.Duplicate));
    }

    [Fact]
    public void A_row_out_of_order_goes_where_its_time_says()
    {
        var file = Read("2026-03-02 10:00;1\n2026-03-02 10:30;3\n2026-03-02 10:15;2\n2026-03-02 10:45;4\n2026-03-02 11:00;5\n");

        Assert.Equal([1, 2, 3, 4, 5], file.Log.Values(0).ToArray());
        Assert.Contains(file.Clock, finding => finding.Kind == ClockFindingKind.OutOfOrder);
    }

    [Fact]
    public void A_clock_that_was_put_back_loses_no_interval()
    {
        var file = Read("2026-03-02 10:00;1\n2026-03-02 10:15;2\n2026-03-02 10:30;3\n2026-03-02 10:22;8\n2026-03-02 10:37;9\n2026-03-02 10:52;4\n2026-03-02 11:07;5\n");

        Assert.Equal([1, 2, 3, 8, 9, 4, 5], file.Log.Values(0).ToArray());
        Assert.Contains(file.Clock, finding => finding.Kind == ClockFindingKind.StepBack && finding.Seconds == 480);
        // 10:22 stands where 10:45 was due: the clock was set back by 23 minutes.
        Assert.Equal(new ClockStep(3, 23 * TimeSpan.TicksPerMinute), Assert.Single(file.Log.ClockSteps));
        Assert.Equal(new DateTime(2026, 3, 2, 10, 45, 0), new DateTime(file.Log.Starts.Span[3]));
        Assert.Contains(file.Warnings, warning => warning is { Line: 5 } && warning.Says.StartsWith("The clock was put back from 2026-03-02 10:30:00 to 2026-03-02 10:22:00", StringComparison.Ordinal));
    }

    [Fact]
    public void A_clock_that_was_put_back_by_hours_loses_no_interval()
    {
        var file = Read(Rows("2026-03-02 08:00", 40, 15, 100) + Rows("2026-03-02 13:00", 40, 15, 200));

        Assert.Equal(80, file.Log.Count);
        Assert.Equal(new ClockStep(40, 5 * TimeSpan.TicksPerHour), Assert.Single(file.Log.ClockSteps));
        Assert.Equal(79 * 900, (file.Log.Starts.Span[^1] - file.Log.Starts.Span[0]) / TimeSpan.TicksPerSecond);
    }

    [Fact]
    public void The_last_row_of_a_file_that_grows_is_the_newest_whatever_its_time_says()
    {
        var rows = Rows("2026-03-02 08:00", 40, 15, 100) + "2026-03-02 13:00;300\n";
        var grown = Read(rows, options: new LogReadOptions { IsGrowing = true });

        Assert.Equal(41, grown.Log.Count);
        Assert.Equal((300.0, new ClockStep(40, 5 * TimeSpan.TicksPerHour)), (grown.Log.Values(0)[40], Assert.Single(grown.Log.ClockSteps)));
        Assert.Equal(40, Read(rows).Log.Count);
    }

    [Fact]
    public void Two_exports_with_a_common_day_are_no_clock_that_was_put_back()
    {
        var days = Rows("2026-03-02 00:00", 96, 15, 100).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        var file = Read(string.Join('\n', days[..64]) + "\n" + string.Join('\n', days[32..]) + "\n");

        Assert.Equal(96, file.Log.Count);
        Assert.Empty(file.Log.ClockSteps);
        Assert.Contains(file.Warnings, warning => warning.Says.StartsWith("32 rows stand twice", StringComparison.Ordinal));
        Assert.Contains(file.Warnings, warning => warning.Says.StartsWith("The times fall back in 1 place", StringComparison.Ordinal));
    }

    [Fact]
    public void Days_in_another_order_are_no_clock_that_was_put_back()
    {
        var file = Read(Rows("2026-03-03 00:00", 96, 15, 100) + Rows("2026-03-02 00:00", 96, 15, 300));

        Assert.Equal(192, file.Log.Count);
        Assert.Empty(file.Log.ClockSteps);
        Assert.Equal(300, file.Log.Values(0)[0]);
    }

    [Fact]
    public void A_clock_that_lost_its_date_runs_on()
    {
        var file = Read(Rows("2026-03-02 00:00", 30, 15, 100) + Rows("2000-01-01 00:00", 30, 15, 200));

        Assert.Equal(60, file.Log.Count);
        Assert.Equal(30, Assert.Single(file.Log.ClockSteps).Row);
        Assert.Equal(59 * 900, (file.Log.Starts.Span[^1] - file.Log.Starts.Span[0]) / TimeSpan.TicksPerSecond);
    }

    [Fact]
    public void Daylight_saving_is_a_step_of_the_clock()
    {
        var autumn = Read(Rows("2026-10-25 01:30", 6, 15) + Rows("2026-10-25 02:00", 8, 15));
        var spring = Read(Rows("2026-03-29 01:00", 4, 15) + Rows("2026-03-29 03:00", 4, 15));

        Assert.Equal(new ClockStep(6, TimeSpan.TicksPerHour), Assert.Single(autumn.Log.ClockSteps));
        Assert.Equal(new ClockStep(4, -TimeSpan.TicksPerHour), Assert.Single(spring.Log.ClockSteps));
    }

    [Theory]
    [InlineData("Date;Time;V1 (V)\n", "0015", "0030", "0045", "2400")]
    [InlineData("Date;HHMM;V1 (V)\n", "0015", "0030", "0045", "2400")]
    [InlineData("Date;Time;V1 (V)\n", "15", "30", "45", "2400")]
    [InlineData("Date;Time;V1 (V)\n", "001500", "003000", "004500", "240000")]
    public void A_time_of_day_without_marks_stands_beside_its_date(string heading, string first, string second, string third, string last)
    {
        var text = heading + $"2026-03-02;{first};231\n2026-03-02;{second};232\n2026-03-02;{third};233\n"
            + string.Concat(Enumerable.Range(4, 92).Select(quarter => $"2026-03-02;{(quarter == 95 ? last : Clock(quarter, first.Length))};234\n"));
        var file = ReadLog.Of(TestData.Text("log.csv", text));

        Assert.Equal((95, 900.0), (file.Log.Count, file.Log.IntervalSeconds));
        // A day that ends with 24:00 is stamped at the ends of its intervals.
        Assert.Equal(new DateTime(2026, 3, 2), file.Log.From);
        Assert.Equal(new DateTime(2026, 3, 2, 23, 45, 0), new DateTime(file.Log.Starts.Span[^1]));
        Assert.Equal(231, file.Log.Values(0)[0]);

        static string Clock(int quarter, int length) => length switch
        {
            6 => $"{quarter / 4:00}{quarter % 4 * 15:00}00",
            4 => $"{quarter / 4:00}{quarter % 4 * 15:00}",
            _ => ((quarter / 4 * 100) + (quarter % 4 * 15)).ToString(CultureInfo.InvariantCulture),
        };
    }

    [Fact]
    public void Missing_values_in_any_words_are_no_numbers_and_are_counted()
    {
        string[] words = ["", "-", "--", "---", "NaN", "n/a", "OL", "#N/A", "null", "over", "????", "1.#INF"];
        var text = string.Concat(words.Select((word, row) => string.Create(CultureInfo.InvariantCulture, $"2026-03-02 10:{row:00};{word}\n")))
            + Rows("2026-03-02 10:12", 20, 1) + "2026-03-02 10:32;broken\n";
        var file = Read(text);

        Assert.Equal(33, file.Log.Count);
        Assert.Equal(13, file.Log.Values(0).ToArray().Count(double.IsNaN));
        Assert.Contains(file.Warnings, warning => warning.Says == "Column 'V1 (V)': 12 of 33 values are missing, 3 of them beyond the range.");
        Assert.Contains(file.Warnings, warning => warning.Says == "Column 'V1 (V)': 1 cell is no number and counts as missing: \"broken\"." && warning.Line == 34);
    }

    [Fact]
    public void A_row_without_a_time_is_told_with_its_line()
    {
        var file = Read(Rows("2026-03-02 10:00", 5, 15) + "power failure;\n" + Rows("2026-03-02 11:15", 5, 15) + "Sum;12\n");

        Assert.Equal(10, file.Log.Count);
        Assert.Contains(file.Warnings, warning => warning is { Line: 7 } && warning.Says == "2 rows have no time that can be read and are left out: line 7 \"power failure\", line 13 \"Sum 12\".");
    }

    // Unicode CLDR, from memory: no locale writes the month first with points.
    [Theory]
    [InlineData("02.03.2026 10:00;230\n02.03.2026 10:15;231\n02.03.2026 10:30;229\n", false)]
    [InlineData("02/03/2026 10:00;230\n02/03/2026 10:15;231\n02/03/2026 10:30;229\n", true)]
    public void Dates_with_points_stand_day_first_and_others_are_asked_for(string rows, bool asks)
    {
        var file = Read(rows, "Time;V1 (V)\n");
        Assert.Equal(DateOrder.DayMonthYear, file.DateOrder);
        Assert.Equal(asks, file.Questions.Any(question => question.Contains("day, month, year", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("01/02/2026 10:00", "13/02/2026 10:00", DateOrder.DayMonthYear)]
    [InlineData("02/01/2026 10:00", "02/13/2026 10:00", DateOrder.MonthDayYear)]
    [InlineData("26/02/01 10:00", "26/02/13 10:00", DateOrder.YearMonthDay)]
    public void The_order_of_dates_is_told_by_days_beyond_twelve(string first, string last, DateOrder order)
    {
        // Rows 12 days apart, from a format of the same order.
        var format = order switch { DateOrder.DayMonthYear => "dd/MM/yyyy HH:mm", DateOrder.MonthDayYear => "MM/dd/yyyy HH:mm", _ => "yy/MM/dd HH:mm" };
        var start = new DateTime(2026, 2, 1, 10, 0, 0);
        var rows = Enumerable.Range(0, (12 * 24) + 1).Select(hour => start.AddHours(hour).ToString(format, CultureInfo.InvariantCulture)).ToList();
        Assert.Equal((first, last), (rows[0], rows[^1]));
        var file = Read(string.Concat(rows.Select(row => row + ";230\n")));

        Assert.Equal(order, file.DateOrder);
        Assert.Equal(start, file.Log.From);
        Assert.DoesNotContain(file.Questions, question => question.StartsWith("Do the dates", StringComparison.Ordinal));
    }

    [Fact]
    public void The_order_of_dates_is_told_by_rows_that_follow_evenly()
    {
        // 1 to 5 March, all numbers below 13: only one order gives days that follow each other.
        var start = new DateTime(2026, 3, 1);
        var rows = Enumerable.Range(0, 5 * 24).Select(hour => start.AddHours(hour).ToString("MM/dd/yyyy HH:mm", CultureInfo.InvariantCulture) + ";230\n");
        var file = Read(string.Concat(rows));

        Assert.Equal(DateOrder.MonthDayYear, file.DateOrder);
        Assert.Equal(5 * 24, file.Log.Count);
        Assert.Empty(file.Clock);
    }

    [Fact]
    public void The_order_of_dates_is_told_by_a_day_that_changes_late()
    {
        // A day of seconds and one hour more: only the step at midnight tells.
        var start = new DateTime(2026, 3, 1);
        var rows = Enumerable.Range(0, 25 * 360).Select(row => start.AddSeconds(10 * row).ToString("MM/dd/yyyy HH:mm:ss", CultureInfo.InvariantCulture) + ";230\n");
        var file = Read(string.Concat(rows));

        Assert.Equal(DateOrder.MonthDayYear, file.DateOrder);
        Assert.Empty(file.Clock);
    }

    [Fact]
    public void The_order_of_dates_can_stand_in_the_heading()
    {
        var file = Read("03/02/2026 10:00;1\n03/02/2026 10:15;2\n", "Time (mm/dd/yyyy hh:mm);V1 (V)\n");

        Assert.Equal(new DateTime(2026, 3, 2, 10, 0, 0), file.Log.From);
        Assert.DoesNotContain(file.Questions, question => question.StartsWith("Do the dates", StringComparison.Ordinal));
    }

    [Fact]
    public void A_log_with_more_values_than_there_is_room_for_is_refused_while_its_times_are_read()
    {
        var text = Rows("2026-03-02 10:15", 9000, 1);
        Assert.Equal(9000, Read(text, options: new LogReadOptions { MostValues = 90_000 }).Log.Count);
        var refusal = Assert.Throws<FormatReadException>(() => Read(text, options: new LogReadOptions { MostValues = 30_000 }));
        Assert.Contains("at most 3,000 rows of 2 columns", refusal.Message, StringComparison.Ordinal);
        Assert.Contains("Export it in shorter pieces", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Twenty_four_hours_end_a_day_and_prove_ends()
    {
        var file = Read("02.03.2026 23:30;1\n02.03.2026 23:45;2\n02.03.2026 24:00;3\n03.03.2026 00:15;4\n");

        Assert.Equal(StampPlace.End, file.Stamps);
        Assert.Equal(new DateTime(2026, 3, 2, 23, 15, 0), file.Log.From);
        Assert.Equal([1, 2, 3, 4], file.Log.Values(0).ToArray());
    }

    [Fact]
    public void Stamps_at_the_end_can_be_stated()
    {
        var file = Read(Rows("2026-03-02 10:15", 4, 15), options: new LogReadOptions { Stamps = StampPlace.End });

        Assert.Equal(new DateTime(2026, 3, 2, 10, 0, 0), file.Log.From);
        Assert.DoesNotContain(file.Questions, question => question.Contains("start of its interval", StringComparison.Ordinal));
    }

    [Fact]
    public void Elapsed_times_need_a_start_and_say_so()
    {
        const string Text = "time (s),V1 (V)\n0,230\n1,231\n2,229\n3,230\n";
        var open = ReadLog.Of(TestData.Text("a.csv", Text));
        var stated = ReadLog.Of(TestData.Text("a.csv", Text), new LogReadOptions { Start = new DateTime(2026, 3, 2, 10, 0, 0) });

        Assert.Equal(1, open.Log.IntervalSeconds);
        Assert.Contains("When did the log start?", open.Questions);
        Assert.Equal(new DateTime(2026, 3, 2, 10, 0, 0), stated.Log.From);
        Assert.Equal(InputKind.LogTable, InputSniffer.KindOf(TestData.Text("a.csv", Text)));
        Assert.Equal(InputKind.Table, InputSniffer.KindOf(TestData.Text("a.csv", "time (s),V1 (V)\n0,230\n0.001,231\n0.002,229\n0.003,230\n")));
    }

    [Fact]
    public void Mixed_decimal_marks_are_told()
    {
        var file = Read("2026-03-02 10:00;230,1\n2026-03-02 10:15;231,25\n2026-03-02 10:30;229.5\n");

        Assert.Equal(',', file.DecimalMark);
        Assert.True(double.IsNaN(file.Log.Values(0)[2]));
        Assert.Contains(file.Warnings, warning => warning.Says.StartsWith("Some numbers have a decimal point and some a decimal comma", StringComparison.Ordinal));
        Assert.Contains(file.Warnings, warning => warning.Says.Contains("\"229.5\"", StringComparison.Ordinal));
    }

    [Fact]
    public void A_comma_that_separates_and_marks_decimals_is_refused_with_what_to_do()
    {
        var failure = Assert.Throws<FormatReadException>(() => Read("02.03.2026 10:00,230,1\n02.03.2026 10:15,231,2\n02.03.2026 10:30,229,5\n", "Time,V1 (V)\n"));

        Assert.Equal(2, failure.Line);
        Assert.Contains("decimal mark may be the comma", failure.Hint, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "an empty file")]
    [InlineData("a letter to a friend\nwithout numbers\n", "no rows that begin with times")]
    [InlineData("V1 (V);I1 (A)\n230;5\n231;6\n", "no column of dates and times, and no column of numbers that counts time")]
    [InlineData("time;V1 (V)\n2026-03-02 10:00;230\n", "1 row")]
    [InlineData("time;state\n2026-03-02 10:00;on\n2026-03-02 10:15;off\n", "none")]
    public void A_table_that_is_no_log_is_refused(string text, string found)
    {
        var failure = Assert.Throws<FormatReadException>(() => ReadLog.Of(TestData.Text("x.csv", text)));
        Assert.Equal(found, failure.Found);
        Assert.False(string.IsNullOrEmpty(failure.Hint));
    }

    [Fact]
    public void A_person_may_state_what_a_column_is()
    {
        var file = ReadLog.Of(
            TestData.Text("a.csv", "time;x;y;z\n2026-03-02 10:00;1;2;3\n2026-03-02 10:15;2;3;4\n"),
            new LogReadOptions
            {
                Columns =
                [
                    new ColumnStatement("x", LogQuantity.ActivePower, LogPlace.Phase2) { Unit = "kW" },
                    new ColumnStatement("3", LogQuantity.Voltage, LogPlace.Pair23, LogStatistic.Maximum),
                    new ColumnStatement("z", LogQuantity.Other) { IsLeftOut = true },
                ],
            });

        Assert.Equal([1000, 2000], file.Log.Values(file.Log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase2)).ToArray());
        Assert.Equal([2, 3], file.Log.Values(file.Log.IndexOf(LogQuantity.Voltage, LogPlace.Pair23, LogStatistic.Maximum)).ToArray());
        Assert.Equal(2, file.Log.Columns.Length);
        Assert.All(file.Columns[1..], column => Assert.Equal((1.0, true), (column.Confidence, column.IsStated)));
        var failure = Assert.Throws<FormatReadException>(() => ReadLog.Of(
            TestData.Text("a.csv", "time;x\n2026-03-02 10:00;1\n2026-03-02 10:15;2\n"), new LogReadOptions { Columns = [new ColumnStatement("w", LogQuantity.Voltage)] }));
        Assert.Contains("2 'x'", failure.Hint, StringComparison.Ordinal);
    }

    [Fact]
    public void Reading_can_be_cancelled_and_tells_its_progress()
    {
        var text = "time;V1 (V)\n" + Rows("2026-03-02 10:00", 20000, 1);
        using var cancellation = new CancellationTokenSource();
        cancellation.Cancel();
        Assert.Throws<OperationCanceledException>(() => LogReader.Read(TestData.Text("a.csv", text), cancellation: cancellation.Token));
        var told = new Told();
        LogReader.Read(TestData.Text("a.csv", text), progress: told, cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(1, told.Shares[^1]);
        Assert.Equal(told.Shares.Order(), told.Shares);
    }

    private static LogFile Read(string rows, string heading = "time;V1 (V)\n", LogReadOptions? options = null) =>
        ReadLog.Of(TestData.Text("log.csv", heading + rows), options);

    private static string Rows(string first, int count, int minutes, int least = 230)
    {
        var start = DateTime.ParseExact(first, "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
        var text = new StringBuilder();
        for (var row = 0; row < count; row++) text.Append(CultureInfo.InvariantCulture, $"{start.AddMinutes(row * minutes):yyyy-MM-dd HH:mm};{least + (row % 7)}\n");
        return text.ToString();
    }

    private sealed class Told : IProgress<double>
    {
        public List<double> Shares { get; } = [];

        public void Report(double value) => Shares.Add(value);
    }
}
