using System.Globalization;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

/// <summary>Holds what is on the screen against the rules of access, step by step, and gathers what breaks one.</summary>
/// <param name="page">The page; its context bypasses the page's own policy, since axe is a script from outside.</param>
internal sealed class AccessWalk(IPage page)
{
    private const int SmallestTarget = 48;

    // What a finger is meant to hit: for a radio, a check box or a file picker that is its label or area; a block of the watch strip may be narrow, and is in the list below it as well.
    private const string SmallTargets = """
        least => [...document.querySelectorAll('a, button, select, summary, textarea, input:not([type=radio]):not([type=checkbox]):not([type=file]), label.choice')]
            .filter(element => element.checkVisibility() && !element.matches('.skip'))
            .map(element => [element, element.getBoundingClientRect()])
            .filter(([, box]) => box.width > 0 && (box.height < least - 0.5 || box.width < least - 0.5))
            .map(([element, box]) => `${element.tagName} '${(element.textContent || element.id).trim()}' ${box.width} x ${box.height}`)
        """;

    // The two themes differ in their colours and in nothing else: the rest of the rules need one of them.
    private static readonly List<string> s_colourRules = ["color-contrast", "link-in-text-block"];

    /// <summary>What broke a rule.</summary>
    public List<string> Found { get; } = [];

    /// <summary>How many steps were looked at: a walk that stood still proves nothing.</summary>
    public int StepCount { get; private set; }

    /// <summary>Looks at the screen as it is, in both themes.</summary>
    /// <param name="step">What to call it.</param>
    public async Task LookAsync(string step)
    {
        StepCount++;
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
        await AxeAsync($"{step}, light", new AxeRunOptions { Iframes = false });
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
        await AxeAsync($"{step}, dark", new AxeRunOptions { Iframes = false, RunOnly = new RunOnlyOptions { Type = "rule", Values = s_colourRules } });
    }

    /// <summary>Looks whether the screen is wider than the window, and at the windows of further widths.</summary>
    /// <param name="step">What to call it.</param>
    /// <param name="widths">Widths in CSS pixels; the window is as it was afterwards.</param>
    public async Task LookForWidthAsync(string step, params int[] widths)
    {
        var size = page.ViewportSize!;
        foreach (var width in widths)
        {
            if (width != size.Width) await page.SetViewportSizeAsync(width, size.Height);
            var content = await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth");
            if (content > width) Found.Add(string.Create(CultureInfo.InvariantCulture, $"{step}: {content} px in a window of {width}"));
        }

        await page.SetViewportSizeAsync(size.Width, size.Height);
    }

    /// <summary>Looks for targets that are too small for gloves.</summary>
    /// <param name="step">What to call it.</param>
    public async Task LookForTargetsAsync(string step) =>
        Found.AddRange((await page.EvaluateAsync<string[]>(SmallTargets, SmallestTarget)).Select(target => $"{step}: small: {target}"));

    private async Task AxeAsync(string step, AxeRunOptions options)
    {
        var result = await page.RunAxe(options);
        Assert.NotEmpty(result.Passes);
        Found.AddRange(result.Violations.SelectMany(violation => violation.Nodes.Select(node => $"{step}: {violation.Id}: {violation.Help}: {node.Html}")));
    }
}
