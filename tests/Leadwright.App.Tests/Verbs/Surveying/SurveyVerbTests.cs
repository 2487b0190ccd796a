using System.Text.Json;
using Leadwright.App.Verbs;

namespace Leadwright.App.Tests.Verbs.Surveying;

public sealed class SurveyVerbTests : IDisposable
{
    private static readonly string s_week = TestFolder.Data("../../data/surveys/schema-1/originals/week/week.csv");
    private static readonly string s_readings = TestFolder.Data("../../../docs/examples/readings.json");

    private readonly string _place = Directory.CreateTempSubdirectory("leadwright-survey-").FullName;

    private string Board => Path.Combine(_place, "board");

    public void Dispose() => Directory.Delete(_place, recursive: true);

    [Fact]
    public async Task A_survey_is_made_filled_shown_and_checked()
    {
        Assert.Equal(0, (await RunAsync("survey", "new", Board, "--title", "Main board", "--service", "wye", "--nominal", "230/400", "--who", "T. Ester")).Code);
        var added = await RunAsync("survey", "add", Board, s_week, "--why", "the first week");
        Assert.Equal((0, ""), (added.Code, added.Error));
        Assert.Contains("recording week: log, log-table, 48 rows of 600 s", added.Output, StringComparison.Ordinal);
        Assert.Contains("question: Which end of its interval does the time of a row stand for", added.Output, StringComparison.Ordinal);
        var shown = await RunAsync("survey", "show", Board, "--journal");
        Assert.Contains("panel: wye, 230/400 V", shown.Output, StringComparison.Ordinal);
        Assert.Contains("recording-imported (the first week)", shown.Output, StringComparison.Ordinal);
        var json = JsonDocument.Parse(Assert.Single((await RunAsync("survey", "show", Board, "--format", "json")).Output.TrimEnd('\n').Split('\n'))).RootElement;
        Assert.Equal("leadwright.survey/1", json.GetProperty("schema").GetString());
        Assert.Equal("week", json.GetProperty("recordings")[0].GetProperty("name").GetString());
        Assert.Equal(0, (await RunAsync("survey", "check", Board)).Code);
    }

    [Fact]
    public async Task A_changed_original_is_found()
    {
        await MakeAsync(s_week);
        var original = Path.Combine(Board, "originals", "week", "week.csv");
        File.SetAttributes(original, FileAttributes.Normal);
        File.AppendAllText(original, "2026-03-02 08:00:00;1;2;3;4;5;6;7;8;9\n");
        var run = await RunAsync("survey", "check", Board, "--format", "json");
        Assert.Equal(10, run.Code);
        var json = JsonDocument.Parse(run.Output).RootElement;
        Assert.False(json.GetProperty("sound").GetBoolean());
        Assert.Equal("changed", json.GetProperty("files")[0].GetProperty("standing").GetString());
    }

    [Fact]
    public async Task The_verbs_take_a_survey_with_what_it_says_of_its_panel()
    {
        await MakeAsync(s_week);
        var inSurvey = Path.Combine(Board, "originals", "week", "week.csv");
        foreach (var verb in (string[])["guard", "mend", "study"])
        {
            var file = await RunAsync(verb, inSurvey, "--service", "wye", "--nominal", "230/400", "--format", "json");
            var survey = await RunAsync(verb, Board, "--format", "json");
            Assert.Equal(file.Code, survey.Code);
            Assert.Equal(file.Output, survey.Output);
            Assert.NotEqual("", survey.Output);
        }
    }

    [Fact]
    public async Task Check_takes_readings_of_a_survey_and_what_was_told()
    {
        await MakeAsync(s_readings);
        var before = JsonDocument.Parse((await RunAsync("check", Board, "--format", "json")).Output).RootElement;
        Assert.Equal("faulty", before.GetProperty("verdict").GetString());
        Assert.Equal(0, (await RunAsync("survey", "tell", Board, "arrow:I1=source")).Code);
        var told = JsonDocument.Parse((await RunAsync("check", Board, "--format", "json")).Output).RootElement;
        var same = JsonDocument.Parse((await RunAsync("check", Path.Combine(Board, "originals", "readings", "readings.json"), "--told", "arrow:I1=source", "--format", "json")).Output).RootElement;
        Assert.Equal(same.GetProperty("confidence").GetDouble(), told.GetProperty("confidence").GetDouble());
        Assert.NotEqual(before.GetProperty("confidence").GetDouble(), told.GetProperty("confidence").GetDouble());
    }

    [Fact]
    public async Task A_file_that_comes_twice_is_taken_and_said()
    {
        await MakeAsync(s_readings);
        var again = await RunAsync("survey", "add", Board, s_readings);
        Assert.Equal(0, again.Code);
        Assert.Contains("The recording 'readings' of this survey is the same file, byte for byte.", again.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Answers_are_kept_when_asked_for()
    {
        await MakeAsync(s_readings);
        Assert.Equal(10, (await RunAsync("check", Board, "--keep")).Code);
        Assert.Contains("check of the hook-up kept", (await RunAsync("survey", "show", Board)).Output, StringComparison.Ordinal);
        var refused = await RunAsync("check", s_readings, "--keep");
        Assert.Equal(2, refused.Code);
        Assert.Contains("--keep", refused.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_recording_is_chosen_by_its_name()
    {
        await MakeAsync(s_week, s_readings);
        Assert.Equal(10, (await RunAsync("check", Board, "--recording", "readings")).Code);
        var missing = await RunAsync("guard", Board, "--recording", "month");
        Assert.Equal(2, missing.Code);
        Assert.Contains("'week' (log), 'readings' (readings)", missing.Error, StringComparison.Ordinal);
        Assert.Equal(2, (await RunAsync("guard", s_week, "--recording", "week")).Code);
        var none = await RunAsync("measure", Board);
        Assert.Equal(1, none.Code);
        Assert.Contains("no recording of the kind that is needed (samples)", none.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_recording_that_was_taken_out_is_left_out_and_comes_back()
    {
        await MakeAsync(s_week, s_readings);
        await RunAsync("survey", "remove", Board, "--recording", "readings", "--why", "of another board");
        Assert.Single((await RunAsync("check", Board, "--format", "json")).Output.TrimEnd('\n').Split('\n'));
        Assert.True(File.Exists(Path.Combine(Board, "originals", "readings", "readings.json")));
        await RunAsync("survey", "remove", Board, "--recording", "readings", "--undo");
        Assert.Equal(2, (await RunAsync("check", Board, "--format", "json")).Output.TrimEnd('\n').Split('\n').Length);
    }

    [Fact]
    public async Task A_survey_goes_onto_a_stick_into_a_zip_file_and_out_again()
    {
        await MakeAsync(s_week);
        var (stick, zip, other) = (Path.Combine(_place, "stick"), Path.Combine(_place, "board.zip"), Path.Combine(_place, "other"));
        Assert.Equal(0, (await RunAsync("survey", "copy", Board, stick)).Code);
        Assert.Equal(0, (await RunAsync("survey", "copy", Board, zip)).Code);
        Assert.Equal(0, (await RunAsync("survey", "copy", zip, other)).Code);
        foreach (var shelf in (string[])[stick, other])
        {
            Assert.Contains("Main board", (await RunAsync("survey", "list", shelf)).Output, StringComparison.Ordinal);
            Assert.Equal(0, (await RunAsync("survey", "check", Assert.Single(Directory.GetDirectories(shelf)))).Code);
        }

        var again = await RunAsync("survey", "copy", Board, zip);
        Assert.Equal(1, again.Code);
        Assert.Contains("There is", again.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1, "survey", "show", "nowhere")]
    [InlineData(2, "survey", "new", "made", "--service", "star")]
    [InlineData(2, "survey", "new", "made", "--service", "wye", "--nominal", "hello")]
    [InlineData(2, "survey", "tell", "board", "nonsense")]
    [InlineData(2, "survey")]
    public async Task Wrong_usage_and_missing_folders_are_told_apart(int code, params string[] args)
    {
        var run = await RunAsync([.. args.Select(word => word is "nowhere" or "made" or "board" ? Path.Combine(_place, word) : word)]);
        Assert.Equal(code, run.Code);
        Assert.NotEqual("", run.Error);
        Assert.Empty(Directory.GetFileSystemEntries(_place));
    }

    private async Task MakeAsync(params string[] files)
    {
        Assert.Equal(0, (await RunAsync("survey", "new", Board, "--title", "Main board", "--service", "wye", "--nominal", "230/400")).Code);
        Assert.Equal(0, (await RunAsync(["survey", "add", Board, .. files])).Code);
    }

    private static async Task<(int Code, string Output, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await LeadwrightCommand.RunAsync(args, output, error, TestContext.Current.CancellationToken);
        return (code, output.ToString(), error.ToString());
    }
}
