using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class PracticeFlowTests(BrowserFixture browser)
{
    [Theory]
    [InlineData(390)]
    [InlineData(1280)]
    public async Task An_exercise_is_answered_and_marked_with_the_truth_and_what_could_be_known(int width)
    {
        var size = width == 390 ? ScreenSize.Phone : ScreenSize.Desk;
        await using var screen = await browser.OpenAsync(size);
        var practice = new PracticeScreen(screen, size);
        await practice.WalkAsync(_ => Task.CompletedTask);
        Assert.Contains(await practice.Plate.InnerTextAsync(), new[] { "Right", "Not right" }, StringComparer.OrdinalIgnoreCase);
        Assert.Contains("could", await screen.Page.Locator(".known").InnerTextAsync(), StringComparison.Ordinal);
        Assert.Equal(7, await screen.Page.Locator(".devices li").CountAsync());

        // The score is kept on the device.
        await screen.GoAsync("practice");
        await Assertions.Expect(screen.Page.Locator(".scores tbody tr")).ToHaveCountAsync(1);
    }

    [Fact]
    public async Task A_switched_load_is_found_and_costs_its_points()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        var practice = new PracticeScreen(screen, ScreenSize.Phone);
        await practice.BeginAsync("A plausible total", "4");
        await screen.Page.GetByRole(AriaRole.Button, new() { NameString = "Switch a heater on" }).ClickAsync();
        await screen.Page.GetByRole(AriaRole.Button, new() { NameString = "Switch a heater on, conductor A to neutral" }).ClickAsync();
        var found = await screen.Page.Locator(".found li").First.InnerTextAsync();
        Assert.Matches("clamp I[123] (rises|falls)", found);

        // With everything right the load on A moves clamp I1; moved on and turned, I3.
        var isRight = found.Contains("clamp I1 rises", StringComparison.Ordinal);
        await practice.OnAsync();
        await screen.Page.GetByRole(AriaRole.Radio, new() { NameString = isRight ? "The hook-up is right" : "Each clamp is one conductor on" }).First.CheckAsync();
        await practice.OnAsync();
        await practice.MarkAsync("99");
        Assert.Equal("Right", await practice.Plate.InnerTextAsync(), ignoreCase: true);

        // 60 for the answer, 40 for 99 %, less 2 for the reading.
        Assert.Equal("98", await screen.Page.Locator(".points strong").InnerTextAsync());
    }

    [Fact]
    public async Task An_answer_in_the_making_survives_a_reload()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        var practice = new PracticeScreen(screen, ScreenSize.Phone);
        await practice.BeginAsync("Name the fault", "12");
        await practice.OnAsync();
        await practice.PickAsync("place-V2", 2);
        await screen.Page.ReloadAsync();
        await Assertions.Expect(screen.Page.Locator("input[name=place-V2]").Nth(2)).ToBeCheckedAsync();
    }

    [Fact]
    public async Task An_exercise_is_done_with_the_keyboard_alone()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk);
        var practice = new PracticeScreen(screen, ScreenSize.Desk);
        await practice.BeginAsync("What can still be saved?", "3");
        await screen.Page.Locator("#title-look").FocusAsync();
        await TabToAsync(screen.Page, "input[type=radio]");
        await screen.Page.Keyboard.PressAsync("Space");
        await TabToAsync(screen.Page, ".sureness input");
        await screen.Page.Keyboard.PressAsync("Space");
        await TabToAsync(screen.Page, "button.desk-only");
        await screen.Page.Keyboard.PressAsync("Enter");
        await practice.Plate.WaitForAsync();
    }

    private static async Task TabToAsync(IPage page, string selector)
    {
        for (var press = 0; press < 40; press++)
        {
            await page.Keyboard.PressAsync("Tab");
            if (await page.EvaluateAsync<bool>("selector => document.activeElement.matches(selector)", selector)) return;
        }

        Assert.Fail($"Forty presses of Tab do not lead to {selector}.");
    }
}
