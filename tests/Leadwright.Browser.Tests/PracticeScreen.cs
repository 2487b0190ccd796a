using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

/// <summary>The practice screen as a person works it.</summary>
/// <param name="screen">The page.</param>
/// <param name="size">The window.</param>
internal sealed class PracticeScreen(HookupScreen screen, ScreenSize size)
{
    public IPage Page => screen.Page;

    public ILocator Plate => Page.Locator(".verdict-plate .word");

    /// <summary>Begins an exercise.</summary>
    /// <param name="form">The title of its form.</param>
    /// <param name="seed">Its number.</param>
    public async Task BeginAsync(string form, string seed)
    {
        await screen.GoAsync("practice");
        await Page.GetByRole(AriaRole.Radio, new() { NameString = form }).First.CheckAsync();
        await Page.GetByLabel("Number of the exercise; empty for any").FillAsync(seed);
        await Page.GetByRole(AriaRole.Button, new() { NameString = "Begin" }).ClickAsync();
        await Page.Locator("#title-look").WaitForAsync();
    }

    /// <summary>Goes on to the next question; on a desk all are there.</summary>
    public async Task OnAsync()
    {
        if (size.IsPhone) await Page.Locator("nav.steps .button").Last.ClickAsync();
    }

    /// <summary>Says that everything is where it belongs.</summary>
    public async Task PlaceAllAsync()
    {
        foreach (var lead in new[] { "V1", "V2", "V3", "VN" }) await PickAsync($"place-{lead}", "123N".IndexOf(lead[1], StringComparison.Ordinal));
        foreach (var clamp in new[] { "I1", "I2", "I3" })
        {
            await PickAsync($"place-{clamp}", "123N".IndexOf(clamp[1], StringComparison.Ordinal));
            await PickAsync($"way-{clamp}", 0);
        }
    }

    public Task PickAsync(string name, int index) => Page.Locator($"input[name='{name}']").Nth(index).CheckAsync();

    /// <summary>Says how sure, and has it marked.</summary>
    /// <param name="percent">How sure.</param>
    public async Task MarkAsync(string percent)
    {
        await Page.GetByRole(AriaRole.Radio, new() { NameString = $"{percent} %" }).First.CheckAsync();
        await Page.Locator("button:visible", new() { HasText = "Mark it" }).First.ClickAsync();
        await Plate.WaitForAsync();
    }

    /// <summary>An exercise from its choice to its mark.</summary>
    /// <param name="atStep">Called at each question, when its answers are given.</param>
    public async Task WalkAsync(Func<string, Task> atStep)
    {
        await screen.GoAsync("practice");
        await atStep("choose");
        await BeginAsync("Name the fault", "12");
        await atStep("look");
        await OnAsync();
        if (!size.IsPhone) await Page.Locator("input[name=place-V1]").First.WaitForAsync();
        if (await Page.Locator("input[name=place-VN]").CountAsync() > 0) await PlaceAllAsync();
        await atStep("answer");
        await OnAsync();
        await Page.GetByRole(AriaRole.Radio, new() { NameString = "80 %" }).First.CheckAsync();
        await atStep("sure");
        await MarkAsync("80");
        await Page.Locator(".known").WaitForAsync(new() { Timeout = 120_000 });
        await atStep("mark");
    }
}
