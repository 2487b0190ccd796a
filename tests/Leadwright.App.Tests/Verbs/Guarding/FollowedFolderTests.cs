using System.Globalization;
using System.Text;
using System.Text.Json;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs.Guarding;

/// <summary>A folder into which a recorder drops its files, or in which it goes on writing.</summary>
public sealed class FollowedFolderTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-dropped-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task A_lead_that_falls_off_in_a_file_that_was_taken_already_raises_its_alarm()
    {
        var lines = Week(offFrom: 200).ToArray();
        await WriteAsync("day-1.csv", lines[..145]);
        await WriteAsync("day-2.csv", [lines[0], .. lines[145..170]]);
        var watch = RunAsync("guard", _folder, "--service", "wye", "--nominal", "230/400", "--follow", "--every", "0.1", "--until-alarm", "--until-idle", "30", "--format", "json");
        await Task.Delay(1500, TestContext.Current.CancellationToken);
        for (var line = 170; line < 210 && !watch.IsCompleted; line += 8)
        {
            await File.AppendAllLinesAsync(Path.Combine(_folder, "day-2.csv"), lines[line..(line + 8)], TestContext.Current.CancellationToken);
            await Task.Delay(400, TestContext.Current.CancellationToken);
        }

        var run = await watch;
        Assert.Equal((10, ""), (run.Code, run.Error));
        var alarm = Assert.Single(Alarms(run.Output));
        Assert.Equal(("lead-open", "raised", "2026-03-03T09:10:00"), alarm);
    }

    [Fact]
    public async Task A_table_that_is_added_to_at_every_look_is_not_waited_for_for_ever()
    {
        var lines = Week(offFrom: 30).ToArray();
        var path = Path.Combine(_folder, "running.csv");
        await WriteAsync("running.csv", lines[..28]);
        var watch = RunAsync("guard", _folder, "--service", "wye", "--nominal", "230/400", "--follow", "--every", "0.2", "--until-alarm", "--until-idle", "30", "--format", "json");
        for (var line = 28; line < lines.Length && !watch.IsCompleted; line++)
        {
            await File.AppendAllLinesAsync(path, [lines[line]], TestContext.Current.CancellationToken);
            await Task.Delay(100, TestContext.Current.CancellationToken);
        }

        Assert.True(watch.IsCompleted, "the watch waited for the file to rest");
        Assert.Contains(Alarms((await watch).Output), alarm => alarm.Kind == "lead-open");
    }

    [Fact]
    public async Task Sampled_recordings_are_judged_as_they_are_dropped_and_what_lasts_is_one_alarm()
    {
        var watch = RunAsync("guard", _folder, "--service", "wye", "--nominal", "230/400", "--follow", "--every", "0.1", "--until-idle", "4", "--format", "json");
        await WriteAsync("part-1.csv", Samples(0, isTurnedFrom: 1.5));
        await Task.Delay(1500, TestContext.Current.CancellationToken);
        await WriteAsync("part-2.csv", Samples(3, isTurnedFrom: 0));
        await Task.Delay(1500, TestContext.Current.CancellationToken);
        await WriteAsync("part-3.csv", Samples(6, isTurnedFrom: 100));
        var run = await watch;
        Assert.Equal(10, run.Code);
        var told = Alarms(run.Output).Where(alarm => alarm.Kind == "clamp-reversed").Select(alarm => alarm.State);
        Assert.Equal(["raised", "cleared"], told);
    }

    private static List<(string Kind, string State, string From)> Alarms(string output) =>
    [
        .. output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => JsonDocument.Parse(line).RootElement)
            .Select(alarm => (alarm.GetProperty("span").GetProperty("kind").GetString()!, alarm.GetProperty("state").GetString()!, alarm.GetProperty("span").GetProperty("from").GetString()!)),
    ];

    // Two days of ten minutes; lead V2 lets go in a row and stays off.
    private static IEnumerable<string> Week(int offFrom)
    {
        yield return "Time,V1 (V),V2 (V),V3 (V),I1 (A),I2 (A),I3 (A),P1 (W),P2 (W),P3 (W),Q1 (var),Q2 (var),Q3 (var)";
        var random = new Random(5);
        for (var row = 0; row < 288; row++)
        {
            var at = new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Unspecified).AddMinutes(10 * row);
            double[] amperes = [.. Enumerable.Range(0, 3).Select(line => 20 + (4 * line) + (12 * random.NextDouble()) + (8 * Math.Sin(row / 23.0)))];
            double[] volts = [.. amperes.Select(value => 231 + (0.3 * random.NextDouble()) - (0.08 * value))];
            double[] watts = [.. amperes.Select((value, line) => 0.93 * value * volts[line])];
            double[] vars = [.. amperes.Select((value, line) => 0.36 * value * volts[line])];
            if (row >= offFrom - 1) (volts[1], watts[1], vars[1]) = (4 + random.NextDouble(), 40 * random.NextDouble(), 40 * random.NextDouble());
            yield return string.Create(CultureInfo.InvariantCulture, $"{at:yyyy-MM-dd HH:mm:ss},{Join(volts, "0.0")},{Join(amperes, "0.00")},{Join(watts, "0")},{Join(vars, "0")}");
        }
    }

    private static string Join(double[] values, string format) => string.Join(',', values.Select(value => value.ToString(format, CultureInfo.InvariantCulture)));

    // Three seconds of samples with loads that are switched; clamp I1 is turned round from some second on.
    private static IEnumerable<string> Samples(int second, double isTurnedFrom)
    {
        var random = new Random(second + 1);
        yield return string.Create(CultureInfo.InvariantCulture, $"# start: 2026-03-02T10:00:{second:00}");
        yield return "time (s),V1 (V),V2 (V),V3 (V),I1 (A),I2 (A),I3 (A)";
        for (var sample = 0; sample < 3 * 3200; sample++)
        {
            var time = sample / 3200.0;
            double[] rms = [time < 0.6 ? 30 : 42, time < 0.9 ? 25 : 31, time < 1.2 ? 28 : 33];
            var line = new StringBuilder(time.ToString("0.0000000", CultureInfo.InvariantCulture));
            for (var phase = 0; phase < 3; phase++)
            {
                var angle = (2 * Math.PI * 50 * time) - (2 * Math.PI / 3 * phase);
                line.Append(CultureInfo.InvariantCulture, $",{((230 - (0.08 * rms[phase])) * Math.Sqrt(2) * Math.Sin(angle)) + (0.3 * random.NextDouble()):0.00}");
            }

            for (var phase = 0; phase < 3; phase++)
            {
                var angle = (2 * Math.PI * 50 * time) - (2 * Math.PI / 3 * phase) - 0.3;
                var sign = phase == 0 && time >= isTurnedFrom ? -1 : 1;
                line.Append(CultureInfo.InvariantCulture, $",{(sign * rms[phase] * Math.Sqrt(2) * Math.Sin(angle)) + (0.05 * random.NextDouble()):0.000}");
            }

            yield return line.ToString();
        }
    }

    private Task WriteAsync(string name, IEnumerable<string> lines) => File.WriteAllLinesAsync(Path.Combine(_folder, name), lines, TestContext.Current.CancellationToken);

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
