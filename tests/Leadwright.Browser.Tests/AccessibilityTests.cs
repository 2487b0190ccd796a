using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class AccessibilityTests(BrowserFixture browser)
{
    internal const int SmallestTarget = 48;

    // Everything that a finger is meant to hit: for a radio, a check box or the file picker that is its label or area.
    internal const string SmallTargets = """
        least => [...document.querySelectorAll('a, button, select, summary, input:not([type=radio]):not([type=checkbox]), label.choice')]
            .filter(element => element.checkVisibility() && !element.matches('.skip'))
            .map(element => [element, element.getBoundingClientRect()])
            .filter(([, box]) => box.width > 0 && (box.height < least - 0.5 || box.width < least - 0.5))
            .map(([element, box]) => `${element.tagName} '${(element.textContent || element.id).trim()}' ${box.width} x ${box.height}`)
        """;

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
        await screen.AnswerAllAsync(CheckAsync);
        await screen.GoAsync("hook-up/service?demo");
        await screen.Page.Locator(".panel").First.WaitForAsync();
        await CheckAsync("demo");
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
        await using var screen = await browser.OpenAsync(width == 390 ? ScreenSize.Phone : ScreenSize.SmallPhone);
        var wide = new List<string>();
        await screen.AnswerAllAsync(async step =>
        {
            var content = await screen.Page.EvaluateAsync<int>("() => document.documentElement.scrollWidth");
            if (content > width) wide.Add($"{step}: {content} px");
        });
        Assert.Empty(wide);
    }

    [Fact]
    public async Task Every_target_on_a_phone_is_large_enough_for_gloves()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        var small = new List<string>();
        await screen.AnswerAllAsync(CheckAsync);
        await screen.GoAsync("hook-up/service?demo");
        await screen.Page.Locator(".panel").First.WaitForAsync();
        await CheckAsync("demo");
        Assert.Empty(small);

        async Task CheckAsync(string step) => small.AddRange(
            (await screen.Page.EvaluateAsync<string[]>(SmallTargets, SmallestTarget)).Select(target => $"{step}: {target}"));
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
