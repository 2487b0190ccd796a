using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class AccessibilityTests(BrowserFixture browser)
{
    [Fact]
    public async Task On_a_phone_no_step_of_hook_up_plan_or_practice_breaks_a_rule_of_access()
    {
        var size = ScreenSize.Phone;
        await using var screen = await browser.OpenAsync(size, bypassesPolicy: true);
        var walk = new AccessWalk(screen.Page);
        await screen.AnswerAllAsync(LookAsync);
        await screen.GoAsync("hook-up/service?demo");
        await screen.Page.Locator(".panel").First.WaitForAsync();
        await LookAsync("demo");
        await new PlanScreen(screen, size).WalkAsync(LookAsync);
        var practice = new PracticeScreen(screen, size);
        await practice.WalkAsync(LookAsync);
        await practice.BeginAsync("Lead or supply?", "2");
        await LookAsync("strip");
        await practice.BeginAsync("A panel with hidden faults", "2");
        await screen.Page.GetByRole(AriaRole.Button, new() { NameString = "Hand meter" }).ClickAsync();
        await LookAsync("actions");
        Assert.Empty(walk.Found);
        Assert.True(walk.StepCount >= 16, $"{walk.StepCount} steps");

        async Task LookAsync(string step)
        {
            await walk.LookAsync(step);
            await walk.LookForTargetsAsync(step);
            await walk.LookForWidthAsync(step, 390, 320);
        }
    }

    [Fact]
    public async Task On_a_desk_where_all_questions_are_there_at_once_none_breaks_a_rule_of_access()
    {
        var size = ScreenSize.Desk;
        await using var screen = await browser.OpenAsync(size, bypassesPolicy: true);
        var walk = new AccessWalk(screen.Page);
        await screen.AnswerAllAsync(step => step is "readings" or "verdict" ? walk.LookAsync(step) : Task.CompletedTask);
        await new PlanScreen(screen, size).WalkAsync(step => step == "sheet" ? walk.LookAsync(step) : Task.CompletedTask);
        await new PracticeScreen(screen, size).WalkAsync(step => step is "choose" or "sure" or "mark" ? walk.LookAsync(step) : Task.CompletedTask);
        Assert.Empty(walk.Found);
        Assert.Equal(6, walk.StepCount);
    }

    [Fact]
    public async Task A_new_question_takes_the_focus_to_its_heading()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        await screen.GoAsync("hook-up");
        await screen.ChooseAsync("Single-phase, 2-wire One line and neutral");
        await screen.OnAsync();
        await Assertions.Expect(screen.Page.Locator("#title-site")).ToBeFocusedAsync();
    }
}
