using System.Text.Json;
using Leadwright.App.Tests.Verbs.Measuring;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs.Studying;

/// <summary>A table that <c>measure</c> wrote, studied: its flags and events come back, so that it answers as the recording itself does.</summary>
public sealed class MeasuredTableStudyTests : IDisposable
{
    private const string Limits = """
        {"schema":"leadwright.limits/1","name":"own","title":"Own","edition":"2026","notes":[],
         "rules":[{"id":"voltage-all","quantity":"voltage","clause":"1","source":"own","least":90,"most":110,"of_nominal":true,"share_percent":100}]}
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-tables-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("csv")]
    [InlineData("parquet")]
    public async Task Flags_and_events_come_back_from_the_table(string ending)
    {
        // V2 dips to 60 % from 3.0 to 3.2 s of 30: its windows stand at 138 V and a little more.
        var table = await MeasureAsync(ending);
        var json = await StudyAsync(table);
        var line = Assert.Single(json.GetProperty("limits").EnumerateArray());
        Assert.Equal("pass", line.GetProperty("verdict").GetString());
        var flagged = line.GetProperty("flagged").GetInt32();
        Assert.InRange(flagged, 1, 3);
        Assert.InRange(line.GetProperty("values").GetInt32() + flagged, 148, 150);
        var dip = Assert.Single(json.GetProperty("events").EnumerateArray());
        Assert.Equal("dip", dip.GetProperty("kind").GetString());
        Assert.Equal(60, dip.GetProperty("residual_percent").GetDouble(), 0.5);
    }

    [Fact]
    public async Task Without_its_flags_the_same_dip_fails_the_limit()
    {
        var table = await MeasureAsync("csv");
        var text = await File.ReadAllTextAsync(table, TestContext.Current.CancellationToken);
        Assert.Contains("dip", text, StringComparison.Ordinal);
        await File.WriteAllTextAsync(table, text.Replace("dip", "", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        Assert.Equal("fail", Assert.Single((await StudyAsync(table, 10)).GetProperty("limits").EnumerateArray()).GetProperty("verdict").GetString());
    }

    [Fact]
    public async Task A_table_answers_as_the_recording_does()
    {
        var recording = WrittenRecording.Write(_folder, "panel", 30);
        var own = await StudyAsync(recording, 0, "--interval", "10s");
        var read = await StudyAsync(await MeasureAsync("parquet", "10s"));
        foreach (var lead in (string[])["V1", "V2", "V3"])
        {
            foreach (var figure in (string[])["mean", "min", "max", "p5", "p95"])
                Assert.Equal(own.GetProperty("voltages").GetProperty(lead).GetProperty(figure).GetDouble(), read.GetProperty("voltages").GetProperty(lead).GetProperty(figure).GetDouble(), 1e-3);
        }

        Assert.Equal(own.GetProperty("energy").GetProperty("import_kwh").GetDouble(), read.GetProperty("energy").GetProperty("import_kwh").GetDouble(), 1e-5);
        Assert.Equal(own.GetProperty("limits")[0].GetProperty("flagged").GetInt32(), read.GetProperty("limits")[0].GetProperty("flagged").GetInt32());
    }

    // A made-up machine that must not be asked to ride below 95 %.
    [Fact]
    public async Task A_curve_of_ones_own_reaches_table_chart_and_findings_of_the_report()
    {
        var curve = Path.Combine(_folder, "machine.json");
        await File.WriteAllTextAsync(
            curve, """{"schema":"leadwright.tolerance-curve/1","name":"own","title":"Our machine","edition":"maker's sheet","lower":[{"from_s":0.01,"percent":[95,95]}],"upper":[]}""",
            TestContext.Current.CancellationToken);
        var recording = WrittenRecording.Write(_folder, "panel", 30);
        var page = Path.Combine(_folder, "report.html");
        var run = await RunAsync("report", recording, "--nominal", "230/400", "--interval", "10s", "--curves", curve, "-o", page);
        Assert.Equal("", run.Error);
        var text = await File.ReadAllTextAsync(page, TestContext.Current.CancellationToken);
        Assert.Contains("Events below the curve Our machine: 1, the worst at 2026-03-02 10:00", text, StringComparison.Ordinal);
        Assert.Contains(">Our machine</th>", text, StringComparison.Ordinal);
        Assert.DoesNotContain("ITI 2000", text, StringComparison.Ordinal);
    }

    private async Task<string> MeasureAsync(string ending, string interval = "cycles")
    {
        var table = Path.Combine(_folder, "table." + ending);
        var run = await RunAsync("measure", WrittenRecording.Write(_folder, "panel", 30), "--nominal", "230/400", "--interval", interval, "-o", table);
        Assert.Equal(0, run.Code);
        return table;
    }

    private async Task<JsonElement> StudyAsync(string path, int code = 0, params string[] more)
    {
        var own = Path.Combine(_folder, "own.json");
        await File.WriteAllTextAsync(own, Limits, TestContext.Current.CancellationToken);
        var run = await RunAsync(["study", path, "--nominal", "230/400", "--limits", own, "--format", "json", .. more]);
        Assert.Equal(code, run.Code);
        return JsonDocument.Parse(run.Output).RootElement;
    }

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
