using System.Globalization;
using System.Text.Json;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs.Measuring;

public sealed class MeasureVerbTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-measure-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Json_gives_what_the_contract_promises()
    {
        var path = WrittenRecording.Write(_folder, "panel", 8);
        var run = await RunAsync("measure", path, "--nominal", "230/400", "--format", "json");

        Assert.Equal(0, run.Code);
        var json = JsonDocument.Parse(Assert.Single(run.Output.TrimEnd('\n').Split('\n'))).RootElement;
        Assert.Equal("leadwright.measure/1", json.GetProperty("schema").GetString());
        Assert.Equal(path, json.GetProperty("file").GetString());
        Assert.Equal(8, json.GetProperty("seconds").GetDouble(), 9);
        Assert.Equal(50, json.GetProperty("frequency_hz").GetDouble(), 0.001);
        var first = json.GetProperty("channels").GetProperty("V1");
        Assert.Equal(230 * Math.Sqrt(1.0009), first.GetProperty("rms").GetDouble(), 0.01);
        Assert.Equal(3, first.GetProperty("thd_percent").GetDouble(), 0.01);
        Assert.Equal(0, first.GetProperty("pst").GetArrayLength());
        var phase = json.GetProperty("phases").GetProperty("1");
        Assert.Equal(230 * 40 * Math.Cos(Math.PI / 6), phase.GetProperty("watts").GetDouble(), 1.0);
        Assert.Equal(230 * 40 * Math.Sin(Math.PI / 6), phase.GetProperty("vars").GetDouble(), 1.0);
        Assert.Equal(230 * Math.Sqrt(1.0009) * 40, phase.GetProperty("va").GetDouble(), 1.0);
        Assert.Equal(Math.Cos(Math.PI / 6) / Math.Sqrt(1.0009), phase.GetProperty("pf").GetDouble(), 1e-4);
        var dip = Assert.Single(json.GetProperty("events").EnumerateArray());
        Assert.Equal("dip", dip.GetProperty("kind").GetString());
        Assert.Equal(["V2"], dip.GetProperty("channels").EnumerateArray().Select(channel => channel.GetString()));
        Assert.Equal(60, dip.GetProperty("residual_percent").GetDouble(), 0.2);
        Assert.Equal(0.2, dip.GetProperty("seconds").GetDouble(), 0.02);
        Assert.StartsWith("2026-03-02T10:00:0", dip.GetProperty("from").GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("csv")]
    [InlineData("parquet")]
    public async Task Tables_are_written_whole_and_nothing_else_is_left(string ending)
    {
        var path = WrittenRecording.Write(_folder, "panel", 8);
        var table = Path.Combine(_folder, $"out.{ending}");
        Assert.Equal(0, (await RunAsync("measure", path, "--nominal", "230/400", "-o", table, "--interval", "cycles")).Code);
        Assert.Equal(
            ["out-events." + ending, "out." + ending, "panel.cfg", "panel.dat"],
            Directory.EnumerateFiles(_folder).Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Csv_has_a_row_for_each_window_with_units_in_its_headings()
    {
        var path = WrittenRecording.Write(_folder, "panel", 8);
        var table = Path.Combine(_folder, "out.csv");
        await RunAsync("measure", path, "--nominal", "230/400", "-o", table, "--interval", "cycles", "--spectra", "all");
        var lines = File.ReadAllLines(table);
        Assert.Equal(41, lines.Length);
        var heads = lines[0].Split(',');
        var cells = lines[1].Split(',');
        Assert.Equal(heads.Length, cells.Length);
        double Of(string name) => double.Parse(cells[Array.IndexOf(heads, name)], CultureInfo.InvariantCulture);
        Assert.Equal("2026-03-02T10:00:00.000000", cells[0]);
        Assert.Equal(230, Of("V1_fundamental_V"), 0.01);
        Assert.Equal(6.9, Of("V1_h5_V"), 0.01);
        Assert.Equal(0, Of("V1_ih7_V"), 0.01);
        Assert.Equal(0.2, Of("end_s"), 1e-4);
        Assert.Equal("measured", cells[Array.IndexOf(heads, "I3_standing")]);
        Assert.Contains("dip", lines[16], StringComparison.Ordinal);
        Assert.Contains("dip,V2,2026-03-02T10:00:0", File.ReadAllText(Path.Combine(_folder, "out-events.csv")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Ten_minute_rows_follow_the_clock_or_the_recordings_start()
    {
        // From 10:00:00: the clock's tick and the start are the same; 25 s are one row, marked partial.
        var path = WrittenRecording.Write(_folder, "panel", 25, hasDip: false);
        var table = Path.Combine(_folder, "out.csv");
        await RunAsync("measure", path, "--nominal", "230/400", "-o", table);
        var lines = File.ReadAllLines(table);
        Assert.Equal(2, lines.Length);
        Assert.Contains("partial", lines[1], StringComparison.Ordinal);
        await RunAsync("measure", path, "--nominal", "230/400", "-o", table, "--interval", "10s");
        Assert.Equal(4, File.ReadAllLines(table).Length);
    }

    [Fact]
    public async Task A_gap_in_the_time_stamps_is_no_time_measured()
    {
        var path = WrittenRecording.Write(_folder, "panel", 8, hasDip: false, missingFrom: 4);
        var run = await RunAsync("measure", path, "--nominal", "230/400", "--format", "json");
        var json = JsonDocument.Parse(run.Output).RootElement;
        Assert.Equal(18, json.GetProperty("seconds").GetDouble(), 6);
        Assert.Equal(40, json.GetProperty("windows").GetInt32());
        Assert.Empty(json.GetProperty("events").EnumerateArray());
        Assert.Contains(json.GetProperty("notes").EnumerateArray(), note => note.GetString()!.Contains("jump", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Waveforms_of_events_can_be_read_again()
    {
        var path = WrittenRecording.Write(_folder, "panel", 8);
        var waves = Path.Combine(_folder, "waves");
        await RunAsync("measure", path, "--nominal", "230/400", "--waveforms", waves);
        var file = Assert.Single(Directory.EnumerateFiles(waves));
        Assert.Equal("0001-dip.csv", Path.GetFileName(file));
        var again = await RunAsync("measure", file, "--nominal", "230/400", "--format", "json");
        Assert.Equal(0, again.Code);
        Assert.Equal("dip", JsonDocument.Parse(again.Output).RootElement.GetProperty("events")[0].GetProperty("kind").GetString());
    }

    [Fact]
    public async Task Text_says_what_was_taken_for_granted()
    {
        var path = WrittenRecording.Write(_folder, "panel", 8);
        var run = await RunAsync("measure", path);
        Assert.Contains("230 V is taken for events", run.Output, StringComparison.Ordinal);
        Assert.Contains("dip, V2", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(2, "--interval", "7min")]
    [InlineData(2, "-o", "table.xlsx")]
    [InlineData(2, "--nominal", "230/500")]
    [InlineData(2, "--channels", "V1=nothing")]
    [InlineData(2, "--frequency", "55")]
    public async Task Wrong_usage_is_two_and_leaves_nothing(int code, string option, string value)
    {
        var path = WrittenRecording.Write(_folder, "panel", 1);
        var run = await RunAsync("measure", path, option, value);
        Assert.Equal(code, run.Code);
        Assert.NotEmpty(run.Error);
        Assert.Empty(run.Output);
        Assert.Equal(2, Directory.EnumerateFiles(_folder).Count());
    }

    [Fact]
    public async Task Too_short_a_recording_and_a_missing_file_are_one()
    {
        var path = WrittenRecording.Write(_folder, "short", 0.15);
        var run = await RunAsync("measure", path, "--nominal", "230/400", "-o", Path.Combine(_folder, "x.csv"));
        Assert.Equal(1, run.Code);
        Assert.Contains("one window of 10 cycles is the least", run.Error, StringComparison.Ordinal);
        Assert.Equal(2, Directory.EnumerateFiles(_folder).Count());

        run = await RunAsync("measure", Path.Combine(_folder, "none.cfg"));
        Assert.Equal(1, run.Code);
        Assert.Contains("none.cfg", run.Error, StringComparison.Ordinal);
    }

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
