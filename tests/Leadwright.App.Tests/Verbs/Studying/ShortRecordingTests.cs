using System.Globalization;
using System.Text;
using System.Text.Json;
using Leadwright.Client.Surveys;

namespace Leadwright.App.Tests.Verbs.Studying;

/// <summary>A recording of one second, and of no date: its figures are those of the sines it was made of, and its times count from its start.</summary>
public sealed class ShortRecordingTests : IDisposable
{
    private const double Volts = 230, Amperes = 20, Angle = 0.5;
    private readonly TestFolder _folder = new();
    private readonly string _path;

    public ShortRecordingTests()
    {
        var text = new StringBuilder("V1 (V),V2 (V),V3 (V),I1 (A),I2 (A),I3 (A)\n");
        for (var sample = 0; sample < 6400; sample++)
        {
            var time = sample / 6400.0;
            for (var lane = 0; lane < 6; lane++)
            {
                var phase = (2 * Math.PI * ((50 * time) - (lane % 3 / 3.0))) - (lane < 3 ? 0 : Angle);
                text.Append(CultureInfo.InvariantCulture, $"{(lane < 3 ? Volts : Amperes) * Math.Sqrt(2) * Math.Cos(phase):0.0000}{(lane < 5 ? ',' : '\n')}");
            }
        }

        _path = _folder.Write("one.csv", text.ToString());
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task The_study_measures_what_one_second_holds_and_says_what_it_can_t_show()
    {
        var run = new CommandRun();
        Assert.Equal(0, await run.RunAsync("study", _path, "--rate", "6400", "--nominal", "230/400", "--format", "json"));
        using var json = JsonDocument.Parse(run.Output);
        // Three phases' V·I·cos over one second.
        var energy = json.RootElement.GetProperty("energy");
        Assert.Equal(3 * Volts * Amperes * Math.Cos(Angle) / 3600, energy.GetProperty("import_kwh").GetDouble() * 1000, 3);
        Assert.Equal("PT0S", json.RootElement.GetProperty("from").GetString());
        Assert.Equal("PT1S", json.RootElement.GetProperty("to").GetString());

        await run.RunAsync("study", _path, "--rate", "6400", "--nominal", "230/400");
        Assert.Contains("not one whole interval of 60 s: it was measured in windows of 10 or 12 cycles", run.Output, StringComparison.Ordinal);
        Assert.Contains("The record covers 1 s:", run.Output, StringComparison.Ordinal);
        Assert.Contains("No demand of 15 minutes is in it", run.Output, StringComparison.Ordinal);
        Assert.Contains("No value of ten minutes is in it", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("study", "text")]
    [InlineData("study", "json")]
    [InlineData("guard", "text")]
    [InlineData("guard", "json")]
    [InlineData("measure", "json")]
    public async Task No_answer_speaks_of_the_year_1_or_of_a_year_that_was_made_up(string verb, string format)
    {
        var run = new CommandRun();
        string[] more = verb == "measure" ? [] : ["--format", format];
        await run.RunAsync([verb, _path, "--rate", "6400", "--nominal", "230/400", "--service", "wye", .. more]);
        Assert.NotEqual("", run.Output);
        Assert.DoesNotContain("0001-01", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("2000-01-01", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_screens_read_such_times_as_the_verbs_write_them()
    {
        var run = new CommandRun();
        await run.RunAsync("guard", _path, "--rate", "6400", "--nominal", "230/400", "--service", "wye", "--format", "json");
        var sheet = JsonSerializer.Deserialize(run.Output, SurveyJson.Default.GuardSheet)!;
        Assert.Equal(default, sheet.From);
        Assert.Equal(0.99, (sheet.To - sheet.From).TotalSeconds, 6);
        Assert.Equal("+0:00:00.99", Leadwright.Client.Model.Shown.ShownText.Moment(sheet.To));
        var card = new RecordingCard("a", "a.csv") { To = sheet.To };
        Assert.Equal(card.To, JsonSerializer.Deserialize(JsonSerializer.Serialize(card, SurveyJson.Default.RecordingCard), SurveyJson.Default.RecordingCard)!.To);
    }
}
