using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class SettingsTests(BrowserFixture browser, DemoSurveyProgram demo) : IClassFixture<DemoSurveyProgram>
{
    [Fact]
    public async Task Numbers_are_written_as_the_browser_s_language_writes_them_until_it_is_chosen_otherwise()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk, locale: "de-DE");
        var page = screen.Page;
        await demo.GoAsync(page, "study");
        var energy = page.Locator(".energy .figure", new() { HasText = "Load factor" }).Locator(".figure-value");
        Assert.Matches("^0,\\d+$", await energy.InnerTextAsync());
        await page.GetByRole(AriaRole.Link, new() { NameString = "Settings of this device" }).ClickAsync();
        await page.GetByRole(AriaRole.Radio, new() { NameString = "Point" }).CheckAsync();
        await page.GetByRole(AriaRole.Radio, new() { NameString = "U U1" }).CheckAsync();
        await page.GetByRole(AriaRole.Radio, new() { NameString = "IEEE" }).CheckAsync();
        await Assertions.Expect(page.Locator(".sample p")).ToHaveTextAsync("Sag of U2 to 161.4 V for 0.24 s. U2 lags U1 by 119.6°.");

        // Kept over a reload; the charts follow, and the table that is saved does not.
        await demo.GoAsync(page, "study");
        Assert.Matches("^0\\.\\d+$", await energy.InnerTextAsync());
        await page.Locator("#pick-column").SelectOptionAsync("Voltage");
        await page.Locator(".charts .twin summary").First.ClickAsync();
        await Assertions.Expect(page.Locator(".charts tbody th").First).ToHaveTextAsync("Voltage U1");
        var table = await page.APIRequest.GetAsync(new Uri(demo.Address, "api/surveys/invented-workshop/table.csv").ToString());
        Assert.Contains("V1", (await table.TextAsync())[..2000], StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_verdict_is_read_with_a_decimal_comma_and_what_is_saved_keeps_the_point()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk, locale: "fr-FR");
        await screen.AnswerAllAsync();
        await Assertions.Expect(screen.Page.Locator(".drawings")).ToBeVisibleAsync();
        var verdict = await screen.Page.Locator("article.verdict").InnerTextAsync();
        Assert.DoesNotMatch("\\d,\\d{3}\\b to 1", verdict);
        Assert.DoesNotMatch("\\d\\.\\d+ ?(°|%|V|A)", verdict);
        var saved = await screen.Page.RunAndWaitForDownloadAsync(() => screen.Page.GetByRole(AriaRole.Button, new() { NameString = "Save readings.json" }).ClickAsync());
        Assert.Contains("231.2", await File.ReadAllTextAsync((await saved.PathAsync())!, TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(390)]
    [InlineData(1280)]
    public async Task The_settings_break_no_rule_of_access(int width)
    {
        await using var screen = await browser.OpenAsync(width == 390 ? ScreenSize.Phone : ScreenSize.Desk, bypassesPolicy: true);
        await screen.GoAsync("settings");
        var walk = new AccessWalk(screen.Page);
        await walk.LookAsync("settings");
        if (width == 390) await walk.LookForTargetsAsync("settings");
        await walk.LookForWidthAsync("settings", width, width == 390 ? 320 : 640);
        Assert.Empty(walk.Found);
    }
}
