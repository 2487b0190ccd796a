using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json;
using Leadwright.App.Verbs;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;
using Leadwright.Core.Panels.Weeks;
using Leadwright.Formats.Logs;

namespace Leadwright.App.Tests.Verbs.Guarding;

public sealed class GuardVerbTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-guard-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task A_lead_that_fell_off_is_told_with_its_times()
    {
        var week = WeekWith(MishapKind.LeadOff);
        var path = await WriteAsync("week.csv", week.Log);
        var run = await RunAsync("guard", path, "--service", "wye", "--format", "json");

        Assert.Equal(10, run.Code);
        var json = JsonDocument.Parse(Assert.Single(run.Output.TrimEnd('\n').Split('\n'))).RootElement;
        Assert.Equal("leadwright.guard/1", json.GetProperty("schema").GetString());
        Assert.Equal(path, json.GetProperty("file").GetString());
        var span = json.GetProperty("spans").EnumerateArray().Single(entry => entry.GetProperty("kind").GetString() == "lead-open");
        var truth = week.Truth.Spans.Single(entry => entry.Mishap.Kind == MishapKind.LeadOff);
        Assert.Equal([truth.Leads[0].ToString()], span.GetProperty("channels").EnumerateArray().Select(channel => channel.GetString()!));
        Assert.InRange((TimeOf(span, "from") - truth.From).TotalSeconds, -week.Log.IntervalSeconds, week.Log.IntervalSeconds);
        Assert.InRange((TimeOf(span, "to") - truth.To).TotalSeconds, -week.Log.IntervalSeconds, week.Log.IntervalSeconds);
        Assert.True(json.GetProperty("usable").GetProperty(truth.Leads[0].ToString()).GetDouble() < 1);
    }

    [Fact]
    public async Task The_same_log_in_Parquet_gives_the_same_answer()
    {
        var week = WeekWith(MishapKind.LeadOff);
        var csv = await RunAsync("guard", await WriteAsync("week.csv", week.Log), "--service", "wye", "--format", "json");
        var parquet = Path.Combine(_folder, "week.parquet");
        await using (var stream = File.Create(parquet)) await LogWriter.WriteParquetAsync(week.Log, stream, cancellation: TestContext.Current.CancellationToken);
        var other = await RunAsync("guard", parquet, "--service", "wye", "--format", "json");
        Assert.Equal(csv.Output.Replace("week.csv", "week.parquet", StringComparison.Ordinal), other.Output);
    }

    [Fact]
    public async Task Check_of_a_log_says_that_it_supposes_one_hook_up()
    {
        var path = await WriteAsync("clean.csv", new WeekPopulation { Seed = 3, IntervalSeconds = 600, Service = ServiceKind.Wye, IsClean = true }.Week(0).Log);
        var run = await RunAsync("check", path, "--service", "wye", "--format", "json");
        Assert.Contains(run.Code, (int[])[0, 11]);
        Assert.Contains("judged as one hook-up", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("check", 10)]
    [InlineData("guard", 0)]
    [InlineData("mend", 0)]
    [InlineData("study", 0)]
    public async Task A_nominal_voltage_far_from_what_is_read_is_told_once_in_text_and_JSON(string verb, int code)
    {
        var path = await WriteAsync("clean.csv", CleanWye(230).Log);
        var run = await RunAsync(verb, path, "--service", "wye", "--nominal", "999", "--format", "json");
        Assert.Equal(code, run.Code);
        var notes = JsonDocument.Parse(run.Output).RootElement.GetProperty("notes").EnumerateArray().Select(note => note.GetString()!);
        Assert.Single(notes, note => note.Contains("the nominal voltage stated, 577/999 V", StringComparison.Ordinal) && note.Contains("--nominal 230/400", StringComparison.Ordinal));
        var text = string.Join(' ', (await RunAsync(verb, path, "--service", "wye", "--nominal", "999")).Output.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
        Assert.Equal(2, text.Split("the nominal voltage stated, 577/999 V").Length);
        Assert.DoesNotContain("the nominal voltage stated", (await RunAsync(verb, path, "--service", "wye", "--nominal", "230/400", "--format", "json")).Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("delta-two-clamp")]
    [InlineData("split")]
    public async Task A_service_with_fewer_clamps_than_the_log_is_judged_and_says_which_are_left_out(string service)
    {
        var path = await WriteAsync("clean.csv", CleanWye(230).Log);
        var run = await RunAsync("check", path, "--service", service, "--format", "json");
        Assert.Contains(run.Code, (int[])[0, 10, 11]);
        Assert.Contains("There are columns of ", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Following_says_that_the_nominal_voltage_is_not_what_is_read()
    {
        var path = await WriteAsync("clean.csv", CleanWye(230).Log);
        var run = await RunAsync("guard", path, "--service", "wye", "--nominal", "999", "--follow", "--every", "0.1", "--until-idle", "0.3");
        Assert.Contains("--nominal 230/400", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Following_raises_an_alarm_once_and_posts_it()
    {
        var week = WeekWith(MishapKind.LeadOff);
        var truth = week.Truth.Spans.Single(entry => entry.Mishap.Kind == MishapKind.LeadOff);
        var lines = await File.ReadAllLinesAsync(await WriteAsync("whole.csv", week.Log), TestContext.Current.CancellationToken);
        var onset = 1 + (int)((truth.From - week.Log.From).TotalSeconds / week.Log.IntervalSeconds);
        var path = Path.Combine(_folder, "growing.csv");
        await File.WriteAllLinesAsync(path, lines[..(onset - 2)], TestContext.Current.CancellationToken);
        using var listener = new HttpListener();
        var address = Listen(listener);
        var posted = Task.Run(async () => await BodyOfAsync(listener), TestContext.Current.CancellationToken);
        var watch = RunAsync("guard", path, "--service", "wye", "--follow", "--every", "0.1", "--until-alarm", "--until-idle", "60", "--hook", address, "--format", "json");
        await Task.Delay(1500, TestContext.Current.CancellationToken);
        for (var line = onset - 2; line < onset + 6 && !watch.IsCompleted; line++)
        {
            await File.AppendAllTextAsync(path, lines[line] + "\n", TestContext.Current.CancellationToken);
            await Task.Delay(300, TestContext.Current.CancellationToken);
        }

        var run = await watch;
        Assert.Equal(10, run.Code);
        var raised = run.Output.TrimEnd('\n').Split('\n').Select(line => JsonDocument.Parse(line).RootElement)
            .Single(alarm => alarm.GetProperty("span").GetProperty("kind").GetString() == "lead-open" && alarm.GetProperty("state").GetString() == "raised");
        Assert.Equal("leadwright.alarm/1", raised.GetProperty("schema").GetString());
        Assert.Equal(raised.GetRawText(), await posted);
    }

    [Fact]
    public async Task A_hook_without_follow_is_wrong_usage()
    {
        var run = await RunAsync("guard", "any.csv", "--hook", "http://localhost:1/");
        Assert.Equal(2, run.Code);
        Assert.Contains("--hook belongs to --follow", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_log_of_totals_alone_is_not_called_sound()
    {
        var path = Path.Combine(_folder, "totals.csv");
        await File.WriteAllLinesAsync(
            path, ["Time,Energy (kWh)", .. Enumerable.Range(0, 200).Select(row => $"2026-03-02T{row / 60:00}:{row % 60:00}:00,{1 + (row % 7)}")], TestContext.Current.CancellationToken);
        var run = await RunAsync("guard", path, "--service", "wye", "--nominal", "230/400");
        Assert.Equal(11, run.Code);
        Assert.Contains("Nothing could be judged", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("Nothing wrong", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Readings_can_not_be_guarded()
    {
        var path = Path.Combine(_folder, "panel.json");
        await File.WriteAllTextAsync(path, """{"schema":"leadwright.readings/1","service":"wye","channels":{"V1":{"rms":230}}}""", TestContext.Current.CancellationToken);
        var run = await RunAsync("guard", path);
        Assert.Equal(1, run.Code);
        Assert.Contains("readings of one moment", run.Error, StringComparison.Ordinal);
    }

    private static VirtualWeek CleanWye(double volts)
    {
        var population = new WeekPopulation { Seed = 3, IntervalSeconds = 600, Service = ServiceKind.Wye, IsClean = true, Columns = WeekColumns.VoltsAmperesWattsVars };
        return Enumerable.Range(0, 100).Select(population.Week).First(week => week.Recipe.Nominal.LineToNeutralVolts == volts && !week.Recipe.HasSolar);
    }

    private static VirtualWeek WeekWith(MishapKind kind)
    {
        var population = new WeekPopulation { Seed = 11, IntervalSeconds = 600, Service = ServiceKind.Wye, Only = kind, Columns = WeekColumns.VoltsAmperesWattsVars };
        for (var index = 0; ; index++)
        {
            var week = population.Week(index);
            // One mishap that begins and ends within the week.
            if (week.Truth.Spans.Length == 1 && week.Truth.Spans[0].Mishap.Kind == kind && week.Truth.Spans[0].From > week.Log.From.AddDays(1)
                && week.Truth.Spans[0].To < week.Log.To.AddHours(-6) && week.Truth.Spans[0].To > week.Truth.Spans[0].From.AddHours(3)) return week;
        }
    }

    private async Task<string> WriteAsync(string name, IntervalLog log)
    {
        var path = Path.Combine(_folder, name);
        await using var stream = File.Create(path);
        await LogWriter.WriteCsvAsync(log, stream, cancellation: TestContext.Current.CancellationToken);
        return path;
    }

    private static DateTime TimeOf(JsonElement span, string name) => DateTime.Parse(span.GetProperty(name).GetString()!, CultureInfo.InvariantCulture);

    private static string Listen(HttpListener listener)
    {
        for (var port = 18431; ; port++)
        {
            try
            {
                listener.Prefixes.Clear();
                listener.Prefixes.Add($"http://localhost:{port}/");
                listener.Start();
                return $"http://localhost:{port}/alarm";
            }
            catch (HttpListenerException) when (port < 18460)
            {
                // Another program has this one.
            }
        }
    }

    private static async Task<string> BodyOfAsync(HttpListener listener)
    {
        while (true)
        {
            var context = await listener.GetContextAsync();
            using var reader = new StreamReader(context.Request.InputStream, Encoding.UTF8);
            var body = await reader.ReadToEndAsync(TestContext.Current.CancellationToken);
            context.Response.StatusCode = 204;
            context.Response.Close();
            if (body.Contains("lead-open", StringComparison.Ordinal)) return body;
        }
    }

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        var (output, error) = (new StringWriter(), new StringWriter());
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
