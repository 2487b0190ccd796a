using System.Globalization;
using System.Text;
using Leadwright.Core.Logs;

namespace Leadwright.Formats.Tests.Logs;

/// <summary>One stray mark in a table of text costs its own row, and no other: RFC 4180 knows no such marks, recorders that lose power while they write do.</summary>
public class StrayMarkTests
{
    private const int Rows = 200;

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(30)]
    [InlineData(150)]
    public void A_cell_too_many_shifts_neither_its_own_row_nor_the_others(int row)
    {
        // A time of day stands twice: amperes must not be taken for volts, in this row or in any.
        var log = ReadLog.Of(new InputFile("log.csv", Table((line, index) => index == row ? line.Replace(";", ";00:00;", StringComparison.Ordinal) : line)));
        Require(log, row);
        Assert.Contains(log.Warnings, warning => warning.Line == row + 2 && warning.Says.Contains("more numbers than there are headings", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(30)]
    [InlineData(Rows - 1)]
    public void A_separator_that_was_lost_moves_no_value_under_another_heading(int row)
    {
        // 230.030 and 22 become 230.03022, and what stands behind them would be amperes.
        var log = ReadLog.Of(new InputFile("log.csv", Table((line, index) => index == row ? line.Remove(line.LastIndexOf(';'), 1) + ";17" : line + ";17", ";PF1")));
        Require(log, row);
        Assert.True(double.IsNaN(log.Log.Values(0)[log.Log.Starts.Span.IndexOf(Start(row).Ticks)]));
        Assert.Contains(log.Warnings, warning => warning.Line == row + 2 && warning.Says.Contains("fewer cells than all others", StringComparison.Ordinal));
    }

    [Fact]
    public void Empty_cells_that_many_rows_leave_away_at_their_end_are_missing_values_and_no_more()
    {
        var log = ReadLog.Of(new InputFile("log.csv", Table((line, index) => index % 3 == 0 ? line[..line.LastIndexOf(';')] : line)));
        Assert.Equal(Rows, log.Log.Values(0).ToArray().Count(double.IsFinite));
        Assert.Equal(Rows - ((Rows + 2) / 3), log.Log.Values(1).ToArray().Count(double.IsFinite));
    }

    [Fact]
    public void A_remark_behind_the_last_column_leaves_its_row()
    {
        var log = ReadLog.Of(new InputFile("log.csv", Table((line, index) => index == 30 ? line + ";door opened" : line)));
        Require(log, -1);
        Assert.Contains(log.Warnings, warning => warning.Line == 32 && warning.Says.Contains("1 row has more cells than there are headings", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(30)]
    [InlineData(150)]
    [InlineData(Rows - 1)]
    public void A_quote_that_never_closes_swallows_no_row_below_it(int row)
    {
        var log = ReadLog.Of(new InputFile("log.csv", Table((line, index) => index == row ? line.Replace(";2", ";\"2", StringComparison.Ordinal) : line)));
        Require(log, row);
        Assert.Contains(log.Warnings, warning => warning.Line == row + 2);
    }

    [Fact]
    public void A_heading_that_was_lost_shifts_no_values()
    {
        // Of four columns three are named; the time of day has its own name, so that the last one is the one without.
        var text = Encoding.UTF8.GetString(Table((line, _) => line)).Replace(";V1 (V);I1 (A)", ";\"V1 (V);I1 (A)", StringComparison.Ordinal);
        var log = ReadLog.Of(new InputFile("log.csv", Encoding.UTF8.GetBytes(text)));
        for (var row = 0; row < Rows; row++) Assert.Equal(230 + (row / 1000.0), log.Log.Values(0)[row], 1e-9);
    }

    [Fact]
    public void A_quoted_cell_with_lines_in_it_stays_one()
    {
        var text = Encoding.UTF8.GetString(Table((line, _) => line)).Replace("I1 (A)", "\"I1\n(A)\"", StringComparison.Ordinal);
        var log = ReadLog.Of(new InputFile("log.csv", Encoding.UTF8.GetBytes(text)));
        Require(log, -1);
    }

    [Theory]
    [InlineData("9.3W", "the unit \"W\" where most bear none")]
    [InlineData("93%", "the unit \"%\" where most bear none")]
    public void A_cell_with_a_unit_of_its_own_sets_no_scale_for_its_column(string cell, string told)
    {
        var text = "time;V1 (V);P1 (kW)\n" + string.Concat(Enumerable.Range(0, Rows).Select(row => string.Create(CultureInfo.InvariantCulture, $"{Start(row):yyyy-MM-dd HH:mm};{230 + (row % 5)};{(row == 40 ? cell : row == 41 ? "0" : "9.25")}\n")));
        var log = ReadLog.Of(new InputFile("log.csv", Encoding.UTF8.GetBytes(text)));
        var watts = log.Log.Values(log.Log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase1)).ToArray();
        Assert.True(double.IsNaN(watts[40]));
        Assert.All(watts.Where((_, row) => row != 40), (value, row) => Assert.Equal(row == 40 ? 0 : 9250, value));
        Assert.Contains(log.Warnings, warning => warning.Line == 42 && warning.Says.Contains(told, StringComparison.Ordinal));
    }

    [Fact]
    public void Cells_that_all_bear_their_unit_are_read_by_it_and_a_nought_needs_none()
    {
        var text = "time;V1;P1\n" + string.Concat(Enumerable.Range(0, Rows).Select(row => string.Create(CultureInfo.InvariantCulture, $"{Start(row):yyyy-MM-dd HH:mm};{230 + (row % 5)} V;{(row == 41 ? "0" : row % 2 == 0 ? "9.25 kW" : "850 W")}\n")));
        var log = ReadLog.Of(new InputFile("log.csv", Encoding.UTF8.GetBytes(text)));
        var watts = log.Log.Values(log.Log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase1)).ToArray();
        Assert.Equal(Enumerable.Range(0, Rows).Select(row => row == 41 ? 0 : row % 2 == 0 ? 9250.0 : 850), watts);
        Assert.DoesNotContain(log.Warnings, warning => warning.Says.Contains("unit", StringComparison.Ordinal));
    }

    private static void Require(Formats.Logs.LogFile log, int damaged)
    {
        Assert.Equal([LogQuantity.Voltage, LogQuantity.Current], log.Log.Columns.Take(2).Select(column => column.Quantity));
        var kept = Enumerable.Range(0, Rows).Where(row => row != damaged).ToList();
        foreach (var row in kept)
        {
            var at = log.Log.Starts.Span.IndexOf(Start(row).Ticks);
            Assert.True(at >= 0, $"row {row} is not there");
            Assert.Equal(230 + (row / 1000.0), log.Log.Values(0)[at], 1e-9);
            Assert.Equal(20 + (row % 7), log.Log.Values(1)[at], 1e-9);
        }

        if (damaged >= 0 && log.Log.Starts.Span.IndexOf(Start(damaged).Ticks) is >= 0 and var there) Assert.True(double.IsNaN(log.Log.Values(1)[there]));
    }

    private static DateTime Start(int row) => new DateTime(2026, 3, 2).AddMinutes(15 * row);

    private static byte[] Table(Func<string, int, string> change, string more = "")
    {
        var text = new StringBuilder($"Date;Time;V1 (V);I1 (A){more}\n");
        for (var row = 0; row < Rows; row++)
            text.Append(change(string.Create(CultureInfo.InvariantCulture, $"{Start(row):yyyy-MM-dd};{Start(row):HH:mm};{230 + (row / 1000.0):0.000};{20 + (row % 7)}"), row)).Append('\n');
        return Encoding.UTF8.GetBytes(text.ToString());
    }
}
