using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Xml.Linq;
using Leadwright.App.Tests.Verbs.Measuring;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs.Studying;

public sealed class StudyVerbTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-study-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    // Check figures: tests/data/README.md.
    [Fact]
    public async Task Json_gives_what_the_contract_promises()
    {
        var run = await RunAsync("study", TestFolder.Data("../../data/interval/steel-15min-2018-jan-jun.csv"), "--demand", "15", "--format", "json");
        Assert.Equal(0, run.Code);
        var json = Json(run.Output);
        Assert.Equal("leadwright.study/1", json.GetProperty("schema").GetString());
        Assert.Equal(521199.76, json.GetProperty("energy").GetProperty("import_kwh").GetDouble(), 0.005);
        Assert.Equal(612.56, json.GetProperty("demand").GetProperty("peak_kw").GetDouble(), 1e-6);
        Assert.Equal("2018-01-15T13:45:00", json.GetProperty("demand").GetProperty("to").GetString());
        Assert.Equal(0.19587, json.GetProperty("load_factor").GetDouble(), 5e-6);
        Assert.Equal(6, json.GetProperty("energy").GetProperty("months").GetArrayLength());
    }

    [Fact]
    public async Task Totals_alone_tell_no_service_until_somebody_does()
    {
        var totals = TestFolder.Data("../../data/interval/steel-15min-2018-jan-jun.csv");
        Assert.Contains("service not known (totals only).", (await RunAsync("study", totals)).Output, StringComparison.Ordinal);
        Assert.Contains("service wye.", (await RunAsync("study", totals, "--service", "wye")).Output, StringComparison.Ordinal);
        var mended = await RunAsync("mend", totals);
        Assert.Contains("energy, kWh", mended.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("element 1", mended.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Sliding_demand_counts_when_asked_for()
    {
        var run = await RunAsync("study", TestFolder.Data("../../data/interval/household-1min-2007-02-01.csv"), "--service", "single", "--demand", "15", "--demand-kind", "sliding", "--format", "json");
        var demand = Json(run.Output).GetProperty("demand");
        Assert.Equal(("sliding", 4.6688), (demand.GetProperty("kind").GetString(), demand.GetProperty("peak_kw").GetDouble()));
        Assert.Equal("2007-02-01T08:28:00", demand.GetProperty("from").GetString());
    }

    [Fact]
    public async Task Limits_pass_fail_and_stay_open()
    {
        // A week of ten-minute values; V2 stands at 200 V for 60 of them: 50 are allowed.
        var path = Week("week.csv", row => row < 60 ? 200 : 231);
        var run = await RunAsync("study", path, "--nominal", "230/400", "--limits", "en-50160", "--format", "json");
        Assert.Equal(10, run.Code);
        var lines = Json(run.Output).GetProperty("limits").EnumerateArray().ToDictionary(line => line.GetProperty("id").GetString()!);
        Assert.Equal("fail", lines["voltage-95"].GetProperty("verdict").GetString());
        Assert.Equal("V2", lines["voltage-95"].GetProperty("channel").GetString());
        Assert.Equal(207, lines["voltage-95"].GetProperty("least").GetDouble(), 1e-9);
        Assert.Equal("pass", lines["voltage-100"].GetProperty("verdict").GetString());
        Assert.Equal("not enough data", lines["thd-95"].GetProperty("verdict").GetString());

        Assert.Equal(0, (await RunAsync("study", Week("good.csv", _ => 231), "--nominal", "230/400", "--limits", "en-50160")).Code);
    }

    [Fact]
    public async Task Limits_that_none_can_be_judged_by_are_undecided()
    {
        var run = await RunAsync("study", TestFolder.Data("../../data/interval/steel-15min-2018-jan-jun.csv"), "--limits", "en-50160,ieee-519");
        Assert.Equal(11, run.Code);
        Assert.Contains("not enough data", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_table_of_ones_own_is_judged_and_the_shipped_one_can_be_printed()
    {
        var own = Path.Combine(_folder, "own.json");
        var shown = await RunAsync("study", "--show-limits", "en-50160");
        Assert.Equal(0, shown.Code);
        await File.WriteAllTextAsync(own, shown.Output.Replace("\"most\": 110", "\"most\": 100.2", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        Assert.Equal(10, (await RunAsync("study", Week("week.csv", _ => 231), "--nominal", "230/400", "--limits", own)).Code);
    }

    [Fact]
    public async Task Tables_and_plots_are_written_whole_and_agree_with_the_summary()
    {
        var output = Path.Combine(_folder, "out");
        var run = await RunAsync(
            "study", Week("week.csv", _ => 231), "--nominal", "230/400", "--limits", "en-50160", "-o", output, "--hours", "mon-fri 08:00-18:00", "--format", "json");
        Assert.Equal(0, run.Code);
        Assert.Equal(
            [
                "demand-peaks.csv", "demand.csv", "energy-by-day.csv", "energy-by-hour.csv", "energy-by-month.csv", "limits-by-channel.csv", "limits.csv", "load-by-day-and-hour.csv", "load-by-day-and-hour.svg",
                "load-duration.csv", "load-duration.svg", "load-profile.svg", "voltage-histogram.svg", "voltage-profile.svg",
                "worst-days.csv",
            ],
            Directory.EnumerateFiles(output).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        var days = (await File.ReadAllLinesAsync(Path.Combine(output, "energy-by-day.csv"), TestContext.Current.CancellationToken)).Skip(1);
        var sum = days.Sum(line => double.Parse(line.Split(',')[2], CultureInfo.InvariantCulture));
        Assert.Equal(Json(run.Output).GetProperty("energy").GetProperty("import_kwh").GetDouble() * 1000, sum, 1e-3);
        foreach (var plot in Directory.EnumerateFiles(output, "*.svg"))
        {
            var root = XDocument.Load(plot).Root!;
            Assert.Equal("img", root.Attribute("role")!.Value);
            Assert.NotEmpty(root.Elements().First(element => element.Name.LocalName == "title").Value);
            Assert.DoesNotContain("NaN", root.ToString(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Nothing_is_left_when_the_folder_can_not_be_written()
    {
        var blocked = Path.Combine(_folder, "blocked");
        await File.WriteAllTextAsync(blocked, "a file", TestContext.Current.CancellationToken);
        var run = await RunAsync("study", Week("week.csv", _ => 231), "-o", blocked);
        Assert.Equal(1, run.Code);
        Assert.Contains("Cannot write into", run.Error, StringComparison.Ordinal);
        Assert.Empty(run.Output);
    }

    [Fact]
    public async Task A_recording_is_measured_first_and_its_events_are_told()
    {
        var path = WrittenRecording.Write(_folder, "panel", 30);
        var run = await RunAsync("study", path, "--nominal", "230/400", "--interval", "10s", "--format", "json");
        Assert.Equal(0, run.Code);
        var json = Json(run.Output);
        var dip = Assert.Single(json.GetProperty("events").EnumerateArray(), found => found.GetProperty("kind").GetString() == "dip");
        Assert.Equal("below", dip.GetProperty("iti").GetString());
        // One phase at 60 %, the others whole, is type B; currents that do not move say nothing of the side.
        Assert.Equal("Bb", dip.GetProperty("type").GetString());
        Assert.Equal("undecided", dip.GetProperty("origin").GetString());
        Assert.Equal("fault", dip.GetProperty("looks_like").GetString());
        Assert.True(json.GetProperty("voltages").TryGetProperty("V1", out _));
        // 230 V, 40 A, 30 degrees on each of three phases: 23.9 kW.
        Assert.InRange(json.GetProperty("energy").GetProperty("import_kwh").GetDouble(), 0.99 * 23.9 * 20 / 3600, 23.91 * 30 / 3600);
    }

    [Fact]
    public async Task Spans_before_and_after_a_change_are_compared()
    {
        var path = Week("week.csv", row => row < 504 ? 231 : 236);
        var run = await RunAsync("study", path, "--nominal", "230/400", "--split", "2026-03-05T12:00", "--format", "json");
        var measures = Json(run.Output).GetProperty("comparison").GetProperty("measures").EnumerateArray().ToDictionary(measure => measure.GetProperty("name").GetString()!);
        Assert.Equal(5, measures["voltage 2"].GetProperty("difference").GetDouble(), 1e-6);
        Assert.True(measures["voltage 2"].GetProperty("beyond_uncertainty").GetBoolean());
        Assert.False(measures["voltage 1"].GetProperty("beyond_uncertainty").GetBoolean());
        Assert.Equal(2, (await RunAsync("study", path, "--split", "2027-01-01")).Code);
    }

    [Theory]
    [InlineData("120/208", true)]
    [InlineData("277/480", false)]
    [InlineData("230/400", false)]
    public async Task A_nominal_voltage_that_no_voltage_is_near_is_told_before_all_limits(string nominal, bool isTold)
    {
        var run = await RunAsync("study", Week("week.csv", _ => 231), "--nominal", nominal, "--format", "json");
        var findings = Json(run.Output).GetProperty("findings").EnumerateArray().Select(finding => finding.GetProperty("id").GetString()).ToList();
        Assert.Equal(isTold, findings.Contains("nominal"));
        if (isTold) Assert.Equal("nominal", findings[0]);
    }

    [Fact]
    public async Task Findings_come_in_the_order_of_consequence_with_what_the_record_can_not_show()
    {
        var run = await RunAsync("study", Week("week.csv", row => row is >= 100 and < 110 ? 260 : 231), "--nominal", "230/400", "--hours", "mon-fri 08:00-12:00", "--format", "json");
        var json = Json(run.Output);
        var ranks = json.GetProperty("findings").EnumerateArray().Select(finding => finding.GetProperty("consequence").GetInt32()).ToList();
        Assert.Equal(ranks.OrderDescending(), ranks);
        var high = json.GetProperty("findings").EnumerateArray().First(finding => finding.GetProperty("id").GetString() == "voltage-high");
        Assert.Equal(100 * 260 / 230.0, high.GetProperty("value").GetDouble(), 1e-3);
        Assert.Equal("2026-03-02T16:40:00", high.GetProperty("at").GetString());
        Assert.Contains(json.GetProperty("cannot_show").EnumerateArray(), says => says.GetString()!.Contains("no waveform", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("--demand", "abc")]
    [InlineData("--hours", "always")]
    [InlineData("--limits", "no-such-table")]
    [InlineData("--target-pf", "1.2")]
    [InlineData("--rating", "-5")]
    [InlineData("--split", "tomorrow")]
    [InlineData("--stated", "maybe")]
    public async Task Wrong_usage_is_refused(string option, string value)
    {
        var run = await RunAsync("study", "x.csv", option, value);
        Assert.Equal(2, run.Code);
        Assert.Contains(option, run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_file_that_is_not_there_is_refused()
    {
        var run = await RunAsync("study", Path.Combine(_folder, "nothing.csv"));
        Assert.Equal(1, run.Code);
        Assert.Contains("no such file", run.Error, StringComparison.Ordinal);
        Assert.Equal(2, (await RunAsync("study")).Code);
    }

    // Seven days of ten-minute values: 230 V on phases 1 and 3, 10 kW.
    private string Week(string name, Func<int, double> secondVolts)
    {
        var text = new StringBuilder("start,V1_rms_V,V2_rms_V,V3_rms_V,P_W\n");
        for (var row = 0; row < 1008; row++)
            text.Append(CultureInfo.InvariantCulture, $"{new DateTime(2026, 3, 2).AddMinutes(10 * row):yyyy-MM-ddTHH:mm:ss},230,{secondVolts(row)},230.5,{10000 + (row % 7)}\n");
        var path = Path.Combine(_folder, name);
        File.WriteAllText(path, text.ToString());
        return path;
    }

    private static JsonElement Json(string output) => JsonDocument.Parse(Assert.Single(output.TrimEnd('\n').Split('\n'))).RootElement;

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
