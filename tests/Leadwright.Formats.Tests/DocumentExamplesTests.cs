using Leadwright.Core.Logs;
using Leadwright.Formats.Comtrade;
using Leadwright.Formats.Csv;
using Leadwright.Formats.Matching;
using Leadwright.Formats.Readings;
using Leadwright.Formats.Tests.Logs;

namespace Leadwright.Formats.Tests;

/// <summary>The examples in docs/formats are read as they stand.</summary>
public sealed class DocumentExamplesTests
{
    [Fact]
    public void Comtrade_page_shows_a_record_with_the_values_it_says()
    {
        var blocks = BlocksOf("comtrade.md");
        var (cfg, dat) = (TestData.Text("page.cfg", blocks[^2]), TestData.Text("page.dat", blocks[^1]));

        var record = ComtradeReader.Read(cfg, dat);

        Assert.Empty(record.Warnings);
        Assert.Equal((50, 1.1), (record.Recording.Channels[0].Samples.Span[0], Math.Round(record.Recording.Channels[1].Samples.Span[0], 12)));
        var primary = ComtradeReader.Read(cfg, dat, new() { Scaling = ComtradeScaling.Primary });
        Assert.Equal(44, primary.Recording.Channels[1].Samples.Span[0], 9);
        Assert.Equal(25e-6, record.Recording.Channels[1].SkewSeconds, 12);
    }

    [Fact]
    public void Page_of_tables_shows_tables_that_are_read()
    {
        var blocks = BlocksOf("csv-samples.md");

        Assert.Equal(4, CsvSampleReader.Read(TestData.Text("page.csv", blocks[0])).Recording.Channels.Length);
        var second = CsvSampleReader.Read(TestData.Text("page.csv", blocks[1])).Recording;
        Assert.Equal((325.1, 10240, 50), (second.Channels[0].Samples.Span[0], second.Segments[0].RateHertz, second.LineFrequencyHertz));
    }

    [Fact]
    public void Page_of_readings_shows_readings_that_are_read()
    {
        var file = ReadingsReader.Read(TestData.Text("page.json", BlocksOf("readings.md")[0]));

        Assert.Empty(file.Warnings);
        Assert.Equal(6, file.Readings.Channels.Count);
    }

    [Fact]
    public void Page_of_logs_shows_a_log_and_a_profile_that_are_read()
    {
        var blocks = BlocksOf("logged-values.md");

        var file = ReadLog.Of(TestData.Text("page.csv", blocks[0]));
        Assert.Equal(["U L1 avg [V]", "U L1 min [V]", "I L1 [A]", "P total [kW]", "E import [kWh]"], file.Log.Columns.Select(column => column.Name));
        Assert.DoesNotContain(file.Log.Columns, column => column.Quantity == LogQuantity.Other);
        var profile = ColumnProfileReader.Read(TestData.Text("page.json", blocks.First(block => block.StartsWith('{'))));
        Assert.Equal((3, 2), (profile.Headings.Length, profile.Columns.Length));
    }

    private static List<string> BlocksOf(string page)
    {
        var text = File.ReadAllText(Path.Combine(TestData.Folder, "..", "..", "docs", "formats", page));
        return [.. text.Split("```").Where((_, index) => index % 2 == 1).Select(block => block[(block.IndexOf('\n', StringComparison.Ordinal) + 1)..])];
    }
}
