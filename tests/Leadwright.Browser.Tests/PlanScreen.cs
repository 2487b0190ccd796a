using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

/// <summary>The plan screen as a person works it.</summary>
/// <param name="screen">The page.</param>
/// <param name="size">The window.</param>
internal sealed class PlanScreen(HookupScreen screen, ScreenSize size)
{
    public IPage Page => screen.Page;

    /// <summary>Goes on to the next question; on a desk all are there.</summary>
    public async Task OnAsync()
    {
        if (size.IsPhone) await Page.Locator("nav.steps .button").Last.ClickAsync();
    }

    /// <summary>A plan from the service to the sheet.</summary>
    /// <param name="atStep">Called at each question, when its answers are given.</param>
    public async Task WalkAsync(Func<string, Task> atStep)
    {
        await screen.GoAsync("plan");
        await screen.ChooseAsync("3-phase, 4-wire Wye with neutral");
        await screen.ChooseAsync("230/400");
        await atStep("service");
        await OnAsync();
        await Page.GetByRole(AriaRole.Checkbox, new() { NameString = "Voltage quality" }).CheckAsync();
        await atStep("purpose");
        await OnAsync();
        await Page.GetByLabel("Expected power, all phases, kW").FillAsync("36");
        await atStep("load");
        await OnAsync();
        await Page.GetByLabel("Range of the clamps, A").FillAsync("1000");
        await Page.GetByLabel("Free memory, MB").FillAsync("8");
        await Page.GetByLabel("Name of the site, for the sheet").FillAsync("Mill, north board (invented)");
        await atStep("recorder");
        await OnAsync();
        await Page.Locator("article.sheet").WaitForAsync();
        await atStep("sheet");
    }
}
