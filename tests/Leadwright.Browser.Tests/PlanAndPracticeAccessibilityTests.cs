using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class PlanAndPracticeAccessibilityTests(BrowserFixture browser)
{
    [Theory]
    [InlineData(390, ColorScheme.Light)]
    [InlineData(390, ColorScheme.Dark)]
    [InlineData(1280, ColorScheme.Light)]
    [InlineData(1280, ColorScheme.Dark)]
    public async Task No_step_breaks_a_rule_that_axe_knows(int width, ColorScheme scheme)
    {
        var size = width == 390 ? ScreenSize.Phone : ScreenSize.Desk;
        await using var screen = await browser.OpenAsync(size, scheme, bypassesPolicy: true);
        var found = new List<string>();
        await new PlanScreen(screen, size).WalkAsync(CheckAsync);
        var practice = new PracticeScreen(screen, size);
        await practice.WalkAsync(CheckAsync);
        await practice.BeginAsync("Lead or supply?", "2");
        await CheckAsync("strip");
        Assert.Empty(found);

        async Task CheckAsync(string step)
        {
            var result = await screen.Page.RunAxe();
            found.AddRange(result.Violations.SelectMany(
                violation => violation.Nodes.Select(node => $"{step}: {violation.Id}: {violation.Help}: {node.Html}")));
        }
    }

    [Theory]
    [InlineData(390)]
    [InlineData(320)]
    public async Task No_step_scrolls_sideways_on_a_phone(int width)
    {
        var size = width == 390 ? ScreenSize.Phone : ScreenSize.SmallPhone;
        await using var screen = await browser.OpenAsync(size);
        var wide = new List<string>();
        await new PlanScreen(screen, size).WalkAsync(CheckAsync);
        await new PracticeScreen(screen, size).WalkAsync(CheckAsync);
        Assert.Empty(wide);

        async Task CheckAsync(string step)
        {
            var content = await screen.Page.EvaluateAsync<int>("() => document.documentElement.scrollWidth");
            if (content > width) wide.Add($"{step}: {content} px");
        }
    }

    [Fact]
    public async Task Every_target_on_a_phone_is_large_enough_for_gloves()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        var small = new List<string>();
        await new PlanScreen(screen, ScreenSize.Phone).WalkAsync(CheckAsync);
        var practice = new PracticeScreen(screen, ScreenSize.Phone);
        await practice.WalkAsync(CheckAsync);
        await practice.BeginAsync("A panel with hidden faults", "2");
        await screen.Page.GetByRole(AriaRole.Button, new() { NameString = "Hand meter" }).ClickAsync();
        await CheckAsync("actions");
        Assert.Empty(small);

        async Task CheckAsync(string step) => small.AddRange(
            (await screen.Page.EvaluateAsync<string[]>(AccessibilityTests.SmallTargets, AccessibilityTests.SmallestTarget)).Select(target => $"{step}: {target}"));
    }
}
