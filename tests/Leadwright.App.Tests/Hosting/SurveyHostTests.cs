using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Leadwright.App.Tests.Verbs;
using Leadwright.Client.Surveys;

namespace Leadwright.App.Tests.Hosting;

public sealed class SurveyHostTests(ServedFolder served) : IClassFixture<ServedFolder>
{
    private static readonly HttpStatusCode[] s_refused = [HttpStatusCode.Forbidden, HttpStatusCode.MisdirectedRequest];

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_change_without_the_token_of_the_session_is_refused()
    {
        using var http = new HttpClient { BaseAddress = served.Http.BaseAddress };
        using var answer = await http.PostAsJsonAsync("api/surveys", new NewSurvey("No token"), SurveyJson.Default.NewSurvey, Cancellation);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.Contains("Load the page again", (await ServedFolder.ProblemAsync(answer)).Detail, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Origin", "http://elsewhere.example")]
    [InlineData("Sec-Fetch-Site", "cross-site")]
    [InlineData("Host", "elsewhere.example")]
    public async Task A_page_from_elsewhere_can_neither_read_nor_change(string header, string value)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "api/surveys") { Content = JsonContent.Create(new NewSurvey("From elsewhere"), SurveyJson.Default.NewSurvey) };
        request.Headers.TryAddWithoutValidation(header, value);
        using var answer = await served.Http.SendAsync(request, Cancellation);
        Assert.Contains(answer.StatusCode, s_refused);
        if (header == "Origin") return;
        using var reading = new HttpRequestMessage(HttpMethod.Get, "api/session");
        reading.Headers.TryAddWithoutValidation(header, value);
        using var refused = await served.Http.SendAsync(reading, Cancellation);
        Assert.Contains(refused.StatusCode, s_refused);
    }

    [Theory]
    [InlineData("api/surveys/..%2F..%2Fetc")]
    [InlineData("api/surveys/no-such-survey")]
    [InlineData("api/surveys/no-such-survey/guard")]
    [InlineData("api/nothing-of-the-kind")]
    public async Task What_is_not_there_is_not_found(string address)
    {
        using var answer = await served.Http.GetAsync(new Uri(address, UriKind.Relative), Cancellation);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Fact]
    public async Task A_new_survey_needs_a_name()
    {
        using var answer = await served.Http.PostAsJsonAsync("api/surveys", new NewSurvey("  "), SurveyJson.Default.NewSurvey, Cancellation);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    [Fact]
    public async Task The_guard_of_an_imported_recording_says_what_the_verb_says_of_the_file()
    {
        var survey = await served.MakeAsync("Guarded");
        var csv = await ServedFolder.WeekCsvAsync();
        var import = await served.UploadAsync($"api/surveys/{survey.Id}/recordings", "week.csv", csv);
        Assert.Equal("", import.Problem);
        var guard = await served.ResultAsync($"api/surveys/{survey.Id}/guard");

        using var folder = new TestFolder();
        var run = new CommandRun();
        await run.RunAsync("guard", folder.Write("week.csv", Encoding.UTF8.GetString(csv)), "--service", "wye", "--nominal", "230/400", "--frequency", "50", "--format", "json");
        using var verb = JsonDocument.Parse(run.Output);
        Assert.Equal(verb.RootElement.GetProperty("spans").GetRawText(), guard.GetProperty("spans").GetRawText());
        Assert.Equal(verb.RootElement.GetProperty("hookups").GetRawText(), guard.GetProperty("hookups").GetRawText());
        // What the week was made with.
        Assert.Contains(guard.GetProperty("spans").EnumerateArray(), span => span.GetProperty("kind").GetString() == "clamp-reversed" && span.GetProperty("channels")[0].GetString() == "I2");
        Assert.Contains(guard.GetProperty("spans").EnumerateArray(), span => span.GetProperty("kind").GetString() == "lead-open" && span.GetProperty("channels")[0].GetString() == "V3");
    }

    [Fact]
    public async Task The_original_is_kept_byte_for_byte_and_the_journal_tells_of_it()
    {
        var survey = await served.MakeAsync("Kept");
        var csv = await ServedFolder.WeekCsvAsync();
        await served.UploadAsync($"api/surveys/{survey.Id}/recordings", @"C:\Users\somebody\week one.csv", csv);
        var kept = Assert.Single(Directory.EnumerateFiles(Path.Combine(served.Folder, survey.Id, "originals"), "*", SearchOption.AllDirectories));
        Assert.Equal("week one.csv", Path.GetFileName(kept));
        Assert.Equal(csv, await File.ReadAllBytesAsync(kept, Cancellation));
        var journal = await served.Http.GetFromJsonAsync<JsonElement>($"api/surveys/{survey.Id}/journal", Cancellation);
        Assert.Contains("week one.csv", journal[0].GetProperty("says").GetString(), StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateDirectories(served.Folder, ".incoming*"));
    }

    [Fact]
    public async Task A_broken_file_is_refused_with_its_name_and_nothing_is_taken_in()
    {
        var survey = await served.MakeAsync("Broken");
        var work = await served.UploadAsync($"api/surveys/{survey.Id}/recordings", "broken.xlsx", [0x50, 0x4B, 3, 4, 1, 2, 3]);
        Assert.True(work.IsDone);
        Assert.Contains("broken.xlsx", work.Problem, StringComparison.Ordinal);
        Assert.DoesNotContain(served.Folder, work.Problem, StringComparison.Ordinal);
        var sheet = await served.Http.GetFromJsonAsync($"api/surveys/{survey.Id}", SurveyJson.Default.SurveySheet, Cancellation);
        Assert.Empty(sheet!.Recordings);
    }

    [Fact]
    public async Task A_recording_makes_its_own_survey_and_a_broken_file_makes_none()
    {
        var before = (await served.Http.GetFromJsonAsync("api/surveys", SurveyJson.Default.ImmutableArraySurveyCard, Cancellation)).Length;
        var broken = await served.UploadAsync("api/surveys/recordings", "nothing.csv", Encoding.UTF8.GetBytes("this is no recording\n"));
        Assert.Contains("nothing.csv", broken.Problem, StringComparison.Ordinal);
        Assert.DoesNotContain(served.Folder, broken.Problem, StringComparison.Ordinal);
        Assert.Equal(before, (await served.Http.GetFromJsonAsync("api/surveys", SurveyJson.Default.ImmutableArraySurveyCard, Cancellation)).Length);
        var made = await served.UploadAsync("api/surveys/recordings", "board 4.csv", [.. await ServedFolder.WeekCsvAsync(), .. "\n\n"u8]);
        var sheet = await served.Http.GetFromJsonAsync($"api/surveys/{made.Made}", SurveyJson.Default.SurveySheet, Cancellation);
        Assert.Equal(("board 4", 1), (sheet!.Name, sheet.Recordings.Length));
    }

    [Fact]
    public async Task A_recording_that_a_survey_holds_makes_no_second_one_until_that_is_put_away()
    {
        byte[] week = [.. await ServedFolder.WeekCsvAsync(), (byte)'\n'];
        var first = await served.UploadAsync("api/surveys/recordings", "board 7.csv", week);
        var again = await served.UploadAsync("api/surveys/recordings", "another name.csv", week);
        Assert.Contains("'board 7' holds this recording already", again.Problem, StringComparison.Ordinal);
        Assert.Equal(1, await CountAsync("board 7") + await CountAsync("another name"));
        var own = await served.MakeAsync("Apart");
        Assert.Equal("", (await served.UploadAsync($"api/surveys/{own.Id}/recordings", "board 7.csv", week)).Problem);
        foreach (var id in (string[])[first.Made, own.Id])
        {
            using var archived = await served.Http.PostAsync(new Uri($"api/surveys/{id}/archive", UriKind.Relative), null, Cancellation);
            Assert.True(archived.IsSuccessStatusCode);
        }

        Assert.Equal("", (await served.UploadAsync("api/surveys/recordings", "another name.csv", week)).Problem);
        Assert.Equal(1, await CountAsync("another name"));
    }

    private async Task<int> CountAsync(string name) =>
        (await served.Http.GetFromJsonAsync("api/surveys", SurveyJson.Default.ImmutableArraySurveyCard, Cancellation)).Count(card => card.Name == name);

    [Fact]
    public async Task A_survey_is_duplicated_put_away_and_carried_in_a_zip_file()
    {
        var survey = await served.MakeAsync("Carried");
        await served.UploadAsync($"api/surveys/{survey.Id}/recordings", "week.csv", await ServedFolder.WeekCsvAsync());
        using var copied = await served.Http.PostAsync(new Uri($"api/surveys/{survey.Id}/duplicate", UriKind.Relative), null, Cancellation);
        var copy = await copied.Content.ReadFromJsonAsync(SurveyJson.Default.SurveySheet, Cancellation);
        Assert.Equal("Carried (copy)", copy!.Name);
        Assert.Single(copy.Recordings);
        using var archived = await served.Http.PostAsync(new Uri($"api/surveys/{copy.Id}/archive", UriKind.Relative), null, Cancellation);
        Assert.Equal(HttpStatusCode.NoContent, archived.StatusCode);
        var list = await served.Http.GetFromJsonAsync("api/surveys", SurveyJson.Default.ImmutableArraySurveyCard, Cancellation);
        Assert.True(list.Single(card => card.Id == copy.Id).IsArchived);
        Assert.False(list.Single(card => card.Id == survey.Id).IsArchived);

        var zip = await served.Http.GetByteArrayAsync(new Uri($"api/surveys/{copy.Id}/download", UriKind.Relative), Cancellation);
        var there = await served.UploadAsync("api/surveys/packed", "carried.zip", zip);
        Assert.NotEqual("", there.Problem);
        Directory.Delete(Path.Combine(served.Folder, copy.Id), recursive: true);
        var back = await served.UploadAsync("api/surveys/packed", "carried.zip", zip);
        Assert.Equal(("", copy.Id), (back.Problem, back.Made));
    }
}
