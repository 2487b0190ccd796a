using Leadwright.Core.Logs;
using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Tests.Tables;

public sealed class LogTableTests : IDisposable
{
    private readonly TableFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData(1, 1)]
    [InlineData(2, 2)]
    [InlineData(3, 777)]
    [InlineData(4, 32_768)]
    [InlineData(5, 40_000)]
    public async Task A_log_comes_back_as_it_was_and_makes_the_same_bytes_again(int seed, int rows)
    {
        var log = TableFolder.RandomLog(seed, rows);
        log = new IntervalLog(log.Columns, log.Starts.ToArray(), [.. Enumerable.Range(0, 3).Select(column => log.Values(column).ToArray())], 60) { ClockSteps = [new ClockStep(rows / 2, 36_000_000_000)] };
        var options = new TableWriteOptions { Standings = TableFolder.RandomStandings(seed, rows), Metadata = new Dictionary<string, string> { ["source"] = "week.csv" } };
        await _folder.WriteAsync(log, options);
        var bytes = await AllBytesAsync();
        using (var table = await _folder.OpenAsync())
        {
            var (read, standings) = await table.ReadLogAsync(TestContext.Current.CancellationToken);
            Assert.Equal(log.Columns, read.Columns);
            Assert.Equal(log.Starts.ToArray(), read.Starts.ToArray());
            Assert.Equal(log.ClockSteps, read.ClockSteps);
            Assert.Equal(log.IntervalSeconds, read.IntervalSeconds);
            for (var column = 0; column < 3; column++) Assert.Equal(log.Values(column), read.Values(column));
            var told = options.Standings[1].Span.IndexOfAnyExcept(Standing.Measured) >= 0;
            Assert.Equal(told ? [1] : [], standings.Keys);
            if (told) Assert.Equal(options.Standings[1].ToArray(), standings[1].ToArray());
            await _folder.WriteAsync(read, options with { Standings = standings });
        }

        Assert.Equal(bytes, await AllBytesAsync());
    }

    [Fact]
    public async Task A_log_without_dates_counts_seconds_and_comes_back()
    {
        var dated = TableFolder.RandomLog(7, 5000);
        var log = new IntervalLog(dated.Columns, [.. Enumerable.Range(0, 5000).Select(row => row * 60L * TimeSpan.TicksPerSecond)], [.. Enumerable.Range(0, 3).Select(column => dated.Values(column).ToArray())], 60);
        await _folder.WriteAsync(log);
        using var table = await _folder.OpenAsync();
        Assert.False(table.HasClock);
        var (read, _) = await table.ReadLogAsync(TestContext.Current.CancellationToken);
        Assert.Equal(log.Starts.ToArray(), read.Starts.ToArray());
        Assert.Equal(log.Values(1), read.Values(1));
        // From the pyramid as from the rows.
        Assert.InRange((await table.ReadAsync([1], DateTime.MinValue, DateTime.MinValue.AddSeconds(300_000), 50, TestContext.Current.CancellationToken)).Count, 20, 50);
    }

    [Fact]
    public async Task A_log_without_rows_comes_back_and_draws_nothing()
    {
        await _folder.WriteAsync(TableFolder.RandomLog(1, 0));
        using var table = await _folder.OpenAsync();
        Assert.Equal(0, table.RowCount);
        Assert.Equal(0, (await table.ReadLogAsync(TestContext.Current.CancellationToken)).Log.Count);
        Assert.Equal(0, (await table.ReadAsync([0, 1], DateTime.MinValue, DateTime.MaxValue, 100, TestContext.Current.CancellationToken)).Count);
    }

    [Fact]
    public async Task Columns_of_one_name_are_told_apart_whatever_their_letters()
    {
        LogColumn[] columns =
        [
            new("Temp", LogQuantity.Other) { OtherUnit = "°C" }, new("TEMP", LogQuantity.Other) { OtherUnit = "°C" }, new("start", LogQuantity.Other), new("a.b/c \"d\"", LogQuantity.Other),
            new("x", LogQuantity.Voltage, LogPlace.Phase1), new("y", LogQuantity.Voltage, LogPlace.Phase1),
        ];
        var log = new IntervalLog([.. columns], [DateTime.UnixEpoch.Ticks], [.. columns.Select((_, index) => (double[])[index])], 1);
        await _folder.WriteAsync(log);
        using var table = await _folder.OpenAsync();
        Assert.Equal(["Temp (°C)", "TEMP (°C)_2", "start_2", "a.b/c \"d\"", "V1_rms_V", "V1_rms_V_2"], table.Columns.Select(column => column.Name));
        Assert.Equal(["°C", "°C", "", "", "V", "V"], table.Columns.Select(column => column.Unit));
        var chart = await table.ReadAsync(["start_2", "V1_rms_V_2"], table.From, table.To, 10, TestContext.Current.CancellationToken);
        Assert.Equal([2, 5], chart.Series.Select(series => series.Mean.Span[0]));
        Assert.Equal(columns, (await table.ReadLogAsync(TestContext.Current.CancellationToken)).Log.Columns);
    }

    [Fact]
    public async Task Times_closer_than_a_table_can_tell_are_refused()
    {
        var log = new IntervalLog([new LogColumn("P", LogQuantity.ActivePower)], [1000, 1009], [[1, 2]], 1);
        Assert.Contains("rows 0 and 1", (await Assert.ThrowsAsync<ArgumentException>(() => _folder.WriteAsync(log))).Message, StringComparison.OrdinalIgnoreCase);
        Assert.False(File.Exists(_folder.TableFile));
    }

    [Theory]
    [InlineData("Log", 0)]
    [InlineData("log-pyramid", 0)]
    [InlineData("../log", 0)]
    [InlineData("", 0)]
    [InlineData("log", -1)]
    public async Task A_name_that_is_none_is_refused(string kind, int part) => Assert.Equal(
        SurveyProblem.Refused,
        (await Assert.ThrowsAsync<SurveyException>(() => _folder.WriteAsync(TableFolder.RandomLog(1, 2), new() { Table = new(kind, part) }))).Problem);

    [Fact]
    public async Task Standings_for_other_rows_are_refused() => await Assert.ThrowsAsync<ArgumentException>(
        () => _folder.WriteAsync(TableFolder.RandomLog(1, 5), new() { Standings = TableFolder.RandomStandings(1, 4) }));

    [Fact]
    public async Task A_writing_that_is_cancelled_leaves_what_was_there()
    {
        await _folder.WriteAsync(TableFolder.RandomLog(1, 100));
        var bytes = await AllBytesAsync();
        using var source = new CancellationTokenSource();
        await source.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => _folder.WriteAsync(TableFolder.RandomLog(2, 50_000), null, source.Token));
        Assert.Equal(bytes, await AllBytesAsync());
    }

    [Fact]
    public async Task What_is_unfinished_is_no_table()
    {
        Directory.CreateDirectory(_folder.Of("tables/log/survey=invented-1"));
        await File.WriteAllTextAsync(_folder.TableFile + ".unfinished", "half", TestContext.Current.CancellationToken);
        using var tables = SurveyTables.Open(_folder.Path);
        Assert.Empty(tables.Names);
        var failure = await Assert.ThrowsAsync<SurveyException>(() => tables.TableAsync(new(TableName.Log), TestContext.Current.CancellationToken));
        Assert.Equal(SurveyProblem.NotFound, failure.Problem);
        Assert.Contains("has no table 'log'", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Tables_of_several_recordings_and_kinds_stand_side_by_side()
    {
        await _folder.WriteAsync(TableFolder.RandomLog(1, 10));
        await _folder.WriteAsync(TableFolder.RandomLog(2, 20), new() { Table = new(TableName.Log, 1) });
        await _folder.WriteAsync(TableFolder.RandomLog(3, 30), new() { Table = new(TableName.Mended) });
        using var tables = SurveyTables.Open(_folder.Path, TableFolder.Survey);
        Assert.Equal([new(TableName.Log), new(TableName.Log, 1), new(TableName.Mended)], tables.Names);
        Assert.Equal(20, (await tables.TableAsync(new(TableName.Log, 1), TestContext.Current.CancellationToken)).RowCount);
        using var others = SurveyTables.Open(_folder.Path, "another");
        Assert.Empty(others.Names);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    [InlineData(40)]
    public async Task A_damaged_table_is_told(int kept)
    {
        await _folder.WriteAsync(TableFolder.RandomLog(1, 100));
        var bytes = await File.ReadAllBytesAsync(_folder.TableFile, TestContext.Current.CancellationToken);
        await File.WriteAllBytesAsync(_folder.TableFile, bytes[..(bytes.Length * kept / 100)], TestContext.Current.CancellationToken);
        var failure = await Assert.ThrowsAsync<SurveyException>(() => _folder.OpenAsync());
        Assert.Equal(SurveyProblem.Damaged, failure.Problem);
        Assert.Contains("part-0.parquet", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_bit_that_turned_is_found_by_the_digest()
    {
        await _folder.WriteAsync(TableFolder.RandomLog(1, 5000));
        using (var table = await _folder.OpenAsync()) Assert.True(await table.VerifyAsync(TestContext.Current.CancellationToken));
        var bytes = await File.ReadAllBytesAsync(_folder.TableFile, TestContext.Current.CancellationToken);
        foreach (var at in new[] { 100, bytes.Length / 3, bytes.Length / 2 })
        {
            var turned = bytes.ToArray();
            turned[at] ^= 8;
            await File.WriteAllBytesAsync(_folder.TableFile, turned, TestContext.Current.CancellationToken);
            using var table = await _folder.OpenAsync();
            var failure = await Assert.ThrowsAsync<SurveyException>(() => table.VerifyAsync(TestContext.Current.CancellationToken));
            Assert.Equal(SurveyProblem.Damaged, failure.Problem);
        }
    }

    private async Task<byte[][]> AllBytesAsync()
    {
        var files = Directory.GetFiles(_folder.Path, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal).ToArray();
        Assert.DoesNotContain(files, file => file.EndsWith(".unfinished", StringComparison.Ordinal));
        return await Task.WhenAll(files.Select(file => File.ReadAllBytesAsync(file, TestContext.Current.CancellationToken)));
    }
}
