using System.Globalization;
using System.Text.Json;
using Leadwright.App.Verbs;
using Leadwright.Core.Circuits;
using Leadwright.Core.Panels.Weeks;
using Leadwright.Formats.Logs;

namespace Leadwright.App.Tests.Verbs.Guarding;

/// <summary>A recorder's clock that was set while it recorded, through the verbs.</summary>
public sealed class ClockFindingTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-clock-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_clock_that_was_set_back_is_told_by_guard_and_survey(bool isDaylight)
    {
        var set = isDaylight ? new DateTime(2026, 10, 25, 3, 0, 0) : new DateTime(2026, 10, 21, 14, 0, 0);
        var back = isDaylight ? TimeSpan.FromHours(1) : TimeSpan.FromMinutes(130);
        var path = await WriteAsync(time => time < set ? time : time - back);

        var json = await GuardAsync(path);
        var span = Assert.Single(json.GetProperty("spans").EnumerateArray(), IsClock);
        Assert.StartsWith("The recorder's clock was set back.", span.GetProperty("says").GetString(), StringComparison.Ordinal);
        Assert.Equal(set, TimeOf(span.GetProperty("from")));
        Assert.Contains(isDaylight ? "By 1 h;" : "By 2 h 10 min;", span.GetProperty("says").GetString(), StringComparison.Ordinal);
        var finding = Assert.Single(json.GetProperty("clock").EnumerateArray());
        Assert.Equal(isDaylight ? "daylight-back" : "step-back", finding.GetProperty("kind").GetString());
        Assert.DoesNotContain(json.GetProperty("spans").EnumerateArray(), other => other.GetProperty("kind").GetString() == "no-data");
        await AddsAsync(path, isDaylight ? "clock: The clock was set back by an hour after 2026-10-25 02:50:00" : "clock: The clock was set back, or rows were put together out of order: 2026-10-21 11:50:00 follows 2026-10-21 13:50:00.");
    }

    [Fact]
    public async Task The_hour_that_spring_leaves_out_is_told_by_guard_and_survey()
    {
        var set = new DateTime(2026, 3, 29, 2, 0, 0);
        var path = await WriteAsync(time => time < set ? time : time.AddHours(1), new DateTime(2026, 3, 25));

        var json = await GuardAsync(path);
        var span = Assert.Single(json.GetProperty("spans").EnumerateArray(), IsClock);
        Assert.StartsWith("The recorder's clock was set forward: no time is missing.", span.GetProperty("says").GetString(), StringComparison.Ordinal);
        Assert.Equal("daylight-forward", Assert.Single(json.GetProperty("clock").EnumerateArray()).GetProperty("kind").GetString());
        await AddsAsync(path, "clock: The clock was set forward by an hour after 2026-03-29 01:50:00, as for daylight saving: no interval is missing.");
    }

    [Fact]
    public async Task A_clock_that_is_set_back_under_watch_raises_an_alarm_and_the_watch_goes_on()
    {
        var set = new DateTime(2026, 10, 21, 14, 0, 0);
        var whole = await File.ReadAllLinesAsync(await WriteAsync(time => time < set ? time : time.AddMinutes(-130)), TestContext.Current.CancellationToken);
        var turn = Array.FindIndex(whole, line => line.StartsWith("2026-10-21 13:50", StringComparison.Ordinal) || line.StartsWith("2026-10-21T13:50", StringComparison.Ordinal)) + 1;
        Assert.True(turn > 100);
        var path = Path.Combine(_folder, "growing.csv");
        await File.WriteAllLinesAsync(path, whole[..turn], TestContext.Current.CancellationToken);
        var watch = RunAsync("guard", path, "--service", "wye", "--follow", "--every", "0.05", "--until-idle", "3", "--format", "json");
        await Task.Delay(1500, TestContext.Current.CancellationToken);
        foreach (var line in whole[turn..(turn + 6)])
        {
            await File.AppendAllTextAsync(path, line + "\n", TestContext.Current.CancellationToken);
            await Task.Delay(100, TestContext.Current.CancellationToken);
        }

        var run = await watch;
        Assert.Equal(10, run.Code);
        var raised = Assert.Single(run.Output.TrimEnd('\n').Split('\n').Select(line => JsonDocument.Parse(line).RootElement.GetProperty("span")), IsClock);
        Assert.Contains("set back. By 2 h 10 min", raised.GetProperty("says").GetString(), StringComparison.Ordinal);
    }

    private async Task AddsAsync(string path, string says)
    {
        var board = Path.Combine(_folder, "board");
        Assert.Equal(0, (await RunAsync("survey", "new", board, "--service", "wye", "--nominal", "230/400")).Code);
        var added = await RunAsync("survey", "add", board, path);
        Assert.Equal((0, ""), (added.Code, added.Error));
        Assert.Contains(says, added.Output, StringComparison.Ordinal);
        Assert.Contains("    clock-jump ", added.Output, StringComparison.Ordinal);
        var kept = await RunAsync("guard", board, "--format", "json");
        Assert.Contains(JsonDocument.Parse(kept.Output).RootElement.GetProperty("spans").EnumerateArray(), IsClock);
    }

    private static async Task<JsonElement> GuardAsync(string path)
    {
        var run = await RunAsync("guard", path, "--service", "wye", "--nominal", "230/400", "--format", "json");
        Assert.Equal(10, run.Code);
        return JsonDocument.Parse(run.Output).RootElement;
    }

    // A sound week whose times are written as a recorder with such a clock would.
    private async Task<string> WriteAsync(Func<DateTime, DateTime> clock, DateTime? first = null)
    {
        var week = new WeekPopulation { Seed = 3, IntervalSeconds = 600, Service = ServiceKind.Wye, IsClean = true, Columns = WeekColumns.VoltsAmperesWattsVars }.Week(0).Log;
        var log = week.Moved((first ?? new DateTime(2026, 10, 20)).Ticks - week.Starts.Span[0]);
        using var text = new MemoryStream();
        await LogWriter.WriteCsvAsync(log, text, cancellation: TestContext.Current.CancellationToken);
        // Columns of the start and of the end come first.
        var lines = System.Text.Encoding.UTF8.GetString(text.ToArray()).TrimEnd('\n').Split('\n');
        for (var row = 0; row < log.Count; row++)
        {
            var cells = lines[row + 1].Split(',');
            var start = clock(new DateTime(log.Starts.Span[row]));
            lines[row + 1] = string.Join(',', [Text(start), Text(start.AddSeconds(log.IntervalSeconds)), .. cells[2..]]);
        }

        var path = Path.Combine(_folder, "week.csv");
        await File.WriteAllLinesAsync(path, lines, TestContext.Current.CancellationToken);
        return path;
    }

    private static string Text(DateTime time) => time.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);

    private static bool IsClock(JsonElement span) => span.GetProperty("kind").GetString() == "clock-jump";

    private static DateTime TimeOf(JsonElement time) => DateTime.Parse(time.GetString()!, CultureInfo.InvariantCulture);

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
