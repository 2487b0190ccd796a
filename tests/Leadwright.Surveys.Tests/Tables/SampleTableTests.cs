using Leadwright.Core.Signals;
using Leadwright.Formats.Sampling;
using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Tests.Tables;

/// <summary>Samples in a survey's table: every chart, from the whole recording to one cycle, is held against the samples themselves.</summary>
public sealed class SampleTableTests
{
    private const double Rate = 12_800;
    private static readonly DateTime s_start = new(2026, 3, 2, 8, 0, 0);
    private static readonly TableWriteOptions s_options = new() { Table = new(TableName.Samples) };

    [Theory]
    [InlineData(1.0, 1000, false)]
    [InlineData(0.2, 700, false)]
    [InlineData(0.02, 300, false)]
    [InlineData(0.004, 2000, true)]
    public async Task A_chart_of_any_span_says_what_the_samples_say(double share, int width, bool areRows)
    {
        using var folder = new TableFolder();
        var recording = Recording(10, 300_000, s_start);
        var facts = await WriteAsync(folder, recording);
        Assert.Equal((300_000L, Rate, 2, 0), (facts.Count, facts.RateHertz, facts.StretchCount, facts.MovedCount));
        Assert.Equal(s_start, facts.From);
        using var table = await folder.OpenAsync(TableName.Samples);
        Assert.Equal(["c0_V", "c1_A", "c2_V", "c3_A", "c4_V", "c5_A", "c6_V", "c7_A", "c8_V", "c9_A"], table.Columns.Select(column => column.Name));
        var random = new Random(width);
        for (var round = 0; round < 3; round++)
        {
            var span = (table.To - table.From) * share;
            var from = table.From + ((table.To - table.From - span) * random.NextDouble());
            var chart = await table.ReadAsync(["c9_A", "c0_V"], from, from + span, width, TestContext.Current.CancellationToken);
            Assert.Equal(areRows, chart.AreRows);
            Assert.InRange(chart.Count, share < 1 ? 1 : width / 3, width + 2);
            Check(chart, recording, [9, 0], Times(recording));
        }
    }

    [Fact]
    public async Task A_recording_without_a_clock_counts_from_its_start()
    {
        using var folder = new TableFolder();
        var recording = Recording(2, 50_000, null);
        var facts = await WriteAsync(folder, recording);
        Assert.Null(facts.From);
        using var table = await folder.OpenAsync(TableName.Samples);
        Assert.False(table.HasClock);
        var chart = await table.ReadAsync([0], table.From, table.To, 500, TestContext.Current.CancellationToken);
        Assert.InRange(chart.Count, 100, 502);
        Assert.Equal(50_000, chart.Rows.ToArray().Sum());
    }

    [Fact]
    public async Task Samples_that_go_back_in_time_follow_at_once_and_are_counted()
    {
        using var folder = new TableFolder();
        var samples = Enumerable.Range(0, 2000).Select(index => (double)index).ToArray();
        var recording = new SampledRecording([new("v", "", "V", samples)], [new(0, 1000, Rate, 0), new(1000, 1000, Rate, 0.01)], 50, s_start);
        var facts = await WriteAsync(folder, recording);
        Assert.Equal((2, 1), (facts.StretchCount, facts.MovedCount));
        using var table = await folder.OpenAsync(TableName.Samples);
        var rows = await table.ReadAsync([0], table.From, table.To, 5000, TestContext.Current.CancellationToken);
        Assert.Equal(samples, rows.Series[0].Mean.ToArray());
    }

    [Fact]
    public async Task Stopping_leaves_what_was_there()
    {
        using var folder = new TableFolder();
        var recording = Recording(2, 300_000, s_start);
        using var stop = new CancellationTokenSource();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => SurveyTables.WriteSamplesAsync(
            folder.Path, TableFolder.Survey, () => new RecordingSource("r", recording, []), s_options with { Progress = new Stopping(stop) }, stop.Token));
        Assert.DoesNotContain(Directory.EnumerateFiles(folder.Path, "*", SearchOption.AllDirectories), file => file.EndsWith(".parquet", StringComparison.Ordinal) || file.EndsWith(".unfinished", StringComparison.Ordinal));
    }

    private static Task<SampleTableFacts> WriteAsync(TableFolder folder, SampledRecording recording) => SurveyTables.WriteSamplesAsync(
        folder.Path, TableFolder.Survey, () => new RecordingSource("r", recording, []), s_options, TestContext.Current.CancellationToken);

    // Two seconds are missing in the middle; here and there a sample is.
    private static SampledRecording Recording(int channels, int count, DateTime? start)
    {
        var random = new Random(1);
        var made = Enumerable.Range(0, channels).Select(channel => new SampledChannel($"c{channel}", "", channel % 2 == 0 ? "kV" : "A", Enumerable.Range(0, count)
            .Select(index => random.Next(5000) == 0 ? double.NaN : (double)(float)((325 * Math.Sin((2 * Math.PI * 50 * index / Rate) - channel)) + random.NextDouble())).ToArray()));
        return new SampledRecording([.. made], [new(0, count / 2, Rate, 0), new(count / 2, count - (count / 2), Rate, (count / 2 / Rate) + 2)], 50, start);
    }

    private static long[] Times(SampledRecording recording) =>
        [.. recording.Segments.SelectMany(segment => Enumerable.Range(0, segment.Length).Select(index =>
            s_start.Ticks + ((long)Math.Round((segment.StartSeconds + (index / segment.RateHertz)) * 1e6) * TimeSpan.TicksPerMicrosecond)))];

    private static void Check(ChartBuckets chart, SampledRecording recording, int[] columns, long[] times)
    {
        var starts = chart.Starts.ToArray();
        for (var bucket = 0; bucket < starts.Length; bucket++)
        {
            // A sample may stand a microsecond beside where the sum of steps has it.
            var first = LowerBound(times, starts[bucket] - (chart.AreRows ? 2 * TimeSpan.TicksPerMicrosecond : 0));
            var end = chart.AreRows ? first + 1 : LowerBound(times, starts[bucket] + chart.WidthTicks);
            Assert.Equal(end - first, chart.Rows.Span[bucket]);
            for (var series = 0; series < columns.Length; series++)
            {
                var values = recording.Channels[columns[series]].Samples.Span[first..end].ToArray().Where(value => !double.IsNaN(value)).ToArray();
                Assert.Equal(values.Length, chart.Series[series].Known.Span[bucket]);
                if (values.Length == 0) continue;
                Assert.Equal(values.Min(), chart.Series[series].Least.Span[bucket]);
                Assert.Equal(values.Max(), chart.Series[series].Greatest.Span[bucket]);
                Assert.Equal(values.Average(), chart.Series[series].Mean.Span[bucket], 1e-9);
            }
        }
    }

    private static int LowerBound(long[] times, long time)
    {
        var found = Array.BinarySearch(times, time);
        return found < 0 ? ~found : found;
    }

    private sealed class Stopping(CancellationTokenSource stop) : IProgress<double>
    {
        public void Report(double value)
        {
            if (value > 0.2) stop.Cancel();
        }
    }
}
