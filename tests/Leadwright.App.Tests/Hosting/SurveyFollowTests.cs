using System.Net;
using System.Net.Http.Json;
using System.Text;
using Leadwright.Client.Surveys;

namespace Leadwright.App.Tests.Hosting;

public sealed class SurveyFollowTests(ServedFolder served) : IClassFixture<ServedFolder>
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_growing_file_raises_the_alarm_that_the_verb_raises_and_once()
    {
        var survey = await served.MakeAsync("Followed");
        var path = Path.Combine(served.Folder, "growing.csv");
        var lines = Encoding.UTF8.GetString(await ServedFolder.WeekCsvAsync()).Split('\n');
        // The lead falls off on the third day; until then clamp I2 alone is wrong.
        await File.WriteAllTextAsync(path, string.Join('\n', lines[..300]) + "\n", Cancellation);
        var begun = await PostAsync($"api/surveys/{survey.Id}/follow", path);
        Assert.True(begun.IsRunning);
        Assert.DoesNotContain((await UntilAsync(survey.Id, sheet => sheet.Alarms.Any(alarm => alarm.Kind == "clamp-reversed"))).Alarms, alarm => alarm.Kind == "lead-open");
        await File.AppendAllTextAsync(path, string.Join('\n', lines[300..480]) + "\n", Cancellation);
        var after = await UntilAsync(survey.Id, sheet => sheet.Alarms.Any(alarm => alarm.Kind == "lead-open"));
        Assert.Equal(["V3"], after.Alarms.Single(alarm => alarm.Kind == "lead-open").Channels);
        Assert.Single(after.Alarms, alarm => alarm.Kind == "clamp-reversed");
        using var ended = await served.Http.PostAsync(new Uri($"api/surveys/{survey.Id}/follow/end", UriKind.Relative), null, Cancellation);
        Assert.Equal(HttpStatusCode.OK, ended.StatusCode);
        Assert.NotEmpty((await UntilAsync(survey.Id, sheet => !sheet.IsRunning)).Alarms);
    }

    [Fact]
    public async Task An_alarm_that_the_next_rows_deny_is_there_once_and_taken_back_with_its_span()
    {
        var survey = await served.MakeAsync("A house of one line", "single", "120", 60);
        var path = Path.Combine(served.Folder, "house.csv");
        var lines = await File.ReadAllLinesAsync(ReadmeTests.ReadmePage.PathOf("tests/data/weeks/w4_0013.csv"), Cancellation);
        // Within four hours a load of a house is taken for a ratio; the hour after shows that it was none.
        await File.WriteAllTextAsync(path, string.Join('\n', lines[..25]) + "\n", Cancellation);
        await PostAsync($"api/surveys/{survey.Id}/follow", path);
        await UntilAsync(survey.Id, sheet => sheet.Alarms is [{ Kind: "ratio-wrong", Cleared: null }]);
        await File.AppendAllTextAsync(path, string.Join('\n', lines[25..33]) + "\n", Cancellation);
        var alarm = Assert.Single((await UntilAsync(survey.Id, sheet => sheet.Alarms is [{ Cleared: not null }])).Alarms);
        Assert.True(alarm.IsWithdrawn);
        Assert.True(alarm.From < alarm.To);
        using var ended = await served.Http.PostAsync(new Uri($"api/surveys/{survey.Id}/follow/end", UriKind.Relative), null, Cancellation);
    }

    [Theory]
    [InlineData("drop/here")]
    [InlineData("/no/such/folder/anywhere")]
    [InlineData(" ")]
    public async Task A_place_that_is_not_there_is_refused(string path)
    {
        var survey = await served.MakeAsync("Not followed");
        using var answer = await served.Http.PostAsJsonAsync($"api/surveys/{survey.Id}/follow", new FollowStart(path), SurveyJson.Default.FollowStart, Cancellation);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    private async Task<FollowSheet> PostAsync(string address, string path)
    {
        using var answer = await served.Http.PostAsJsonAsync(address, new FollowStart(path), SurveyJson.Default.FollowStart, Cancellation);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return (await answer.Content.ReadFromJsonAsync(SurveyJson.Default.FollowSheet, Cancellation))!;
    }

    private async Task<FollowSheet> UntilAsync(string id, Func<FollowSheet, bool> isThere)
    {
        for (var look = 0; look < 300; look++)
        {
            var sheet = (await served.Http.GetFromJsonAsync($"api/surveys/{id}/follow", SurveyJson.Default.FollowSheet, Cancellation))!;
            if (isThere(sheet)) return sheet;
            Assert.Equal("", sheet.Problem);
            await Task.Delay(200, Cancellation);
        }

        throw new TimeoutException("A minute was not enough.");
    }
}
