using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Leadwright.Client.Surveys;

namespace Leadwright.App.Tests.Hosting;

public sealed class DeviceKeptTests(ServedFolder served) : IClassFixture<ServedFolder>
{
    private const string Number = "0123456789abcdef0123456789abcdef";
    private static readonly DateTimeOffset s_made = new(2026, 3, 2, 9, 30, 0, TimeSpan.Zero);

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_check_that_a_device_sends_twice_is_in_the_survey_once_with_the_time_it_was_made()
    {
        var survey = await served.MakeAsync("Sent twice");
        using var verdict = JsonDocument.Parse("""{"schema":"leadwright.check/1","verdict":"faulty","confidence":0.99,"faults":[]}""");
        var check = new HookupKeep(verdict.RootElement, null) { Id = Number, Made = s_made, Told = ["rotation=abc"] };
        foreach (var wanted in (HookupKeep[])[check, check, check with { Id = new string('f', 32) }])
        {
            using var answer = await served.Http.PostAsJsonAsync($"api/surveys/{survey.Id}/hookups", wanted, SurveyJson.Default.HookupKeep, Cancellation);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        }

        var sheet = (await served.Http.GetFromJsonAsync($"api/surveys/{survey.Id}/hookups", SurveyJson.Default.HookupsSheet, Cancellation))!;
        Assert.Equal(2, sheet.Checks.Length);
        Assert.Contains((await JournalAsync(survey.Id)), row => row.Says.Contains($"Made on a device at 2026-03-02 09:30 UTC, number {Number}.", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_plan_from_a_device_is_taken_once_and_the_verb_shows_it()
    {
        var survey = await served.MakeAsync("Planned");
        var plan = new PlanKeep("delta", "480", 60) { Id = Number, Made = DateTimeOffset.UtcNow.AddMinutes(1), Load = "Motors", MayExport = true, Learn = ["load", "voltage"], Text = "Interval 10 min, 7 days." };
        for (var turn = 0; turn < 2; turn++)
        {
            using var answer = await PlanAsync(survey.Id, plan);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            var sheet = (await answer.Content.ReadFromJsonAsync(SurveyJson.Default.SurveySheet, Cancellation))!;
            Assert.Equal(("delta", "480", "Interval 10 min, 7 days."), (sheet.Service, sheet.Nominal, sheet.PlanText));
            Assert.Equal(["load", "voltage"], sheet.Learn);
        }

        // Made, panel changed, plan changed: and no fourth entry.
        Assert.Equal(3, (await JournalAsync(survey.Id)).Length);
        var run = new Verbs.CommandRun();
        Assert.Equal(0, await run.RunAsync("survey", "show", Path.Combine(served.Folder, survey.Id)));
        Assert.Contains("Interval 10 min, 7 days.", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_plan_that_is_older_than_the_survey_s_own_is_put_over_it_only_when_that_is_said()
    {
        var survey = await served.MakeAsync("Planned twice");
        using (var first = await PlanAsync(survey.Id, new PlanKeep("wye", "230/400", 50) { Text = "The desk's." })) Assert.Equal(HttpStatusCode.OK, first.StatusCode);
        var old = new PlanKeep("wye", "230/400", 50) { Id = Number, Made = s_made, Text = "The van's." };
        using (var refused = await PlanAsync(survey.Id, old))
        {
            Assert.Equal(HttpStatusCode.Conflict, refused.StatusCode);
            Assert.Contains("Nothing was written over", (await ServedFolder.ProblemAsync(refused)).Detail, StringComparison.Ordinal);
        }

        Assert.Equal("The desk's.", (await served.Http.GetFromJsonAsync($"api/surveys/{survey.Id}", SurveyJson.Default.SurveySheet, Cancellation))!.PlanText);
        using var put = await PlanAsync(survey.Id, old with { IsOver = true });
        Assert.Equal("The van's.", (await put.Content.ReadFromJsonAsync(SurveyJson.Default.SurveySheet, Cancellation))!.PlanText);
    }

    [Theory]
    [InlineData("wye", "480/1")]
    [InlineData("star", "230/400")]
    public async Task A_plan_for_a_service_that_there_is_none_of_is_refused(string service, string nominal)
    {
        var survey = await served.MakeAsync("Refused plan");
        using var answer = await PlanAsync(survey.Id, new PlanKeep(service, nominal, 50) { Text = "x" });
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Single(await JournalAsync(survey.Id));
    }

    private Task<HttpResponseMessage> PlanAsync(string id, PlanKeep plan) =>
        served.Http.PostAsJsonAsync($"api/surveys/{id}/plan", plan, SurveyJson.Default.PlanKeep, Cancellation);

    private async Task<JournalRow[]> JournalAsync(string id) =>
        [.. await served.Http.GetFromJsonAsync($"api/surveys/{id}/journal", SurveyJson.Default.ImmutableArrayJournalRow, Cancellation)];
}
