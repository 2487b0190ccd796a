using System.Text.Json;
using Leadwright.App.Verbs;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels.Weeks;
using Leadwright.Formats.Logs;

namespace Leadwright.App.Tests.Verbs.Surveying;

/// <summary>Verbs that take a survey where they took a file.</summary>
public sealed class FollowedSurveyTests : IDisposable
{
    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-followed-").FullName;

    private string Board => Path.Combine(_place, "board");

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public async Task What_is_added_to_a_survey_under_watch_raises_its_alarm()
    {
        var week = WeekWithLeadOff();
        var half = week.Count / 3;
        var first = await WriteAsync("first.csv", Part(week, 0, half));
        var second = await WriteAsync("second.csv", Part(week, half, week.Count));
        Assert.Equal(0, (await RunAsync("survey", "new", Board, "--service", "wye", "--nominal", "230/400")).Code);
        Assert.Equal(0, (await RunAsync("survey", "add", Board, first, "--no-scan")).Code);
        var watch = RunAsync("guard", Board, "--follow", "--every", "0.1", "--until-alarm", "--until-idle", "60", "--format", "json");
        await Task.Delay(500, TestContext.Current.CancellationToken);
        Assert.Equal(0, (await RunAsync("survey", "add", Board, second, "--no-scan")).Code);
        var run = await watch;
        Assert.Equal((10, ""), (run.Code, run.Error));
        Assert.Contains(run.Output.TrimEnd('\n').Split('\n'), line => JsonDocument.Parse(line).RootElement.GetProperty("span").GetProperty("kind").GetString() == "lead-open");
    }

    [Fact]
    public async Task A_study_compares_with_the_recording_of_a_survey()
    {
        var week = WeekWithLeadOff();
        var before = await WriteAsync("before.csv", Part(week, 0, 144));
        var after = await WriteAsync("after.csv", Part(week, 144, 288));
        Assert.Equal(0, (await RunAsync("survey", "new", Board, "--service", "wye", "--nominal", "230/400")).Code);
        Assert.Equal(0, (await RunAsync("survey", "add", Board, before, "--no-scan")).Code);
        var file = await RunAsync("study", after, "--service", "wye", "--nominal", "230/400", "--before", before, "--format", "json");
        var survey = await RunAsync("study", after, "--service", "wye", "--nominal", "230/400", "--before", Board, "--format", "json");
        Assert.Equal((file.Code, file.Output), (survey.Code, survey.Output));
        Assert.Contains("comparison", survey.Output, StringComparison.Ordinal);
        Assert.Equal(0, (await RunAsync("survey", "add", Board, after, "--no-scan")).Code);
        var two = await RunAsync("study", after, "--before", Board);
        Assert.Equal(2, two.Code);
        Assert.Contains("has 2 recordings: 'before', 'after'", two.Error, StringComparison.Ordinal);
    }

    private static IntervalLog WeekWithLeadOff()
    {
        var population = new WeekPopulation { Seed = 11, IntervalSeconds = 600, Service = ServiceKind.Wye, Only = MishapKind.LeadOff, Columns = WeekColumns.VoltsAmperesWattsVars };
        for (var index = 0; ; index++)
        {
            var week = population.Week(index);
            if (week.Truth.Spans.Length == 1 && week.Truth.Spans[0].Mishap.Kind == MishapKind.LeadOff && week.Truth.Spans[0].From > week.Log.From.AddDays(3)
                && week.Truth.Spans[0].To > week.Truth.Spans[0].From.AddHours(3)) return week.Log;
        }
    }

    private static IntervalLog Part(IntervalLog log, int from, int to) => new(
        log.Columns, log.Starts[from..to].ToArray(), [.. Enumerable.Range(0, log.Columns.Length).Select(column => log.Values(column)[from..to].ToArray())], log.IntervalSeconds);

    private async Task<string> WriteAsync(string name, IntervalLog log)
    {
        var path = Path.Combine(_place, name);
        await using var stream = File.Create(path);
        await LogWriter.WriteCsvAsync(log, stream, cancellation: TestContext.Current.CancellationToken);
        return path;
    }

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
