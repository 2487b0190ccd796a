using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class OfflineTests(BrowserFixture browser)
{
    [Fact]
    public async Task After_the_first_visit_check_plan_and_practice_open_and_work_with_the_server_stopped()
    {
        await using var program = await ServedProgram.StartAsync(TestContext.Current.CancellationToken);
        await using var opened = await browser.OpenAsync(ScreenSize.Phone);
        await using var screen = new HookupScreen(opened.Page, ScreenSize.Phone, program.Address);
        await VisitAsync(screen);
        await program.StopAsync();

        await screen.AnswerAllAsync();
        Assert.Equal("Faulty", await screen.Plate.InnerTextAsync(), ignoreCase: true);
        await new PlanScreen(screen, ScreenSize.Phone).WalkAsync(_ => Task.CompletedTask);
        await Assertions.Expect(screen.Page.Locator("article.sheet")).ToContainTextAsync("Mill, north board");
        await new PracticeScreen(screen, ScreenSize.Phone).WalkAsync(_ => Task.CompletedTask);
        await Assertions.Expect(screen.Page.Locator("article.mark")).ToContainTextAsync("The truth");
        await Assert.ThrowsAnyAsync<PlaywrightException>(() => screen.Page.APIRequest.GetAsync(program.Address.ToString()));
    }

    [Fact]
    public async Task What_was_made_without_a_connection_is_put_into_its_survey_once_when_the_program_is_back()
    {
        var folder = Directory.CreateTempSubdirectory("leadwright-waits-");
        try
        {
            var data = Path.Combine(folder.FullName, "surveys");
            var first = await ServedProgram.StartAsync(TestContext.Current.CancellationToken, "--data", data);
            await using var opened = await browser.OpenAsync(ScreenSize.Phone);
            await using var screen = new HookupScreen(opened.Page, ScreenSize.Phone, first.Address);
            var page = screen.Page;
            await VisitAsync(screen);
            await first.StopAsync();
            await first.DisposeAsync();

            // At the panel: a check and a plan, and a reload between them.
            await screen.AnswerAllAsync();
            await KeepAsync(page);
            await page.ReloadAsync();
            await Assertions.Expect(page.Locator(".waits")).ToContainTextAsync("One thing waits");
            await new PlanScreen(screen, ScreenSize.Phone).WalkAsync(_ => Task.CompletedTask);
            await KeepAsync(page);
            await page.GetByRole(AriaRole.Button, new() { NameString = "Keep for a survey" }).ClickAsync();
            await Assertions.Expect(page.Locator(".keep [role=status]")).ToContainTextAsync("kept already");
            await screen.GoAsync("surveys");
            await Assertions.Expect(page.Locator(".waiting-item")).ToHaveCountAsync(2);
            await Assertions.Expect(page.Locator(".wait-plate")).ToContainTextAsync("does not answer");

            // In the van: the program is started again, at the same address.
            await using var second = await ServedProgram.StartAtAsync(first.Address.Port, TestContext.Current.CancellationToken, "--data", data);
            await page.GetByRole(AriaRole.Button, new() { NameString = "Try again" }).ClickAsync();
            var check = page.Locator(".waiting-item", new() { HasText = "Hook-up check" });
            await check.Locator("select").SelectOptionAsync(new SelectOptionValue { Label = "A new survey" });
            await check.Locator("input").FillAsync("Mill");
            await check.GetByRole(AriaRole.Button, new() { NameString = "Put it there" }).ClickAsync();
            await Assertions.Expect(page.Locator(".waiting-item")).ToHaveCountAsync(1);
            var plan = page.Locator(".waiting-item", new() { HasText = "Plan" });
            await plan.Locator("select").SelectOptionAsync(new SelectOptionValue { Label = "Mill" });
            await plan.GetByRole(AriaRole.Button, new() { NameString = "Put it" }).First.ClickAsync();

            // The survey was made after the plan, from the check: nobody wrote a plan meanwhile, so it is taken.
            await Assertions.Expect(page.Locator(".waiting-item")).ToHaveCountAsync(0);
            await page.GetByRole(AriaRole.Link, new() { NameString = "Mill", Exact = true }).ClickAsync();
            await page.Locator("nav.screens a[href$='/hook-up']").Last.ClickAsync();
            await Assertions.Expect(page.Locator(".history .check")).ToHaveCountAsync(1);
            await Assertions.Expect(page.Locator(".plan-text")).ToContainTextAsync("7 days");
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public async Task A_check_for_a_named_survey_that_finds_nobody_goes_there_by_itself_later_and_stands_there_once()
    {
        var folder = Directory.CreateTempSubdirectory("leadwright-named-");
        try
        {
            var data = Path.Combine(folder.FullName, "surveys");
            var first = await ServedProgram.StartAsync(TestContext.Current.CancellationToken, "--demo", "--data", data);
            await using var opened = await browser.OpenAsync(ScreenSize.Desk);
            await using var screen = new HookupScreen(opened.Page, ScreenSize.Desk, first.Address);
            var page = screen.Page;
            await VisitAsync(screen);
            await page.GotoAsync(new Uri(first.Address, "surveys/invented-workshop/hook-up").ToString());
            await page.Locator("#checks-title").WaitForAsync();
            var before = await page.Locator(".history .check").CountAsync();
            await page.GetByRole(AriaRole.Link, new() { NameString = "Check it again" }).Or(page.GetByRole(AriaRole.Link, new() { NameString = "Check the hook-up" })).First.ClickAsync();
            await page.Locator(".for-survey").WaitForAsync();
            await screen.TypeAsync(HookupScreen.TwelveNumbers);
            await screen.Plate.WaitForAsync();
            await first.StopAsync();
            await first.DisposeAsync();
            await page.GetByRole(AriaRole.Button, new() { NameString = "Keep in the survey" }).ClickAsync();
            await Assertions.Expect(page.Locator(".keep [role=status]")).ToContainTextAsync("once the program is in reach");

            await using var second = await ServedProgram.StartAtAsync(first.Address.Port, TestContext.Current.CancellationToken, "--demo", "--data", data);
            await page.GotoAsync(new Uri(second.Address, "surveys").ToString());
            await Assertions.Expect(page.Locator(".put")).ToContainTextAsync("is in the survey", new() { Timeout = 60_000 });
            await Assertions.Expect(page.Locator(".waits")).ToHaveCountAsync(0);
            await page.GotoAsync(new Uri(second.Address, "surveys/invented-workshop/hook-up").ToString());
            await Assertions.Expect(page.Locator(".history .check")).ToHaveCountAsync(before + 1);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task KeepAsync(IPage page)
    {
        await page.GetByRole(AriaRole.Button, new() { NameString = "Keep for a survey" }).ClickAsync();
        await Assertions.Expect(page.Locator(".keep [role=status]")).ToContainTextAsync("Kept on this device");
    }

    // The worker takes over only when every file is kept.
    private static async Task VisitAsync(HookupScreen screen)
    {
        await screen.GoAsync("hook-up");
        await screen.Page.WaitForFunctionAsync("() => navigator.serviceWorker.controller !== null", null, new() { Timeout = 120_000 });
    }
}
