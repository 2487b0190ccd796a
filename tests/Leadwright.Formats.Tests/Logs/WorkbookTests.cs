using Leadwright.Core.Logs;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using SpreadCheetah;
using SpreadCheetah.Styling;

namespace Leadwright.Formats.Tests.Logs;

/// <summary>Workbooks and Parquet that other libraries wrote.</summary>
public sealed class WorkbookTests
{
    [Fact]
    public async Task A_workbook_by_another_library_gives_its_log_and_names_the_other_sheets()
    {
        var start = new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Unspecified);
        var bytes = await Workbook(async book =>
        {
            await book.StartWorksheetAsync("Cover", token: TestContext.Current.CancellationToken);
            await book.AddRowAsync([new Cell("Some recorder")], TestContext.Current.CancellationToken);
            await book.StartWorksheetAsync("Values", token: TestContext.Current.CancellationToken);
            await book.AddRowAsync([new Cell("Invented log")], TestContext.Current.CancellationToken);
            await book.AddRowAsync([new Cell("Time"), new Cell("Voltage L1"), new Cell("Power L1"), new Cell("State")], TestContext.Current.CancellationToken);
            await book.AddRowAsync([new Cell(""), new Cell("V"), new Cell("kW"), new Cell("")], TestContext.Current.CancellationToken);
            for (var row = 0; row < 1000; row++)
            {
                await book.AddRowAsync(
                    [new Cell(start.AddMinutes(15 * row)), new Cell(230 + (row % 5)), row % 7 == 2 ? new Cell((string?)null) : new Cell(1.25 + (row % 3)), new Cell("on")],
                    TestContext.Current.CancellationToken);
            }
        });
        var file = new InputFile("week.xlsx", bytes);

        Assert.Equal(InputKind.Workbook, InputSniffer.KindOf(file));
        var read = ReadLog.Of(file);
        var log = read.Log;
        Assert.Equal((1000, 900.0, start), (log.Count, log.IntervalSeconds, log.From));
        Assert.Equal(start.AddMinutes(15 * 999), new DateTime(log.Starts.Span[^1]));
        Assert.Equal(234, log.Values(log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1))[4]);
        var watts = log.Values(log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase1));
        Assert.Equal(3250, watts[5]);
        Assert.True(double.IsNaN(watts[2]));
        Assert.Contains(read.Warnings, warning => warning.Says == "Worksheet \"Values\" is read; not read: \"Cover\".");
        Assert.Contains(read.Warnings, warning => warning.Says == "Column 'State' holds words and is left out: \"on\".");
        Assert.Empty(read.Clock);
    }

    [Fact]
    public async Task A_workbook_may_hold_text_and_split_date_and_time()
    {
        var date = new Style { Format = NumberFormat.Custom("dd/mm/yyyy") };
        var time = new Style { Format = NumberFormat.Custom("hh:mm:ss") };
        var bytes = await Workbook(async book =>
        {
            var (dateId, timeId) = (book.AddStyle(date), book.AddStyle(time));
            await book.StartWorksheetAsync("Log", token: TestContext.Current.CancellationToken);
            await book.AddRowAsync([new Cell("Datum"), new Cell("Uhrzeit"), new Cell("Spannung L2 (V)")], TestContext.Current.CancellationToken);
            for (var row = 0; row < 200; row++)
            {
                var at = new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Unspecified).AddMinutes(15 * row);
                await book.AddRowAsync(
                    [new Cell(at.Date, dateId), new Cell(at.TimeOfDay.TotalDays, timeId), row % 2 == 0 ? new Cell("230,5") : new Cell(231)], TestContext.Current.CancellationToken);
            }
        });
        var log = ReadLog.Of(new InputFile("log.xlsx", bytes)).Log;

        Assert.Equal((200, 900.0), (log.Count, log.IntervalSeconds));
        Assert.Equal([230.5, 231, 230.5], log.Values(log.IndexOf(LogQuantity.Voltage, LogPlace.Phase2))[..3].ToArray());
    }

    [Fact]
    public async Task A_sheet_is_named_where_there_are_several()
    {
        var bytes = await Workbook(async book =>
        {
            foreach (var (sheet, volts) in new[] { ("First", 230.0), ("Second", 400.0) })
            {
                await book.StartWorksheetAsync(sheet, token: TestContext.Current.CancellationToken);
                await book.AddRowAsync([new Cell("time"), new Cell("V (V)")], TestContext.Current.CancellationToken);
                for (var row = 0; row < 4; row++)
                    await book.AddRowAsync([new Cell(new DateTime(2026, 3, 2, 0, row, 0, DateTimeKind.Unspecified)), new Cell(volts)], TestContext.Current.CancellationToken);
            }
        });

        Assert.Equal(400, ReadLog.Of(new InputFile("a.xlsx", bytes), new LogReadOptions { Sheet = "second" }).Log.Values(0)[0]);
        var failure = Assert.Throws<FormatReadException>(() => ReadLog.Of(new InputFile("a.xlsx", bytes), new LogReadOptions { Sheet = "third" }));
        Assert.Equal("\"First\", \"Second\"", failure.Found);
    }

    [Fact]
    public void A_workbook_by_openpyxl_with_merged_titles_groups_and_a_total_gives_its_log()
    {
        // write_by_openpyxl.py beside it says what is in it.
        var read = ReadLog.Of(TestData.File("logged/week.xlsx"));
        var log = read.Log;

        Assert.Equal((96, 900.0, new DateTime(2026, 3, 2)), (log.Count, log.IntervalSeconds, log.From));
        for (var row = 0; row < 96; row++)
        {
            var watts = 0.0;
            for (var phase = 0; phase < 3; phase++)
            {
                var (volts, amperes) = (230 + (row % 5) + (0.25 * phase), 40 + (row % 7) + (0.5 * phase));
                Assert.Equal(volts, log.Values(log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1 + phase))[row]);
                Assert.Equal(amperes, log.Values(log.IndexOf(LogQuantity.Current, LogPlace.Phase1 + phase))[row]);
                watts += 0.9 * volts * amperes;
            }

            Assert.Equal(watts, log.Values(log.IndexOf(LogQuantity.ActivePower, LogPlace.Whole))[row], 6);
        }

        Assert.Contains(read.Warnings, warning => warning.Says == "Worksheet \"Trend\" is read; not read: \"Cover\", \"Events\".");
        Assert.Contains(read.Warnings, warning => warning.Says.Contains("\"Total\"", StringComparison.Ordinal));
        Assert.Empty(read.Clock);
    }

    [Fact]
    public void Parquet_by_apache_arrow_gives_its_log()
    {
        var file = TestData.File("logged/quarters.parquet");
        Assert.Equal(InputKind.Parquet, InputSniffer.KindOf(file with { Name = "download" }));
        var read = ReadLog.Of(file);
        var log = read.Log;

        Assert.Equal((96, 900.0, new DateTime(2026, 3, 2)), (log.Count, log.IntervalSeconds, log.From));
        var volts = log.Values(log.IndexOf(LogQuantity.Voltage, LogPlace.Phase1));
        var watts = log.Values(log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase1));
        var energy = log.Values(log.IndexOf(LogQuantity.ActiveEnergy, LogPlace.Whole, LogStatistic.Counter));
        for (var row = 0; row < 96; row++)
        {
            Assert.Equal(230 + (0.25 * (row % 9)), volts[row]);
            Assert.Equal(row % 10 == 3 ? double.NaN : 1500 + (125 * (row % 16)), watts[row]);
            Assert.Equal(12000 + (40 * row) + (row % 3), energy[row]);
        }

        Assert.Equal(ColumnRole.LeftOut, read.Columns[4].Role);
        Assert.Contains(read.Warnings, warning => warning.Says == "Column 'remark' holds words and is left out: \"door opened\".");
    }

    private static async Task<byte[]> Workbook(Func<Spreadsheet, Task> fill)
    {
        using var stream = new MemoryStream();
        await using (var book = await Spreadsheet.CreateNewAsync(stream, cancellationToken: TestContext.Current.CancellationToken))
        {
            await fill(book);
            await book.FinishAsync(TestContext.Current.CancellationToken);
        }

        return stream.ToArray();
    }
}
