using System.Text.Json;
using Leadwright.Client.Model.Waiting;
using Leadwright.Client.Surveys;
using Leadwright.Client.Tests.Surveys;

namespace Leadwright.Client.Tests.Model.Waiting;

public sealed class WaitingShelfTests
{
    private static readonly HookupKeep s_check = new(JsonDocument.Parse("""{"schema":"leadwright.check/1","verdict":"faulty"}""").RootElement, JsonDocument.Parse("""{"service":"wye","nominal":"230/400"}""").RootElement)
    {
        Told = ["rotation=abc"],
    };

    private static readonly SurveyApiException s_away = new("away") { IsAway = true };
    private readonly KeptTexts _device = new();
    private readonly SurveyFake _api = new() { Sheet = new SurveySheet("one", "Board 1") };
    private readonly WaitingShelf _shelf;

    public WaitingShelfTests() => _shelf = Shelf();

    [Fact]
    public async Task What_is_kept_is_there_after_a_reload_as_it_was()
    {
        var kept = await _shelf.KeepAsync(s_check, "Clamp I1 faces the source.", new SurveyCard("one", "Board 1"));
        await _shelf.KeepAsync(new PlanKeep("wye", "230/400", 50) { Learn = ["load"], Text = "Interval 10 min, 7 days." }, "Interval 10 min.");
        var again = Shelf();
        await again.OpenAsync();
        Assert.Equal(2, again.Items.Length);
        var check = again.Items.Single(item => item.Check is not null);
        Assert.Equal((kept!.Id, "one", "Board 1"), (check.Id, check.SurveyId, check.SurveyName));
        Assert.Equal((kept.Id, kept.Made), (check.Check!.Id, check.Check.Made));
        Assert.Equal("faulty", check.Check.Verdict.GetProperty("verdict").GetString());
        Assert.Equal(["rotation=abc"], check.Check.Told);
        Assert.Equal("Interval 10 min, 7 days.", again.Items.Single(item => item.Plan is not null).Plan!.Text);
    }

    [Fact]
    public async Task It_stays_while_the_program_is_away_and_goes_once_the_survey_has_it()
    {
        var item = await _shelf.KeepAsync(s_check, "Faulty.", new SurveyCard("one", "Board 1"));
        _api.Failure = s_away;
        Assert.Empty(await _shelf.PutKnownAsync(TestContext.Current.CancellationToken));
        Assert.Equal([item!.Id], _shelf.Items.Select(waiting => waiting.Id));
        Assert.Equal("", _shelf.Items[0].Problem);
        _api.Failure = null;
        Assert.Equal([item.Id], (await _shelf.PutKnownAsync(TestContext.Current.CancellationToken)).Select(put => put.Id));
        Assert.Empty(_shelf.Items);
        Assert.Equal(item.Id, Assert.Single(_api.KeptChecks).Id);
    }

    [Fact]
    public async Task A_thing_without_a_survey_waits_for_a_person()
    {
        await _shelf.KeepAsync(s_check, "Faulty.", null);
        Assert.Empty(await _shelf.PutKnownAsync(TestContext.Current.CancellationToken));
        Assert.Single(_shelf.Items);
        Assert.Empty(_api.KeptChecks);
    }

    [Fact]
    public async Task A_refusal_stands_with_the_thing_and_it_is_not_sent_again_by_itself()
    {
        await _shelf.KeepAsync(new PlanKeep("wye", "230/400", 50), "Plan.");
        _api.Refusal = new SurveyApiException("Somebody changed the plan meanwhile.") { IsConflict = true };
        await Assert.ThrowsAsync<SurveyApiException>(() => _shelf.PutAsync(_shelf.Items[0], new SurveyCard("one", "Board 1"), cancellation: TestContext.Current.CancellationToken));
        Assert.Equal(("Somebody changed the plan meanwhile.", true), (_shelf.Items[0].Problem, _shelf.Items[0].IsConflict));
        Assert.Empty(await _shelf.PutKnownAsync(TestContext.Current.CancellationToken));
        await _shelf.PutAsync(_shelf.Items[0], new SurveyCard("one", "Board 1"), isOver: true, TestContext.Current.CancellationToken);
        Assert.True(Assert.Single(_api.KeptPlans).IsOver);
        Assert.Empty(_shelf.Items);
    }

    [Fact]
    public async Task A_new_survey_is_made_once_even_if_the_thing_did_not_arrive()
    {
        var item = await _shelf.KeepAsync(s_check, "Faulty.", null);
        _api.Refusal = s_away;
        await Assert.ThrowsAsync<SurveyApiException>(() => _shelf.PutIntoNewAsync(item!, "Board 1", TestContext.Current.CancellationToken));
        Assert.Equal("one", _shelf.Items[0].SurveyId);
        Assert.Single(await _shelf.PutKnownAsync(TestContext.Current.CancellationToken));
        var made = Assert.Single(_api.Made);
        Assert.Equal(("Board 1", "wye", "230/400"), (made.Name, made.Service, made.Nominal));
        Assert.Equal(item!.Id, Assert.Single(_api.KeptChecks).Id);
    }

    [Fact]
    public async Task A_device_that_refuses_is_said_to_refuse()
    {
        _device.IsFull = true;
        Assert.Null(await _shelf.KeepAsync(s_check, "Faulty.", null));
    }

    [Fact]
    public async Task Two_windows_do_not_overwrite_each_other()
    {
        var other = Shelf();
        await other.OpenAsync();
        await _shelf.KeepAsync(s_check, "One.", null);
        await other.KeepAsync(s_check, "Two.", null);
        await _shelf.OpenAsync();
        Assert.Equal(["One.", "Two."], _shelf.Items.Select(item => item.Says).Order());
    }

    [Fact]
    public async Task What_can_not_be_read_is_left_alone()
    {
        _device.Kept["leadwright.waiting.x"] = "{\"id\":";
        _device.Kept["leadwright.waiting.y"] = "{}";
        await _shelf.OpenAsync();
        Assert.Empty(_shelf.Items);
        Assert.Equal(2, _device.Kept.Count);
    }

    private WaitingShelf Shelf() => new(_device, _api, TimeProvider.System);
}
