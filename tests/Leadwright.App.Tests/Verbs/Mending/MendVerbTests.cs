using System.Globalization;
using System.Text;
using System.Text.Json;
using Leadwright.App.Verbs;
using Leadwright.Core.Logs;
using Leadwright.Formats;
using Leadwright.Formats.Logs;

namespace Leadwright.App.Tests.Verbs.Mending;

public sealed class MendVerbTests : IDisposable
{
    private const int Rows = 432;
    private readonly string _folder = Directory.CreateTempSubdirectory("leadwright-mend-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task The_study_of_a_survey_is_of_the_mended_values_and_of_the_recorded_ones_when_that_is_asked_for()
    {
        var (path, truth) = Write(0, Rows);
        var survey = Path.Combine(_folder, "survey");
        Assert.Equal(0, (await RunAsync("survey", "new", survey, "--service", "wye", "--nominal", "230/400")).Code);
        Assert.Equal(0, (await RunAsync("survey", "add", survey, path)).Code);
        var mended = JsonDocument.Parse((await RunAsync("study", survey, "--format", "json")).Output).RootElement;
        Assert.Equal(truth, mended.GetProperty("energy").GetProperty("import_kwh").GetDouble(), 0.003 * truth);
        Assert.Equal(1, mended.GetProperty("corrections").GetInt32());
        var recorded = await RunAsync("study", survey, "--unmended", "--format", "json");
        var known = JsonDocument.Parse(recorded.Output).RootElement;
        Assert.InRange(known.GetProperty("energy").GetProperty("import_kwh").GetDouble(), 0.2 * truth, 0.5 * truth);
        Assert.False(known.TryGetProperty("corrections", out _));
        // A file that belongs to no survey is studied as it stands.
        Assert.Equal(recorded.Output, (await RunAsync("study", Path.Combine(survey, "originals", "week", "week.csv"), "--service", "wye", "--nominal", "230/400", "--format", "json")).Output);
        Assert.Contains("The mended values are studied (1 correction)", (await RunAsync("study", survey)).Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("mended.csv")]
    [InlineData("mended.parquet")]
    public async Task A_turned_clamp_is_mended_into_a_table_with_standings_and_the_recording_stays(string name)
    {
        var (path, truth) = Write(200, 330);
        var before = await File.ReadAllBytesAsync(path, TestContext.Current.CancellationToken);
        var table = Path.Combine(_folder, name);
        var run = await RunAsync("mend", path, "--service", "wye", "--nominal", "230/400", "-o", table, "--format", "json");
        Assert.Equal((10, ""), (run.Code, run.Error));
        var json = JsonDocument.Parse(Assert.Single(run.Output.TrimEnd('\n').Split('\n'))).RootElement;
        Assert.Equal("leadwright.mend/1", json.GetProperty("schema").GetString());
        var energy = json.GetProperty("energy");
        Assert.Equal(truth, energy.GetProperty("mended_kwh").GetDouble(), 0.003 * truth);
        Assert.InRange(truth, energy.GetProperty("low_kwh").GetDouble(), energy.GetProperty("high_kwh").GetDouble());
        Assert.Contains(json.GetProperty("corrections").EnumerateArray(), entry => entry.GetProperty("kind").GetString() == "clamp-reversed");
        Assert.Equal(before, await File.ReadAllBytesAsync(path, TestContext.Current.CancellationToken));
        var written = LogReader.Read(new InputFile(table, await File.ReadAllBytesAsync(table, TestContext.Current.CancellationToken)), cancellation: TestContext.Current.CancellationToken);
        var column = written.Log.IndexOf(LogQuantity.ActivePower, LogPlace.Phase2);
        Assert.Equal(Rows, written.Log.Count);
        Assert.True(written.Log.Values(column)[260] > 0);
        Assert.Equal(Standing.Mended, written.Standings[column].Span[260]);
        Assert.Equal(Standing.Measured, written.Standings[column].Span[20]);
        Assert.Equal(new[] { name, "week.csv" }.Order(), Directory.GetFiles(_folder).Select(Path.GetFileName).Order());
    }

    [Fact]
    public async Task What_only_a_person_can_know_is_asked_once_with_its_answers()
    {
        var (path, _) = Write(0, 0);
        foreach (var verb in (string[])["mend", "guard"])
        {
            var run = await RunAsync(verb, path, "--service", "wye", "--nominal", "230/400");
            Assert.Contains($"  Only you can know, from the recorder's papers or its settings:{Environment.NewLine}    {LogQuestions.Stamps}  (--stamps start, or --stamps end)", run.Output, StringComparison.Ordinal);
            Assert.Equal(2, run.Output.Split(LogQuestions.Stamps).Length);
            var answered = await RunAsync(verb, path, "--service", "wye", "--nominal", "230/400", "--stamps", "start");
            Assert.DoesNotContain("Only you can know", answered.Output, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_right_recording_has_nothing_to_mend()
    {
        var (path, truth) = Write(0, 0);
        var run = await RunAsync("mend", path, "--service", "wye", "--nominal", "230/400");
        Assert.Equal((0, ""), (run.Code, run.Error));
        Assert.Contains("There was nothing to mend.", run.Output, StringComparison.Ordinal);
        Assert.Contains(truth.ToString("0", CultureInfo.InvariantCulture), run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("P1 (W),P2 (W),P3 (W)", "6010,5020,4030")]
    [InlineData("P total (W)", "15060")]
    public async Task Watts_alone_are_not_called_right_and_their_interval_says_what_it_takes_for_granted(string headings, string values)
    {
        var path = Path.Combine(_folder, "watts.csv");
        await File.WriteAllLinesAsync(
            path, [$"Time,{headings}", .. Enumerable.Range(0, 300).Select(row => string.Join(',', [$"2026-03-0{2 + (row / 144)} {row / 6 % 24:00}:{row % 6}0:00", .. values.Split(',').Select(value => $"{int.Parse(value, CultureInfo.InvariantCulture) + (row % 7 * 100)}")]))],
            TestContext.Current.CancellationToken);
        var run = await RunAsync("mend", path, "--service", "wye", "--nominal", "230/400");
        Assert.Equal((11, ""), (run.Code, run.Error));
        Assert.DoesNotContain("There was nothing to mend.", run.Output, StringComparison.Ordinal);
        Assert.Contains("whether leads and clamps were in place can't be judged", run.Output, StringComparison.Ordinal);
        Assert.Contains("takes for granted that leads and clamps were in place", run.Output, StringComparison.Ordinal);
        Assert.Contains("The recording has no voltages", run.Output, StringComparison.Ordinal);
        var json = JsonDocument.Parse((await RunAsync("mend", path, "--service", "wye", "--format", "json")).Output).RootElement;
        Assert.True(json.GetProperty("unjudged").GetBoolean());
        Assert.Contains(json.GetProperty("notes").EnumerateArray(), note => note.GetString()!.StartsWith("The recording has no voltages", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Rows_that_are_missing_from_volts_and_amperes_are_said_to_be_lost()
    {
        var (path, _) = Write(0, 0);
        string[] lines = [.. (await File.ReadAllLinesAsync(path, TestContext.Current.CancellationToken)).Select(line => string.Join(',', line.Split(',')[..7]))];
        await File.WriteAllLinesAsync(path, [.. lines[..100], .. lines[140..]], TestContext.Current.CancellationToken);
        var run = await RunAsync("mend", path, "--service", "wye", "--nominal", "230/400");
        Assert.Equal((10, ""), (run.Code, run.Error));
        Assert.Contains("Nothing of what was found could be mended.", run.Output, StringComparison.Ordinal);
        Assert.Contains("What happened while the recorder was off is not known", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_recording_itself_is_never_written_over()
    {
        var (path, _) = Write(200, 330);
        var run = await RunAsync("mend", path, "-o", path);
        Assert.Equal(2, run.Code);
        Assert.Contains("never changed", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_table_that_can_not_be_written_leaves_nothing_behind()
    {
        var (path, _) = Write(200, 330);
        var run = await RunAsync("mend", path, "--service", "wye", "-o", Path.Combine(_folder, "no-such-folder", "out.csv"));
        Assert.Equal((1, ""), (run.Code, run.Output));
        Assert.Contains("Cannot write", run.Error, StringComparison.Ordinal);
        Assert.Equal(["week.csv"], Directory.GetFileSystemEntries(_folder).Select(Path.GetFileName));
    }

    [Theory]
    [InlineData("-o", "out.txt")]
    [InlineData("--accuracy", "-1")]
    [InlineData("--demand", "0")]
    public async Task Wrong_values_are_wrong_usage(string option, string value)
    {
        var run = await RunAsync("mend", "week.csv", option, value);
        Assert.Equal(2, run.Code);
        Assert.Contains(option, run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_file_that_is_not_there_is_told()
    {
        var run = await RunAsync("mend", Path.Combine(_folder, "none.csv"));
        Assert.Equal(1, run.Code);
        Assert.Contains("none.csv", run.Error, StringComparison.Ordinal);
    }

    /// <summary>Three days of ten-minute values whose second clamp is turned over some rows; the true energy in kilowatt-hours.</summary>
    private (string Path, double Truth) Write(int from, int to)
    {
        var random = new Random(5);
        var text = new StringBuilder("Time,V1 (V),V2 (V),V3 (V),I1 (A),I2 (A),I3 (A),P1 (W),P2 (W),P3 (W),Q1 (var),Q2 (var),Q3 (var)\n");
        var (level, truth) = (new double[3], 0.0);
        for (var row = 0; row < Rows; row++)
        {
            var hour = row % 144 / 6.0;
            var common = 230 + (1.5 * Math.Sin(row / 40.0)) + (0.1 * random.NextDouble());
            double[] amperes = new double[3], volts = new double[3], watts = new double[3], vars = new double[3];
            for (var phase = 0; phase < 3; phase++)
            {
                if (random.NextDouble() < 0.25) level[phase] = 12 * random.NextDouble();
                amperes[phase] = 6 + (2 * phase) + (14 / (1 + Math.Exp(-3 * (5 - Math.Abs(hour - 12.5))))) + level[phase] + (0.2 * random.NextDouble());
            }

            for (var phase = 0; phase < 3; phase++)
            {
                volts[phase] = common + (0.4 * phase) - (0.06 * (amperes[phase] - ((amperes.Sum() - amperes[phase]) / 2)));
                var lag = (15 + (5 * phase) + (2 * random.NextDouble())) * Math.PI / 180;
                var sign = phase == 1 && row >= from && row < to ? -1 : 1;
                (watts[phase], vars[phase]) = (sign * volts[phase] * amperes[phase] * Math.Cos(lag), sign * volts[phase] * amperes[phase] * Math.Sin(lag));
                truth += sign * watts[phase] / 6000;
            }

            var time = new DateTime(2026, 3, 2).AddMinutes(10 * row);
            text.AppendLine(string.Join(',', [
                time.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture), .. volts.Concat(amperes).Select(value => value.ToString("0.00", CultureInfo.InvariantCulture)),
                .. watts.Concat(vars).Select(value => value.ToString("0", CultureInfo.InvariantCulture))]));
        }

        var path = Path.Combine(_folder, "week.csv");
        File.WriteAllText(path, text.ToString());
        return (path, truth);
    }

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
