using System.Globalization;
using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

/// <summary>The hook-up screen as a person works it.</summary>
internal sealed class HookupScreen(IPage page, ScreenSize size, Uri address) : IAsyncDisposable
{
    /// <summary>The questions in order, by their words in the address.</summary>
    public static readonly IReadOnlyList<string> Steps = ["service", "site", "readings", "verdict"];

    /// <summary>A wye in A-B-C whose loads lag by 19 to 26 degrees, so that a current stands at −19, −146.1 and 95 on A, B and C.
    /// I1 stands half a cycle from that (161): it faces the source. I2 and I3 stand at each other's place: they are exchanged.</summary>
    public static readonly IReadOnlyList<(string Field, string Text)> TwelveNumbers =
    [
        ("Lead V1 to neutral, volts", "231.2"), ("Lead V1 to neutral, angle °", "0"),
        ("Lead V2 to neutral, volts", "230,1"), ("Lead V2 to neutral, angle °", "-120.3"),
        ("Lead V3 to neutral, volts", "229.8"), ("Lead V3 to neutral, angle °", "119.8"),
        ("Clamp I1, amps", "41.2"), ("Clamp I1, angle °", "161.0"),
        ("Clamp I2, amps", "38.0"), ("Clamp I2, angle °", "95.0"),
        ("Clamp I3, amps", "44,9"), ("Clamp I3, angle °", "-146.1"),
    ];

    public IPage Page => page;

    public ILocator Plate => page.Locator(".verdict-plate .word");

    public async Task GoAsync(string path = "")
    {
        await page.GotoAsync(new Uri(address, path).ToString());
        await page.GetByRole(AriaRole.Heading, new() { Level = 2 }).First.WaitForAsync();
    }

    /// <summary>Goes on to the next question; on a desk all are there.</summary>
    public async Task OnAsync()
    {
        if (size.IsPhone) await page.Locator("nav.steps .button").Last.ClickAsync();
    }

    public Task ChooseAsync(string radio) => page.GetByRole(AriaRole.Radio, new() { NameString = radio }).First.CheckAsync();

    public async Task TypeAsync(IEnumerable<(string Field, string Text)> numbers)
    {
        foreach (var (field, text) in numbers) await page.GetByLabel(field, new() { Exact = true }).FillAsync(text);
    }

    /// <summary>Answers everything from the first question to the verdict.</summary>
    /// <param name="atStep">Called at each question, when its answers are given.</param>
    public async Task AnswerAllAsync(Func<string, Task>? atStep = null)
    {
        await GoAsync("hook-up");
        await ChooseAsync("3-phase, 4-wire Wye with neutral");
        if (atStep is not null) await atStep("service");
        await OnAsync();
        await ChooseAsync("230/400");
        if (atStep is not null) await atStep("site");
        await OnAsync();
        await TypeAsync(TwelveNumbers);
        await page.Locator(".conventions > summary").ClickAsync();
        if (atStep is not null) await atStep("readings");
        await page.Locator(".conventions > summary").ClickAsync();
        await OnAsync();
        await Plate.WaitForAsync();
        if (atStep is not null) await atStep("verdict");
    }

    public async Task<double> JudgeMillisecondsAsync() => double.Parse(
        (await page.Locator("article.verdict").GetAttributeAsync("data-judge-milliseconds"))!, CultureInfo.InvariantCulture);

    public async ValueTask DisposeAsync() => await page.Context.DisposeAsync();
}
