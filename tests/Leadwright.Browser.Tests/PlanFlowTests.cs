using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class PlanFlowTests(BrowserFixture browser)
{
    [Theory]
    [InlineData(390)]
    [InlineData(1280)]
    public async Task A_plan_leads_to_a_sheet_that_says_what_does_not_fit(int width)
    {
        var size = width == 390 ? ScreenSize.Phone : ScreenSize.Desk;
        await using var screen = await browser.OpenAsync(size);
        var plan = new PlanScreen(screen, size);
        await plan.WalkAsync(_ => Task.CompletedTask);

        // 36 kW at 400 V are some 55 A: a twentieth of 1000 A.
        Assert.Contains("% of the clamps' range", await screen.Page.Locator(".unfit").InnerTextAsync(), StringComparison.Ordinal);
        var sheet = await screen.Page.Locator("article.sheet").InnerTextAsync();
        Assert.Contains("207 to 253 V", sheet, StringComparison.Ordinal);
        Assert.Contains("7 days", sheet, StringComparison.Ordinal);
        Assert.Equal(4, await screen.Page.Locator("article.sheet svg [data-lead]").CountAsync());
    }

    [Fact]
    public async Task On_paper_only_the_sheet_is_there_with_boxes_to_write_in()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk);
        var plan = new PlanScreen(screen, ScreenSize.Desk);
        await plan.WalkAsync(_ => Task.CompletedTask);
        await Assertions.Expect(screen.Page.Locator("td.box").First).ToBeHiddenAsync();
        await screen.Page.EmulateMediaAsync(new() { Media = Media.Print });
        await Assertions.Expect(screen.Page.Locator("td.box").First).ToBeVisibleAsync();
        foreach (var gone in new[] { ".rail", ".asked", ".keep", "nav.steps" })
            await Assertions.Expect(screen.Page.Locator(gone).First).ToBeHiddenAsync();
        await Assertions.Expect(screen.Page.Locator("article.sheet")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_plan_survives_a_reload()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        await new PlanScreen(screen, ScreenSize.Phone).WalkAsync(_ => Task.CompletedTask);
        await screen.Page.ReloadAsync();
        await Assertions.Expect(screen.Page.Locator("article.sheet")).ToContainTextAsync("Mill, north board");
    }
}
