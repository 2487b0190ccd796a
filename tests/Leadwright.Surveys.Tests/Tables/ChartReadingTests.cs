using Leadwright.Core.Logs;
using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Tests.Tables;

/// <summary>Every chart is held against the same buckets computed from the log's rows one by one.</summary>
public sealed class ChartReadingTests(LargeTable large) : IClassFixture<LargeTable>
{
    [Theory]
    [InlineData(2000, 1.0)]
    [InlineData(100, 1.0)]
    [InlineData(1, 1.0)]
    [InlineData(7, 1.0)]
    [InlineData(300, 0.31)]
    [InlineData(2000, 0.1)]
    [InlineData(1000, 0.004)]
    [InlineData(100_000, 1.0)]
    public async Task A_chart_says_what_the_rows_say(int buckets, double share)
    {
        var random = new Random(buckets);
        for (var round = 0; round < 4; round++)
        {
            var length = (long)((large.Table.To - large.Table.From).Ticks * share);
            var from = large.Table.From.Ticks + (long)((large.Table.To.Ticks - large.Table.From.Ticks - length) * random.NextDouble());
            var chart = await large.Table.ReadAsync([1, 0, 2], new DateTime(from), new DateTime(from + length), buckets, TestContext.Current.CancellationToken);
            Assert.InRange(chart.Count, 0, buckets + 2);
            BruteForce.Check(large.Log, large.Standings, chart, [1, 0, 2], from, from + length);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    public async Task Charts_of_any_log_say_what_its_rows_say(int seed)
    {
        using var folder = new TableFolder();
        var random = new Random(seed);
        var log = TableFolder.RandomLog(seed, random.Next(1, 3000), random.Next(3) switch { 0 => 0.2, 1 => 1, _ => 900 });
        var standings = TableFolder.RandomStandings(seed, log.Count);
        await folder.WriteAsync(log, new() { Standings = standings });
        using var table = await folder.OpenAsync();
        for (var round = 0; round < 20; round++)
        {
            var span = log.To.Ticks - log.From.Ticks;
            var from = Math.Max(0, log.From.Ticks + (long)(span * ((random.NextDouble() * 1.4) - 0.2)));
            var to = from + (long)(span * random.NextDouble() * 1.2);
            var buckets = random.Next(1, 400);
            var chart = await table.ReadAsync([0, 1, 2], new DateTime(from), new DateTime(to), buckets, TestContext.Current.CancellationToken);
            Assert.InRange(chart.Count, 0, buckets + 2);
            BruteForce.Check(log, standings, chart, [0, 1, 2], from, to);
        }
    }

    [Fact]
    public async Task Deep_down_the_rows_themselves_are_given()
    {
        var from = large.Log.Starts.Span[1000];
        var chart = await large.Table.ReadAsync([0], new DateTime(from), new DateTime(from + (50 * large.Log.IntervalTicks)), 200, TestContext.Current.CancellationToken);
        Assert.True(chart.AreRows);
        Assert.Equal(large.Log.Values(0).Slice(1000, chart.Count), chart.Series[0].Mean.Span);
    }

    [Fact]
    public async Task A_wide_span_is_given_in_not_much_fewer_buckets_than_asked_for()
    {
        foreach (var buckets in new[] { 200, 500, 1000, 2000, 3000 })
        {
            var chart = await large.Even.ReadAsync([0], large.Even.From, large.Even.To, buckets, TestContext.Current.CancellationToken);
            Assert.InRange(chart.Count, buckets * 0.6, buckets + 2);
        }
    }

    [Fact]
    public async Task One_row_is_drawn_from_any_span_that_touches_it()
    {
        using var folder = new TableFolder();
        var start = new DateTime(2026, 3, 2, 10, 0, 0);
        await folder.WriteAsync(new IntervalLog([new LogColumn("P", LogQuantity.ActivePower)], [start.Ticks], [[42]], 600));
        using var table = await folder.OpenAsync();
        Assert.Equal((start, start.AddMinutes(10)), (table.From, table.To));
        async Task<int> Count(DateTime from, DateTime to) => (await table.ReadAsync([0], from, to, 10, TestContext.Current.CancellationToken)).Count;
        Assert.Equal(1, await Count(DateTime.MinValue, DateTime.MaxValue));
        Assert.Equal(1, await Count(start.AddMinutes(4), start.AddMinutes(5)));
        Assert.Equal(0, await Count(start.AddMinutes(4), start.AddMinutes(4)));
        Assert.Equal(0, await Count(start.AddMinutes(10), start.AddDays(1)));
        Assert.Equal(0, await Count(DateTime.MinValue, start));
    }

    [Fact]
    public async Task A_span_that_ends_before_it_starts_is_refused()
    {
        var failure = await Assert.ThrowsAsync<ArgumentException>(() => large.Table.ReadAsync([0], large.Table.To, large.Table.From, 10, TestContext.Current.CancellationToken));
        Assert.Contains("before it starts", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Columns_that_are_not_there_and_charts_without_width_are_refused()
    {
        var (from, to) = (large.Table.From, large.Table.To);
        var cancellation = TestContext.Current.CancellationToken;
        await Assert.ThrowsAsync<ArgumentException>(() => large.Table.ReadAsync([3], from, to, 10, cancellation));
        await Assert.ThrowsAsync<ArgumentException>(() => large.Table.ReadAsync([-1], from, to, 10, cancellation));
        Assert.Contains("'V9'", (await Assert.ThrowsAsync<ArgumentException>(() => large.Table.ReadAsync(["V9"], from, to, 10, cancellation))).Message, StringComparison.Ordinal);
        await Assert.ThrowsAsync<ArgumentOutOfRangeException>(() => large.Table.ReadAsync([0], from, to, 0, cancellation));
        await Assert.ThrowsAsync<ArgumentOutOfRangeException>(() => large.Table.ReadAsync([0], from, to, SurveyTable.MostBuckets + 1, cancellation));
    }

    [Fact]
    public async Task A_reading_that_is_cancelled_ends()
    {
        using var source = new CancellationTokenSource();
        await source.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => large.Table.ReadAsync([0], large.Table.From, large.Table.To, 2000, source.Token));
    }

    [Fact]
    public async Task Many_at_a_time_read_what_one_alone_reads()
    {
        var cancellation = TestContext.Current.CancellationToken;
        var span = (large.Table.To - large.Table.From) / 12;
        Task<ChartBuckets> Read(int part) => large.Table.ReadAsync([part % 3], large.Table.From + (span * part), large.Table.From + (span * (part + 1)), 150 + (part * 200), cancellation);
        var alone = new List<ChartBuckets>();
        for (var part = 0; part < 12; part++) alone.Add(await Read(part));
        var together = await Task.WhenAll(Enumerable.Range(0, 48).Select(at => Task.Run(() => Read(at % 12), cancellation)));
        for (var at = 0; at < together.Length; at++)
        {
            Assert.Equal(alone[at % 12].Starts.ToArray(), together[at].Starts.ToArray());
            Assert.Equal(alone[at % 12].Series[0].Mean.ToArray(), together[at].Series[0].Mean.ToArray());
        }
    }
}
