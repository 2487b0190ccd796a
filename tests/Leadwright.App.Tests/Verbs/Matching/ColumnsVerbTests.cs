using System.Globalization;
using System.Text.Json;
using Leadwright.App.Verbs;
using Leadwright.Core.Logs;
using Leadwright.Surveys;
using Leadwright.Surveys.Importing;
using Leadwright.Surveys.Tables;

namespace Leadwright.App.Tests.Verbs.Matching;

/// <summary>What columns are taken for is shown, corrected, remembered and forgotten; headings are of one test each, since what is remembered goes by them.</summary>
public sealed class ColumnsVerbTests : IDisposable
{
    private readonly TestFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Every_column_is_shown_with_its_reason_and_what_is_asked_with_the_option_that_answers()
    {
        var run = await RunAsync("columns", Log("shown", "V1 (V)", "mystery"));

        Assert.Equal((11, ""), (run.Code, run.Error));
        Assert.Contains("voltage,1,mean,V", run.Output, StringComparison.Ordinal);
        Assert.Contains("name (voltage) and unit V", run.Output, StringComparison.Ordinal);
        Assert.Contains("kept under its own name: neither name nor unit says what it is", run.Output, StringComparison.Ordinal);
        Assert.Contains("is a row of 10:00 with 15 minutes 10:00 to 10:15 (start), or 9:45 to 10:00 (end)?  (--stamps start, or --stamps end)", run.Output, StringComparison.Ordinal);
        var json = JsonDocument.Parse((await RunAsync("columns", Log("shown", "V1 (V)", "mystery"), "--stamps", "end", "--format", "json")).Output).RootElement;
        Assert.Equal("end", json.GetProperty("stamps").GetString());
        Assert.Equal("2026-03-01T23:45:00", json.GetProperty("from").GetString());
        Assert.Equal("other,mean", json.GetProperty("columns")[2].GetProperty("words").GetString());
    }

    [Fact]
    public async Task A_correction_is_written_to_a_file_that_the_other_verbs_take()
    {
        var path = Log("written", "V1 (V)", "Ch 7");
        var match = Path.Combine(Path.GetDirectoryName(path)!, "match.json");
        var run = await RunAsync("columns", path, "--set", "Ch 7=active-power,1,mean,kW", "--stamps", "start", "-o", match);

        Assert.Equal(0, run.Code);
        Assert.Contains("active-power,1,mean,kW  100 %  as stated", run.Output, StringComparison.Ordinal);
        // Without the match no column of it is a power.
        Assert.DoesNotContain("Demand 15 min block", (await RunAsync("study", path)).Output, StringComparison.Ordinal);
        Assert.Contains("Demand 15 min block", (await RunAsync("study", path, "--match", match)).Output, StringComparison.Ordinal);
        var other = await RunAsync("study", Log("other", "V1 (V)", "Ch 8"), "--match", match);
        Assert.Equal(1, other.Code);
        Assert.Contains("no 'Ch 7', 'Ch 8' besides", other.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_confirmed_is_remembered_for_the_next_export_and_can_be_forgotten()
    {
        Assert.Equal(0, (await RunAsync("columns", Log("first", "V1 (V)", "remembered"), "--set", "remembered=current,1,mean,A", "--keep")).Code);
        var next = Log("next", "V1 (V)", "remembered");
        var run = await RunAsync("columns", next);
        Assert.Equal(0, run.Code);
        Assert.Contains("current,1,mean,A  100 %  as stated", run.Output, StringComparison.Ordinal);
        Assert.Contains("as a person confirmed for tables with these headings", run.Output, StringComparison.Ordinal);

        // Every verb reads it so, and a survey keeps how it was read.
        Assert.Contains("as a person confirmed", (await RunAsync("guard", next)).Output, StringComparison.Ordinal);
        var board = Path.Combine(Path.GetDirectoryName(next)!, "board");
        await RunAsync("survey", "new", board);
        await RunAsync("survey", "add", board, next);
        Assert.Contains("Forgotten", (await RunAsync("columns", next, "--forget")).Output, StringComparison.Ordinal);
        Assert.Contains("other,mean", (await RunAsync("columns", next)).Output, StringComparison.Ordinal);
        Assert.Contains("current,1,mean,A", (await RunAsync("columns", board)).Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Columns_of_a_survey_are_confirmed_in_its_journal_and_its_table_follows()
    {
        var path = Log("confirmed", "V1 (V)", "in the survey");
        var board = Path.Combine(Path.GetDirectoryName(path)!, "board");
        await RunAsync("survey", "new", board);
        await RunAsync("survey", "add", board, path);
        var run = await RunAsync("columns", board, "--set", "in the survey=current,2,maximum,A", "--keep");

        Assert.Equal((0, ""), (run.Code, run.Error));
        Assert.Contains("Confirmed for 'confirmed', whose table was computed anew", run.Output, StringComparison.Ordinal);
        using var survey = SurveyFolder.Open(board);
        Assert.Equal("columns-confirmed", survey.Entries[^1].What);
        using var tables = SurveyTables.Open(board, survey.State.Id);
        var table = await tables.TableAsync(RecordingImport.TableOf(survey.State, survey.State.Recordings[0]), TestContext.Current.CancellationToken);
        Assert.Equal(LogQuantity.Current, table.Columns[table.IndexOf("I2_max_A")].Column!.Quantity);
    }

    [Theory]
    [InlineData("--set", "x=furlongs", "is no quantity")]
    [InlineData("--utc-offset", "noon", "is no offset")]
    [InlineData("--log-start", "tomorrow", "is no date and time")]
    [InlineData("--match", "/nowhere.json", "there is no such file")]
    public async Task What_is_said_wrong_is_refused_with_what_would_be_right(string option, string value, string says)
    {
        var run = await RunAsync("columns", "week.csv", option, value);

        Assert.Equal(2, run.Code);
        Assert.Contains(says, run.Error, StringComparison.Ordinal);
    }

    private string Log(string name, string first, string second) => _folder.Write(name + ".csv", $"time;{first};{second}\n" + string.Concat(Enumerable.Range(0, 96).Select(row =>
        string.Create(CultureInfo.InvariantCulture, $"{new DateTime(2026, 3, 2).AddMinutes(15 * row):yyyy-MM-dd HH:mm};{230 + (row % 3)};{7000 + (800 * (row % 13))}\n"))));

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] words)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(words, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
