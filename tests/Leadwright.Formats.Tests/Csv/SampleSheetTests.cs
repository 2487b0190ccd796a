using Leadwright.Core.Logs;
using Leadwright.Core.Signals.Lanes;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Sampling;
using SpreadCheetah;

namespace Leadwright.Formats.Tests.Csv;

/// <summary>Samples in workbooks and Parquet are samples, and logs in them stay logs.</summary>
public sealed class SampleSheetTests
{
    private const double Rate = 4000;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_workbook_of_samples_is_read_as_samples()
    {
        var file = new InputFile("waves.xlsx", await WorkbookAsync(["t (s)", "V1 (V)", "I1 (A)"], row => [row / Rate, 325 * Wave(row), row == 7 ? null : 20 * Wave(row)]));
        var samples = Assert.IsType<SampledInput>(Assert.Single(InputReader.Read([file])));

        Assert.Equal(["V1", "I1"], samples.Recording.Channels.Select(channel => channel.Name));
        Assert.Equal(Rate, Assert.Single(samples.Recording.Segments).RateHertz, 6);
        Assert.Equal(2000, samples.Recording.Channels[0].Samples.Length);
        Assert.Equal(325 * Wave(3), samples.Recording.Channels[0].Samples.Span[3], 9);
        Assert.True(double.IsNaN(samples.Recording.Channels[1].Samples.Span[7]));

        using var source = SampleFiles.Open([new SampleFile(file.Name, () => new MemoryStream(file.Bytes.ToArray()))], null, Cancellation)!;
        source.Choose(LaneChoice.Empty.With(0, 0, isTurned: false));
        var frames = new float[4096 * Lane.Count];
        Assert.Equal(2000, source.Read(frames));
        Assert.Equal(325 * Wave(3), frames[3 * Lane.Count], 3);
    }

    [Fact]
    public async Task A_workbook_of_samples_without_times_needs_the_rate()
    {
        var file = new InputFile("waves.xlsx", await WorkbookAsync(["V1 (V)", "I1 (A)"], row => [325 * Wave(row), 20 * Wave(row)]));

        Assert.Null(SampleSheets.TextOf(file));
        var samples = Assert.IsType<SampledInput>(Assert.Single(InputReader.Read([file], new InputReadOptions { Csv = new CsvSampleOptions { RateHertz = Rate } })));
        Assert.Equal(Rate, samples.Recording.Segments[0].RateHertz);
    }

    [Fact]
    public async Task Parquet_of_samples_is_read_as_samples_with_its_start()
    {
        var start = new DateTime(2026, 3, 2, 10, 0, 0);
        var log = new IntervalLog(
            [new LogColumn("VA", LogQuantity.Other) { OtherUnit = "V" }], [.. Enumerable.Range(0, 1000).Select(row => start.Ticks + (row * TimeSpan.TicksPerMillisecond))],
            [[.. Enumerable.Range(0, 1000).Select(row => 325 * Wave(row))]], 0.001);
        using var stream = new MemoryStream();
        await LogWriter.WriteParquetAsync(log, stream, cancellation: Cancellation);
        var file = new InputFile("waves.parquet", stream.ToArray());
        var samples = Assert.IsType<SampledInput>(Assert.Single(InputReader.Read([file])));

        Assert.Equal(start, samples.Recording.Start);
        Assert.Equal(1000, samples.Recording.Segments[0].RateHertz, 3);
        Assert.Contains(samples.Recording.Channels, channel => channel.Name == "VA" && Math.Abs(channel.Samples.Span[3] - (325 * Wave(3))) < 1e-9);
    }

    [Fact]
    public async Task A_workbook_of_a_log_stays_a_log()
    {
        var file = new InputFile("week.xlsx", await WorkbookAsync(["t (s)", "V1 (V)"], row => [row, 230.0 + (row % 3)]));

        Assert.Null(SampleSheets.TextOf(file));
        Assert.IsType<LogInput>(Assert.Single(InputReader.Read([file])));
    }

    private static double Wave(int row) => Math.Cos(2 * Math.PI * 50 * row / Rate);

    private static async Task<byte[]> WorkbookAsync(string[] headings, Func<int, double?[]> cells)
    {
        using var stream = new MemoryStream();
        await using (var book = await Spreadsheet.CreateNewAsync(stream, cancellationToken: Cancellation))
        {
            await book.StartWorksheetAsync("Waves", token: Cancellation);
            await book.AddRowAsync([.. headings.Select(heading => new Cell(heading))], Cancellation);
            for (var row = 0; row < 2000; row++) await book.AddRowAsync([.. cells(row).Select(value => new Cell(value))], Cancellation);
            await book.FinishAsync(Cancellation);
        }

        return stream.ToArray();
    }
}
