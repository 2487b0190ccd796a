using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Leadwright.App.Tests.Verbs;
using Leadwright.Client.Surveys;
using Leadwright.Formats.Matching;

namespace Leadwright.App.Tests.Hosting;

public sealed class SurveyColumnTests(ServedFolder served) : IClassFixture<ServedFolder>
{
    // 230 V and some kW under headings that say nothing; the third column holds words.
    private static readonly string s_table = Table("Reading one;Reading two;State");

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Columns_are_shown_with_their_first_values_and_what_a_person_confirms_holds_from_then_on()
    {
        var survey = await served.MakeAsync("Confirmed");
        Assert.Equal("", (await served.UploadAsync($"api/surveys/{survey.Id}/recordings", "week.csv", Encoding.UTF8.GetBytes(s_table))).Problem);
        Assert.True((await SheetAsync(survey.Id)).Recordings[0].AsksColumns);
        var match = await MatchAsync(survey.Id);
        Assert.Equal(["Time", "Reading one", "Reading two", "State"], match.Columns.Select(row => row.Heading));
        Assert.Equal(["231,5", "232,5", "230,5", "231,5"], match.Columns[1].First);
        Assert.False(match.Columns[3].IsValue);
        Assert.True(match.Columns[2].IsUnsure);
        Assert.True(match.AsksStamps);
        Assert.False(match.IsConfirmed);

        var keep = new ColumnMatchKeep(match.Sequence)
        {
            Columns = [new("2") { Quantity = "voltage", Place = "1", Unit = "V" }, new("3") { Quantity = "active-power", Place = "1", Unit = "kW" }],
            Stamps = "end",
        };
        using var answer = await PostAsync(survey.Id, keep);
        Assert.Equal(HttpStatusCode.Accepted, answer.StatusCode);
        var work = await served.DoneAsync((await answer.Content.ReadFromJsonAsync(SurveyJson.Default.WorkState, Cancellation))!);
        Assert.Equal("", work.Problem);

        var again = await MatchAsync(survey.Id);
        Assert.True(again.IsConfirmed);
        Assert.Equal(("active-power", "1", "kW"), (again.Columns[2].Taken.Quantity, again.Columns[2].Taken.Place, again.Columns[2].Taken.Unit));
        Assert.Empty(again.Questions);
        Assert.False((await SheetAsync(survey.Id)).Recordings[0].AsksColumns);
        // The tables of charts, the journal and the verb have it too.
        var cards = await served.Http.GetFromJsonAsync($"api/surveys/{survey.Id}/columns", SurveyJson.Default.ImmutableArrayColumnCard, Cancellation);
        Assert.Contains(cards, card => card is { Quantity: "ActivePower", Place: "Phase1" });
        var journal = await served.Http.GetFromJsonAsync<JsonElement>($"api/surveys/{survey.Id}/journal", Cancellation);
        Assert.Equal("The columns of 'week' were confirmed.", journal[0].GetProperty("says").GetString());
        var run = new CommandRun();
        await run.RunAsync("columns", Path.Combine(served.Folder, survey.Id), "--format", "json");
        using var verb = JsonDocument.Parse(run.Output);
        Assert.Equal("active-power,1,mean,kW", verb.RootElement.GetProperty("columns")[2].GetProperty("words").GetString());
        Assert.Equal("end", verb.RootElement.GetProperty("stamps").GetString());

        // Another table with these headings is read so at once.
        var other = await served.MakeAsync("Remembered");
        await served.UploadAsync($"api/surveys/{other.Id}/recordings", "next.csv", Encoding.UTF8.GetBytes(s_table));
        Assert.False((await SheetAsync(other.Id)).Recordings[0].AsksColumns);

        // What was looked at before somebody else confirmed is refused.
        using var late = await PostAsync(survey.Id, keep);
        var refused = await served.DoneAsync((await late.Content.ReadFromJsonAsync(SurveyJson.Default.WorkState, Cancellation))!);
        Assert.Contains("Someone else confirmed these columns meanwhile", refused.Problem, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_writing_of_letters_and_the_start_are_said_at_the_import_or_at_the_columns_and_hold_from_then_on()
    {
        // 'Voltage L1 (V)' in Chinese in GB 18030, over times that count from the log's own start.
        byte[] table = [.. "start (s);"u8, .. Convert.FromBase64String("tefRuUwxKFYp"), .. Encoding.ASCII.GetBytes("\n" + string.Concat(Enumerable.Range(0, 30).Select(row => $"{row * 60};{230 + (row % 3)}\n")))];
        var survey = await served.MakeAsync("Said");
        Assert.Equal("", (await served.UploadAsync($"api/surveys/{survey.Id}/recordings?encoding=gb18030&start=2026-03-02T08%3A00", "week.csv", table)).Problem);
        var match = await MatchAsync(survey.Id);
        Assert.Equal(new SaidReading { Encoding = "gb18030", Start = "2026-03-02T08:00:00" }, match.Said);
        Assert.True(match is { TakesEncoding: true, TakesStart: true });
        Assert.Contains("\u7535\u538B", match.Columns[1].Heading, StringComparison.Ordinal);
        Assert.Equal(new DateTime(2026, 3, 2, 8, 0, 0), (await SheetAsync(survey.Id)).Recordings[0].From);

        // Said otherwise at the columns: shown first, kept when it is confirmed.
        var shown = (await served.Http.GetFromJsonAsync($"api/surveys/{survey.Id}/match?again=true&encoding=windows-1252&start=2026-03-03T10:00", SurveyJson.Default.ColumnMatchSheet, Cancellation))!;
        Assert.DoesNotContain("\u7535", shown.Columns[1].Heading, StringComparison.Ordinal);
        Assert.Equal("gb18030", (await MatchAsync(survey.Id)).Said.Encoding);
        using var answer = await PostAsync(survey.Id, new ColumnMatchKeep(match.Sequence)
        {
            Columns = [new("2") { Quantity = "voltage", Place = "1", Unit = "V" }], Said = new SaidReading { Encoding = "gb18030", Start = "2026-03-03T10:00" },
        });
        Assert.Equal("", (await served.DoneAsync((await answer.Content.ReadFromJsonAsync(SurveyJson.Default.WorkState, Cancellation))!)).Problem);
        Assert.Equal(new SaidReading { Encoding = "gb18030", Start = "2026-03-03T10:00:00" }, (await MatchAsync(survey.Id)).Said);
        Assert.Equal(new DateTime(2026, 3, 3, 10, 0, 0), (await SheetAsync(survey.Id)).Recordings[0].From);
        var run = new CommandRun();
        await run.RunAsync("columns", Path.Combine(served.Folder, survey.Id), "--format", "json");
        using var verb = JsonDocument.Parse(run.Output);
        Assert.Equal("2026-03-03T10:00:00", verb.RootElement.GetProperty("from").GetString());
        // The verb keeps it as the screen does.
        run = new CommandRun();
        await run.RunAsync("columns", Path.Combine(served.Folder, survey.Id), "--log-start", "2026-03-04T10:00", "--keep");
        Assert.Equal("2026-03-04T10:00:00", (await MatchAsync(survey.Id)).Said.Start);

        using var refused = await served.Http.GetAsync($"api/surveys/{survey.Id}/match?again=true&encoding=wingdings", Cancellation);
        Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
        Assert.Contains("choose one of utf-8", await refused.Content.ReadAsStringAsync(Cancellation), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("voltage", "1", "mean", "kWh", "is no unit of this quantity")]
    [InlineData("active-energy", "1", "mean", "kWh", "stand of a counter")]
    [InlineData("brightness", "1", "mean", "", "is no quantity")]
    [InlineData("voltage", "9", "mean", "V", "is no place")]
    [InlineData("voltage-harmonic", "1", "mean", "%", "order of the harmonic")]
    public async Task What_can_t_be_is_refused_with_its_column(string quantity, string place, string statistic, string unit, string says)
    {
        var survey = await served.MakeAsync("Refused");
        await served.UploadAsync($"api/surveys/{survey.Id}/recordings", "week.csv", Encoding.UTF8.GetBytes(Table("A;B;C")));
        using var answer = await PostAsync(survey.Id, new ColumnMatchKeep(9) { Columns = [new ColumnEntry("2") { Quantity = quantity, Place = place, Statistic = statistic, Unit = unit }] });
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        var problem = await ServedFolder.ProblemAsync(answer);
        Assert.StartsWith("Column 2: ", problem.Detail, StringComparison.Ordinal);
        Assert.Contains(says, problem.Detail, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_table_of_which_no_column_was_understood_asks_what_they_hold()
    {
        var survey = await served.MakeAsync("Nothing understood");
        await served.UploadAsync($"api/surveys/{survey.Id}/recordings", "week.csv", Encoding.UTF8.GetBytes("Time;x;y\n" + string.Concat(Enumerable.Range(0, 20).Select(row => $"02.03.2026 {10 + (row / 4)}:{row % 4 * 15:00};{row % 3 + 1000};{row % 5 + 7000}\n"))));
        Assert.True((await SheetAsync(survey.Id)).Recordings[0].AsksColumns);
        var run = new CommandRun();
        await run.RunAsync("survey", "show", Path.Combine(served.Folder, survey.Id));
        Assert.Contains("Not one of them was understood", run.Output, StringComparison.Ordinal);
    }

    private static string Table(string headings) => $"Time;{headings}\n" + string.Concat(Enumerable.Range(0, 52).Select(row => string.Create(
        System.Globalization.CultureInfo.InvariantCulture, $"02.03.2026 {10 + (row / 4)}:{row % 4 * 15:00};{((row + 1) % 3) + 230},5;{(row * 7 % 11) + 20},25;ok\n")));

    private async Task<SurveySheet> SheetAsync(string id) => (await served.Http.GetFromJsonAsync($"api/surveys/{id}", SurveyJson.Default.SurveySheet, Cancellation))!;

    private async Task<ColumnMatchSheet> MatchAsync(string id) => (await served.Http.GetFromJsonAsync($"api/surveys/{id}/match", SurveyJson.Default.ColumnMatchSheet, Cancellation))!;

    private Task<HttpResponseMessage> PostAsync(string id, ColumnMatchKeep keep) =>
        served.Http.PostAsJsonAsync($"api/surveys/{id}/match", keep, SurveyJson.Default.ColumnMatchKeep, Cancellation);
}
