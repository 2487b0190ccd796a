using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class TwoWindowsTests(BrowserFixture browser, DemoSurveyProgram demo) : IClassFixture<DemoSurveyProgram>
{
    [Fact]
    public async Task Two_windows_on_one_report_lose_nothing_and_the_second_is_told_who_wrote_meanwhile()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk);
        var first = screen.Page;
        await demo.GoAsync(first, "report");
        var second = await first.Context.NewPageAsync();
        await demo.GoAsync(second, "report");

        await first.GetByLabel("Customer", new() { Exact = true }).FillAsync("Written in the first");
        await first.Keyboard.PressAsync("Tab");
        await Assertions.Expect(first.Locator(".kept")).ToContainTextAsync("Kept at");

        // The same field from what was seen before: refused, with what stands there, and what was typed is still in the field.
        await second.GetByLabel("Customer", new() { Exact = true }).FillAsync("Written in the second");
        await second.Keyboard.PressAsync("Tab");
        var refusal = second.Locator(".word-field [role=alert], .fields [role=alert]").First;
        await Assertions.Expect(refusal).ToContainTextAsync("Written in the first", new() { Timeout = 30_000 });
        await Assertions.Expect(second.GetByLabel("Customer", new() { Exact = true })).ToHaveValueAsync("Written in the second");

        // Another field is no conflict, and both windows' words stand in the end.
        await second.GetByLabel("Written by", new() { Exact = true }).FillAsync("B. Writer");
        await second.Keyboard.PressAsync("Tab");
        await Assertions.Expect(second.Locator(".kept")).ToContainTextAsync("Kept at");
        await demo.GoAsync(first, "report");
        await Assertions.Expect(first.GetByLabel("Customer", new() { Exact = true })).ToHaveValueAsync("Written in the first");
        await Assertions.Expect(first.GetByLabel("Written by", new() { Exact = true })).ToHaveValueAsync("B. Writer");
    }

    [Fact]
    public async Task A_layer_switched_in_one_window_is_not_switched_over_unseen_in_the_other()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk);
        var first = screen.Page;
        await demo.GoAsync(first, "mend");
        var second = await first.Context.NewPageAsync();
        await demo.GoAsync(second, "mend");
        await SwitchAsync(first, "Seen in the first.");
        await Assertions.Expect(first.Locator(".journal")).ToContainTextAsync("Seen in the first.", new() { Timeout = 60_000 });
        await SwitchAsync(second, "From what was seen before.");
        await Assertions.Expect(second.Locator("[role=alert]").First).ToContainTextAsync("meanwhile", new() { Timeout = 60_000 });
        await demo.GoAsync(second, "mend");
        await Assertions.Expect(second.Locator(".journal")).Not.ToContainTextAsync("From what was seen before.");
        await Assertions.Expect(second.Locator("[role=switch]").First).ToHaveAttributeAsync("aria-checked", "false");
    }

    [Fact]
    public async Task A_reload_in_the_middle_of_the_work_goes_on_with_it()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        await screen.Page.GotoAsync(new Uri(demo.Address, "surveys/invented-workshop/study").ToString());
        await screen.Page.Locator(".wait-plate, #limits-title").First.WaitForAsync();
        await screen.Page.ReloadAsync();
        await DemoSurveyProgram.ReadyAsync(screen.Page, "study");
    }

    private static async Task SwitchAsync(IPage page, string why)
    {
        await page.Locator("[role=switch]").First.ClickAsync();
        await page.Locator("#why").FillAsync(why);
        await page.Locator("form.why button[type=submit]").ClickAsync();
    }
}
