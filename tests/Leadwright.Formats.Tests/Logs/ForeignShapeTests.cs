using System.Globalization;
using System.Text;
using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Tests.Logs;

/// <summary>Shapes and words of exports that once made a reader stumble. The exports are invented; words of other languages are from memory.</summary>
public sealed class ForeignShapeTests
{
    private static readonly DateTime s_start = new(2026, 3, 2);

    [Theory]
    [InlineData("Tensión L1 (V)", LogQuantity.Voltage)]
    [InlineData("Ströme L1 (A)", LogQuantity.Current)]
    [InlineData("Intensité L1 (A)", LogQuantity.Current)]
    [InlineData("Tensão L1 (V)", LogQuantity.Voltage)]
    [InlineData("Napięcie L1 [V]", LogQuantity.Voltage)]
    [InlineData("Prąd L1 [A]", LogQuantity.Current)]
    [InlineData("Spänning L1 (V)", LogQuantity.Voltage)]
    [InlineData("Napětí L1 (V)", LogQuantity.Voltage)]
    [InlineData("電圧L1(V)", LogQuantity.Voltage)]
    [InlineData("电流L1(A)", LogQuantity.Current)]
    [InlineData("전압 L1 (V)", LogQuantity.Voltage)]
    public void Names_of_other_languages_are_understood_and_not_only_their_units(string heading, LogQuantity quantity)
    {
        var column = ReadLog.Of(TestData.Text("a.csv", $"time;{heading}\n" + Rows(row => Number(230 + row)))).Columns[1];

        Assert.Equal((quantity, LogPlace.Phase1), (column.Quantity, column.Place));
        Assert.DoesNotContain("not understood", column.Why, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Août", "aout")]
    [InlineData("ÄÖÜß", "aouss")]
    [InlineData("Łódź", "lodz")]
    [InlineData("İstanbul", "istanbul")]
    [InlineData("e\u0301", "e")]
    public void Marks_are_taken_off_letters_without_tables_of_the_system(string text, string plain) => Assert.Equal(plain, PlainLetters.Of(text));

    [Theory]
    [InlineData("13/03/2026 {0:h:mm:ss} {1}", "a. m.", "p. m.")]
    [InlineData("3/13/2026 {0:h:mm:ss} {1}", "AM", "PM")]
    [InlineData("02/03/2026 {0:h:mm:ss} {1}", "f.m.", "e.m.")]
    [InlineData("02.03.2026 {0:h:mm} {1}", "ÖÖ", "ÖS")]
    [InlineData("02/03/2026 {0:h:mm} {1}", "π.μ.", "μ.μ.")]
    [InlineData("02/03/2026 {0:h:mm} {1}", "πμ", "μμ")]
    [InlineData("2026/03/02 {1} {0:h:mm}", "午前", "午後")]
    [InlineData("2026-03-02 {1}{0:h:mm}", "上午", "下午")]
    [InlineData("2026. 03. 02. {1} {0:h:mm}", "오전", "오후")]
    public void Morning_and_afternoon_of_other_languages_are_told_apart(string pattern, string morning, string afternoon)
    {
        var text = string.Concat(Enumerable.Range(0, 96).Select(quarter =>
        {
            var at = s_start.AddMinutes(15 * quarter);
            return string.Format(CultureInfo.InvariantCulture, pattern, at, at.Hour < 12 ? morning : afternoon) + string.Create(CultureInfo.InvariantCulture, $"|{230 + (quarter % 7)}\n");
        }));
        var log = ReadLog.Of(TestData.Text("a.txt", "time|V1 (V)\n" + text)).Log;

        Assert.Equal((96, 900.0), (log.Count, log.IntervalSeconds));
        Assert.Equal(new DateTime(2026, 3, pattern.Contains("13", StringComparison.Ordinal) ? 13 : 2), log.From);
        Assert.Empty(log.ClockSteps);
    }

    [Fact]
    public void A_row_of_units_alone_names_the_columns()
    {
        var file = ReadLog.Of(TestData.Text("a.csv", "date;kWh;kvarh\n" + Rows(row => $"{Number(1000 + row)};{Number(500 + (0.5 * row))}")));

        Assert.Equal(["date", "kWh", "kvarh"], file.Columns.Select(column => column.Heading));
        Assert.Equal((LogQuantity.ActiveEnergy, LogPlace.Whole), (file.Columns[1].Quantity, file.Columns[1].Place));
        Assert.Equal((LogQuantity.ReactiveEnergy, LogPlace.Whole), (file.Columns[2].Quantity, file.Columns[2].Place));
    }

    [Fact]
    public void A_made_up_heading_names_no_phase()
    {
        var file = ReadLog.Of(TestData.Text("a.csv", Rows(row => $"{Number(230 + (0.1 * (row % 9)))};{Number(7000 + (900 * (row % 5)))}")));

        Assert.Equal("column 2", file.Columns[1].Heading);
        Assert.Equal(LogPlace.Whole, file.Columns[1].Place);
        Assert.Equal(LogPlace.Whole, file.Columns[2].Place);
    }

    [Fact]
    public void A_counter_that_starts_over_is_a_counter_all_the_same()
    {
        var file = ReadLog.Of(TestData.Text("a.csv", "date;E [kWh]\n" + Rows(row => Number((99_950 + (7.25 * row)) % 100_000))));

        Assert.Equal(LogStatistic.Counter, file.Columns[1].Statistic);
    }

    [Fact]
    public void A_unit_ahead_of_its_phase_is_a_unit_and_settles_with_the_power()
    {
        var file = ReadLog.Of(TestData.Text("a.csv", "time;V L1-N;A L1;W L1;kW Total\n" + Rows(row => $"230;{Number(40 + (row % 11))};{Number(0.9 * 230 * (40 + (row % 11)))};{Number(0.9 * 0.23 * (40 + (row % 11)))}")));

        Assert.Equal((LogQuantity.Current, LogPlace.Phase1, "A"), (file.Columns[2].Quantity, file.Columns[2].Place, file.Columns[2].Unit));
        Assert.Equal((LogQuantity.ActivePower, LogPlace.Phase1), (file.Columns[3].Quantity, file.Columns[3].Place));
        Assert.Equal((LogQuantity.ActivePower, LogPlace.Whole, "kW"), (file.Columns[4].Quantity, file.Columns[4].Place, file.Columns[4].Unit));
    }

    [Fact]
    public void A_written_power_settles_the_unit_of_amperes_and_nothing_is_asked()
    {
        var file = ReadLog.Of(TestData.Text("a.csv", "time;V1 (V);I1;P1 (kW)\n" + Rows(row => $"230;{Number(40 + (row % 11))};{Number(0.9 * 0.23 * (40 + (row % 11)))}")));

        Assert.Equal("A", file.Columns[2].Unit);
        Assert.Contains("in A it fits 'P1 (kW)'", file.Columns[2].Why, StringComparison.Ordinal);
        Assert.DoesNotContain(file.Questions, question => question.StartsWith("In which unit", StringComparison.Ordinal));
    }

    [Fact]
    public void Units_that_are_open_are_asked_for_in_one_question()
    {
        var file = ReadLog.Of(TestData.Text("a.csv", "time;I1;I2;I3\n" + Rows(row => $"{row % 40};{row % 39};{row % 41}")));

        Assert.Contains("In which unit are columns 'I1', 'I2', 'I3'?", file.Questions);
    }

    [Theory]
    [InlineData("L12", LogPlace.Pair12)]
    [InlineData("L23", LogPlace.Pair23)]
    [InlineData("L31", LogPlace.Pair31)]
    [InlineData("L1L2", LogPlace.Pair12)]
    [InlineData("L2-L3", LogPlace.Pair23)]
    public void Voltages_between_lines_are_told_by_their_pair(string pair, LogPlace place) =>
        Assert.Equal(place, ReadLog.Of(TestData.Text("a.csv", $"time;Spanning {pair} (kV)\n" + Rows(row => Number(0.4 + (0.001 * (row % 5)))))).Columns[1].Place);

    [Fact]
    public void A_table_of_one_value_a_row_is_refused_with_what_to_do()
    {
        var text = new StringBuilder("timestamp,channel,value\n");
        for (var row = 0; row < 60; row++)
        {
            foreach (var channel in (string[])["V1", "V2", "I1"])
                text.Append(CultureInfo.InvariantCulture, $"{s_start.AddMinutes(row):yyyy-MM-ddTHH:mm:ss},{channel},{230 + row + (10 * channel[0]) + channel[1]}\n");
        }

        var failure = Assert.Throws<FormatReadException>(() => ReadLog.Of(TestData.Text("long.csv", text.ToString())));
        Assert.Contains("'channel'", failure.Found, StringComparison.Ordinal);
        Assert.Contains("a column for each channel", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Seconds_since_1970_are_given_by_the_clock_on_site_where_its_offset_is_stated()
    {
        var text = "epoch;V1 (V)\n" + string.Concat(Enumerable.Range(0, 20).Select(row => string.Create(CultureInfo.InvariantCulture, $"{1_772_409_600 + (900 * row)};{230 + row}\n")));
        var utc = ReadLog.Of(TestData.Text("a.csv", text));
        var onSite = ReadLog.Of(TestData.Text("a.csv", text), new LogReadOptions { UtcOffset = TimeSpan.FromHours(-5.5) });

        Assert.Equal(new DateTime(2026, 3, 2), utc.Log.From);
        Assert.Equal(new DateTime(2026, 3, 1, 18, 30, 0), onSite.Log.From);
    }

    [Fact]
    public void A_profile_that_was_named_must_be_of_the_table()
    {
        var file = TestData.Text("a.csv", "time;x\n" + Rows(row => Number(230 + row)));
        var fitting = new ColumnProfile(["time", "x"], [new ColumnStatement("x", LogQuantity.Voltage, LogPlace.Phase2)]);

        Assert.Equal(LogPlace.Phase2, ReadLog.Of(file, new LogReadOptions { Profile = fitting }).Columns[1].Place);
        var failure = Assert.Throws<FormatReadException>(() => ReadLog.Of(file, new LogReadOptions { Profile = fitting with { Headings = ["time", "y"] } }));
        Assert.Equal("no 'y', 'x' besides", failure.Found);
    }

    [Theory]
    [InlineData("Ch 3=active-power,1,mean,kW", "Ch 3", LogQuantity.ActivePower, LogPlace.Phase1, LogStatistic.Mean, "kW")]
    [InlineData("a=b=voltage,12", "a=b", LogQuantity.Voltage, LogPlace.Pair12, LogStatistic.Mean, "")]
    [InlineData("4=ACTIVE-ENERGY,counter,kWh", "4", LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Counter, "kWh")]
    public void What_a_person_types_of_a_column_is_read(string text, string column, LogQuantity quantity, LogPlace place, LogStatistic statistic, string unit)
    {
        Assert.True(ColumnStatementText.TryParse(text, out var statement, out _));
        Assert.Equal((column, quantity, place, statistic, unit), (statement.Column, statement.Quantity, statement.Place, statement.Statistic, statement.Unit));
    }

    [Theory]
    [InlineData("voltage", "is no heading")]
    [InlineData("x=", "is no heading")]
    [InlineData("x=furlongs", "Quantities: ")]
    [InlineData("x=kW", "says no quantity")]
    [InlineData("x=active-energy,kWh", "say amount")]
    public void What_is_typed_wrong_is_told_with_what_would_be_right(string text, string says)
    {
        Assert.False(ColumnStatementText.TryParse(text, out _, out var problem));
        Assert.Contains(says, problem, StringComparison.Ordinal);
    }

    private static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private static string Rows(Func<int, string> cells) =>
        string.Concat(Enumerable.Range(0, 200).Select(row => string.Create(CultureInfo.InvariantCulture, $"{s_start.AddMinutes(15 * row):yyyy-MM-dd HH:mm};{cells(row)}\n")));
}
