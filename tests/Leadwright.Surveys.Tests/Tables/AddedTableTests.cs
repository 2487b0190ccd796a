using Leadwright.Core.Logs;
using Leadwright.Formats.Tables;
using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Tests.Tables;

/// <summary>Tables that were written elsewhere, such as by a measurement, are taken as they stand.</summary>
public sealed class AddedTableTests : IDisposable
{
    private readonly TableFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_measured_table_is_drawn_by_its_clock_or_from_its_start(bool hasClock)
    {
        using var bytes = await MeasuredAsync(hasClock, 50_000);
        await SurveyTables.AddAsync(_folder.Path, TableFolder.Survey, new(TableName.Measured), bytes, TestContext.Current.CancellationToken);
        Assert.Equal(bytes.ToArray(), await File.ReadAllBytesAsync(_folder.Of($"tables/measured/survey={TableFolder.Survey}/part-0.parquet"), TestContext.Current.CancellationToken));
        using var table = await _folder.OpenAsync(TableName.Measured);
        Assert.Equal(hasClock, table.HasClock);
        Assert.Equal(["windows", "V1_rms_V", "I1_thd_percent"], table.Columns.Select(column => column.Name));
        Assert.Equal(["", "V", "%"], table.Columns.Select(column => column.Unit));
        Assert.Equal([false, true, false], table.Columns.Select(column => column.HasStandings));
        Assert.Equal(0.2, table.IntervalSeconds, 6);
        var start = hasClock ? new DateTime(2026, 3, 2) : default;
        Assert.Equal(start, table.From);
        foreach (var buckets in new[] { 100, 1000 })
        {
            var chart = await table.ReadAsync(["V1_rms_V"], table.From, table.To, buckets, TestContext.Current.CancellationToken);
            Assert.InRange(chart.Count, 1, buckets + 2);
            Assert.Equal(50_000, chart.Rows.ToArray().Sum());
            var series = chart.Series[0];
            Assert.Equal(0, series.Least.ToArray().Min());
            Assert.Equal(49_999, series.Greatest.ToArray().Max());
            // One window in a thousand is lost: its bucket says so.
            Assert.Equal(50, chart.Rows.ToArray().Zip(series.Known.ToArray()).Sum(pair => pair.First - pair.Second));
            Assert.All(Enumerable.Range(0, chart.Count), at => Assert.Equal(
                series.Known.Span[at] < chart.Rows.Span[at] ? Standing.Lost : Standing.Measured, series.Worst.Span[at]));
        }

        var failure = await Assert.ThrowsAsync<SurveyException>(() => table.ReadLogAsync(TestContext.Current.CancellationToken));
        Assert.Contains("was not written as a log", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Events_without_times_are_kept_for_queries_but_not_drawn()
    {
        using var bytes = new MemoryStream();
        var writer = new ParquetTableWriter(bytes, [new("kind", TableColumnKind.Text), new("residual_percent", TableColumnKind.Number)], new Dictionary<string, string>());
        writer.Set(0, "dip");
        writer.Set(1, 61.2);
        await writer.EndRowAsync();
        await writer.CompleteAsync();
        await SurveyTables.AddAsync(_folder.Path, TableFolder.Survey, new(TableName.Events), bytes, TestContext.Current.CancellationToken);
        Assert.Contains("can't be drawn over time", (await Assert.ThrowsAsync<SurveyException>(() => _folder.OpenAsync(TableName.Events))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_no_whole_table_is_refused_and_what_was_there_stays()
    {
        using var bytes = await MeasuredAsync(true, 100);
        await SurveyTables.AddAsync(_folder.Path, TableFolder.Survey, new(TableName.Measured), bytes, TestContext.Current.CancellationToken);
        using var half = new MemoryStream(bytes.ToArray()[..^100]);
        var failure = await Assert.ThrowsAsync<SurveyException>(
            () => SurveyTables.AddAsync(_folder.Path, TableFolder.Survey, new(TableName.Measured), half, TestContext.Current.CancellationToken));
        Assert.Equal(SurveyProblem.Refused, failure.Problem);
        using var table = await _folder.OpenAsync(TableName.Measured);
        Assert.Equal(100, table.RowCount);
    }

    private static async Task<MemoryStream> MeasuredAsync(bool hasClock, int rows)
    {
        var stream = new MemoryStream();
        TableColumn[] columns =
        [
            new("start_s", TableColumnKind.Number), new("end_s", TableColumnKind.Number), new("windows", TableColumnKind.Number), new("flags", TableColumnKind.Text),
            new("V1_standing", TableColumnKind.Text), new("V1_rms_V", TableColumnKind.Single), new("I1_thd_percent", TableColumnKind.Single),
        ];
        if (hasClock) columns = [new("start", TableColumnKind.Time), .. columns];
        var (first, writer) = (hasClock ? 1 : 0, new ParquetTableWriter(stream, [.. columns], new Dictionary<string, string>()));
        for (var row = 0; row < rows; row++)
        {
            if (hasClock) writer.Set(0, new DateTime(2026, 3, 2).AddMilliseconds(200 * row));
            writer.Set(first, 0.2 * row);
            writer.Set(first + 1, 0.2 * (row + 1));
            writer.Set(first + 2, 1);
            writer.Set(first + 4, row % 1000 == 500 ? "lost" : "measured");
            if (row % 1000 != 500) writer.Set(first + 5, row);
            await writer.EndRowAsync();
        }

        await writer.CompleteAsync();
        stream.Position = 0;
        return stream;
    }
}
