using System.Text;
using Leadwright.Formats.Comtrade;

namespace Leadwright.Formats.Tests;

public sealed class InputReaderTests
{
    private static readonly InputFile s_cfg = TestData.File("comtrade/relay-a/1.cfg");
    private static readonly InputFile s_dat = TestData.File("comtrade/relay-a/1.dat");
    private static readonly InputFile s_hdr = TestData.File("comtrade/relay-a/1.hdr");

    [Fact]
    public void Files_of_one_record_are_put_together_in_any_order()
    {
        foreach (var files in (InputFile[][])[[s_cfg, s_dat, s_hdr], [s_hdr, s_dat, s_cfg]])
        {
            var input = Assert.IsType<SampledInput>(Assert.Single(InputReader.Read(files)));
            Assert.Equal("1.cfg", input.Name);
            Assert.Equal("CFG_INFO={-271918570,-1609362796,-1496271921,-453450063}", input.Comtrade?.HeaderText);
            Assert.Equal(4, input.Recording.Channels.Length);
        }
    }

    [Fact]
    public void Several_inputs_are_read_in_the_order_of_their_files()
    {
        var inputs = InputReader.Read(
        [
            TestData.Text("a.json", """{"service":"wye"}"""),
            s_dat,
            TestData.File("comtrade/basic/sample_float32.cff"),
            TestData.Text("b.csv", "time (s),V1 (V)\n0,1\n0.001,2\n"),
            s_cfg,
        ]);

        Assert.Equal(["a.json", "sample_float32.cff", "b.csv", "1.cfg"], inputs.Select(input => input.Name));
        Assert.IsType<ReadingsInput>(inputs[0]);
    }

    [Fact]
    public void Names_may_differ_in_case_and_folders_tell_equal_names_apart()
    {
        InputFile Renamed(InputFile file, string name) => file with { Name = name };
        var inputs = InputReader.Read(
        [
            Renamed(TestData.File("comtrade/basic/sample_bin.cfg"), "one/REC.CFG"),
            Renamed(TestData.File("comtrade/basic/sample_iso8859-1_bin.dat"), "two/REC.DAT"),
            Renamed(TestData.File("comtrade/basic/sample_bin.dat"), "one/REC.DAT"),
            Renamed(TestData.File("comtrade/basic/sample_iso8859-1_bin.cfg"), "two/REC.CFG"),
        ]);

        Assert.Equal([5, 40], inputs.Cast<SampledInput>().Select(input => input.Comtrade!.Stamps.Length));
    }

    [Fact]
    public void A_lone_pair_of_different_names_is_read_and_told()
    {
        var input = Assert.Single(InputReader.Read([s_cfg, s_dat with { Name = "other.dat" }]));

        Assert.Equal("'other.dat' is read as the data of '1.cfg', though their names differ.", input.Warnings[0].Says);
    }

    [Theory]
    [InlineData("1.cfg", "Cannot read '1.cfg': expected its data file '1.dat' beside it, found the .cfg alone.")]
    [InlineData("1.dat", "Cannot read '1.dat': expected its configuration '1.cfg' beside it, found the .dat file alone.")]
    [InlineData("1.hdr", "expected its configuration '1.cfg' beside it, found the .hdr file alone.")]
    public void A_file_whose_other_half_is_missing_is_refused(string name, string message) =>
        Assert.Contains(message, Fail(TestData.File("comtrade/relay-a/" + name)).Message, StringComparison.Ordinal);

    [Fact]
    public void Something_else_is_refused_with_what_can_be_read()
    {
        Assert.Contains("found an empty file", Fail(new InputFile("x", default)).Message, StringComparison.Ordinal);
        Assert.Contains(
            "expected a COMTRADE record (.cfg with .dat, or .cff), a PQDIF file (.pqd), a table of samples (.csv), a log of intervals (.csv, .xlsx, .parquet) or readings (.json), found something else",
            Fail(new InputFile("photo.jpg", new byte[] { 0xFF, 0xD8, 0xFF, 0xE0, 0, 1 })).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Options_reach_the_readers()
    {
        var options = new InputReadOptions
        {
            Comtrade = new ComtradeReadOptions { Scaling = ComtradeScaling.Primary },
            Service = Core.Circuits.ServiceKind.Split,
            Csv = new() { RateHertz = 500 },
        };

        var inputs = InputReader.Read([s_cfg, s_dat, TestData.Text("a.json", "{}"), TestData.Text("b.csv", "V1 (V)\n1\n2\n")], options);

        // Ratio 100 to 1.
        Assert.Equal(-5276.778, ((SampledInput)inputs[0]).Recording.Channels[0].Samples.Span[0], 3);
        Assert.Equal(Core.Circuits.ServiceKind.Split, ((ReadingsInput)inputs[1]).File.Readings.Service);
        Assert.Equal(500, ((SampledInput)inputs[2]).Recording.Segments[0].RateHertz);
    }

    [Theory]
    [InlineData("a/b.cfg", "a/b.dat a/b.DAT a/b.hdr a/b.HDR a/b.inf a/b.INF")]
    [InlineData("a/b.CFG", "a/b.DAT a/b.dat a/b.HDR a/b.hdr a/b.INF a/b.inf")]
    [InlineData("b.dat", "b.cfg b.CFG b.hdr b.HDR b.inf b.INF")]
    [InlineData("b.cff", "")]
    [InlineData("b", "")]
    public void Companions_are_named(string name, string expected) =>
        Assert.Equal(expected, string.Join(' ', InputReader.CompanionsOf(name)));

    [Fact]
    public async Task A_stream_is_read_to_its_end()
    {
        using var stream = new MemoryStream(Encoding.UTF8.GetBytes("abc"));
        var file = await InputFile.FromStreamAsync("x", stream, TestContext.Current.CancellationToken);

        Assert.Equal("abc", Encoding.UTF8.GetString(file.Bytes.Span));
    }

    private static FormatReadException Fail(InputFile file) => Assert.Throws<FormatReadException>(() => InputReader.Read([file]));
}
