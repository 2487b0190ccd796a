using System.Text.Json;
using Bunit;
using Leadwright.Client.Controls;
using Leadwright.Client.Model;
using Leadwright.Client.Model.Shown;
using Leadwright.Client.Model.Waiting;
using Leadwright.Client.Pages;
using Leadwright.Client.Surveys;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Microsoft.Extensions.DependencyInjection;

namespace Leadwright.Client.Tests.Surveys;

public sealed class KeepForSurveyTests : ScreenContext
{
    private static readonly HookupKeep s_check = new(JsonDocument.Parse("""{"schema":"leadwright.check/1","verdict":"faulty"}""").RootElement, null);
    private readonly SurveyFake _api = new() { Sheet = new SurveySheet("one", "Board 1") { Service = "wye", Nominal = "230/400" }, Cards = [new SurveyCard("one", "Board 1"), new SurveyCard("two", "Board 2")] };

    public KeepForSurveyTests()
    {
        Services.AddSingleton<ISurveyApi>(_api);
        Services.AddSingleton<HookupJudge>(HookupCheck.Judge);
        Services.AddSingleton<HookupSheet>();
        Services.AddSingleton<PlanBoard>();
        JSInterop.Mode = JSRuntimeMode.Loose;
    }

    private WaitingShelf Shelf => Services.GetRequiredService<WaitingShelf>();

    [Fact]
    public async Task A_check_for_a_survey_is_kept_there_once_however_often_the_button_is_pressed()
    {
        var page = await HookupAsync("one");
        Press(page, "Keep in the survey");
        page.WaitForAssertion(() => Assert.Contains("Kept in the survey 'Board 1'", page.Find(".keep [role=status]").TextContent, StringComparison.Ordinal));
        Press(page, "Keep in the survey");
        page.WaitForAssertion(() => Assert.Contains("kept already", page.Find(".keep [role=status]").TextContent, StringComparison.Ordinal));
        var check = Assert.Single(_api.KeptChecks);
        Assert.Equal(("leadwright.check/1", "leadwright.readings/1", 32), (check.Verdict.GetProperty("schema").GetString(), check.Readings!.Value.GetProperty("schema").GetString(), check.Id.Length));
        Assert.Empty(Shelf.Items);
    }

    [Fact]
    public async Task Where_the_program_is_away_the_check_waits_with_its_survey_s_name_on_it()
    {
        var page = await HookupAsync("one");
        _api.Failure = new SurveyApiException("away") { IsAway = true };
        Press(page, "Keep in the survey");
        page.WaitForAssertion(() => Assert.Contains("once the program is in reach", page.Find(".keep [role=status]").TextContent, StringComparison.Ordinal));
        Assert.Equal(("one", "Board 1"), (Assert.Single(Shelf.Items).SurveyId, Shelf.Items[0].SurveyName));
    }

    [Fact]
    public async Task A_browser_that_refuses_to_keep_says_so_and_what_to_do_instead()
    {
        var page = await HookupAsync(null);
        Device.IsFull = true;
        Press(page, "Keep for a survey");
        page.WaitForAssertion(() => Assert.Contains("Save the readings as a file", page.Find(".keep [role=status]").TextContent, StringComparison.Ordinal));
    }

    [Fact]
    public async Task What_waits_is_listed_and_put_into_the_survey_that_is_chosen()
    {
        await Shelf.KeepAsync(s_check, "Clamp I1 faces the source.", null);
        var page = Render<SurveysPage>();
        Assert.Equal("One thing waits on this device", page.Find("#waiting-title").TextContent);
        Assert.True(Button(page, "Put it there").HasAttribute("disabled"));
        page.Find(".waiting-item select").Change("two");
        Press(page, "Put it there");
        page.WaitForAssertion(() => Assert.Contains("It is in the survey 'Board 2'.", page.Find(".waiting-list [role=status]").TextContent, StringComparison.Ordinal));
        Assert.Single(_api.KeptChecks);
    }

    [Fact]
    public async Task While_the_program_is_away_what_waits_is_shown_and_can_not_be_put_anywhere()
    {
        await Shelf.KeepAsync(s_check, "Clamp I1 faces the source.", null);
        _api.Failure = new SurveyApiException("The program does not answer.") { IsAway = true };
        var page = Render<SurveysPage>();
        Assert.Contains("Clamp I1 faces the source.", page.Find(".waiting-item").TextContent, StringComparison.Ordinal);
        Assert.True(page.Find(".waiting-item select").HasAttribute("disabled"));
    }

    [Fact]
    public async Task A_plan_over_one_that_was_changed_meanwhile_is_refused_and_can_be_put_all_the_same()
    {
        await Shelf.KeepAsync(new PlanKeep("wye", "230/400", 50) { Text = "Seven days." }, "Seven days.");
        var page = Render<SurveysPage>();
        page.Find(".waiting-item select").Change("one");
        _api.Refusal = new SurveyApiException("A. Fitter changed site or plan meanwhile.") { IsConflict = true };
        Press(page, "Put it there");
        page.WaitForAssertion(() => Assert.Contains("A. Fitter changed", page.Find(".waiting-item [role=alert]").TextContent, StringComparison.Ordinal));
        Press(page, "Put it over the survey's");
        page.WaitForAssertion(() => Assert.True(Assert.Single(_api.KeptPlans).IsOver));
        Assert.Empty(Shelf.Items);
    }

    [Fact]
    public async Task A_thing_is_thrown_away_only_when_that_is_said_twice()
    {
        await Shelf.KeepAsync(s_check, "Clamp I1 faces the source.", null);
        var list = Render<WaitingList>();
        Press(list, "Throw it away");
        Assert.Single(Shelf.Items);
        Press(list, "Really throw it away");
        list.WaitForAssertion(() => Assert.Empty(Shelf.Items));
    }

    [Fact]
    public async Task The_settings_change_what_they_show_at_once()
    {
        var page = Render<SettingsPage>();
        Assert.Equal("Dip of V2 to 161.4 V for 0.24 s. V2 lags V1 by 119.6°.", page.Find(".sample p").TextContent);
        await Services.GetRequiredService<ShownText>().ChangeAsync(new DisplaySettings());
        foreach (var choice in (int[])[1, 3, 5]) page.FindAll("input[type=radio]")[choice].Change(true);
        Assert.Equal("Sag of U2 to 161,4 V for 0,24 s. U2 lags U1 by 119,6°.", page.Find(".sample p").TextContent);
        Assert.Equal("ieee comma U", Device.Kept["leadwright.display"]);
    }

    [Fact]
    public async Task The_plan_that_a_survey_has_stands_at_its_hook_up()
    {
        _api.Sheet = _api.Sheet with { PlanText = "Interval 10 min, 7 days.", Learn = ["load", "voltage"] };
        _api.Hookups = new HookupsSheet();
        var page = Render<SurveyHookupPage>(parameters => parameters.Add(hookup => hookup.Id, "one"));
        await page.InvokeAsync(() => { });
        Assert.Contains("Interval 10 min, 7 days.", page.Find(".plan-text").TextContent, StringComparison.Ordinal);
        Assert.Contains("To learn: load, voltage.", page.Markup, StringComparison.Ordinal);
    }

    private async Task<IRenderedComponent<HookupPage>> HookupAsync(string? survey)
    {
        var sheet = Services.GetRequiredService<HookupSheet>();
        await sheet.OpenAsync();
        await sheet.ChooseServiceAsync(ServiceKind.Single);
        await sheet.TypeAsync("V1.rms", "230.4");
        await sheet.TypeAsync("I1.rms", "12.1");
        sheet.Judge();
        if (survey is not null) Services.GetRequiredService<Microsoft.AspNetCore.Components.NavigationManager>().NavigateTo($"hook-up/verdict?survey={survey}");
        return Render<HookupPage>(parameters => parameters.Add(page => page.StepName, "verdict"));
    }

    private static AngleSharp.Dom.IElement Button<T>(IRenderedComponent<T> page, string text)
        where T : Microsoft.AspNetCore.Components.IComponent => page.FindAll("button").Single(button => button.TextContent.Trim() == text);

    private static void Press<T>(IRenderedComponent<T> page, string text)
        where T : Microsoft.AspNetCore.Components.IComponent => Button(page, text).Click();
}
