using System.Globalization;
using System.Runtime.CompilerServices;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class SurveyFlowTests(BrowserFixture browser, DemoSurveyProgram demo) : IClassFixture<DemoSurveyProgram>
{
    private const int SmallestTarget = 48;

    private static readonly string[] s_screens = ["surveys", "guard", "mend", "study"];

    // What a finger is meant to hit; a block of the strip may be narrow, and is in the list below it as well.
    private const string SmallTargets = """
        least => [...document.querySelectorAll('a, button, select, summary, input:not([type=radio]):not([type=checkbox]):not([type=file]), label.choice')]
            .filter(element => element.checkVisibility() && !element.matches('.skip'))
            .map(element => [element, element.getBoundingClientRect()])
            .filter(([, box]) => box.width > 0 && (box.height < least - 0.5 || box.width < least - 0.5))
            .map(([element, box]) => `${element.tagName} '${(element.textContent || element.id).trim()}' ${box.width} x ${box.height}`)
        """;

    [Theory]
    [InlineData(390)]
    [InlineData(1280)]
    public async Task The_invented_survey_is_gone_through_from_the_list_to_the_findings(int width)
    {
        await using var screen = await browser.OpenAsync(width == 390 ? ScreenSize.Phone : ScreenSize.Desk);
        var page = screen.Page;
        await demo.GoAsync(page, "surveys");
        await page.GetByRole(AriaRole.Link, new() { NameString = "Workshop, main board", Exact = true }).ClickAsync();

        // Guard: the lead that fell off on Wednesday is picked by keyboard, and its picture convinces.
        await DemoSurveyProgram.ReadyAsync(page, "guard");
        Assert.Equal("2 things did not tell the truth and the supply was out once.", await page.Locator("#guard-title").InnerTextAsync());
        await page.Locator(".block[aria-label^='V3 open']").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#picture-title")).ToHaveTextAsync("V3: open or off");
        var chart = page.Locator(".picture .chart[data-count]").First;
        await chart.WaitForAsync();

        // Closer by keyboard: the host gives the rows of the narrower span.
        var before = await SpanAsync(chart);
        await chart.FocusAsync();
        await page.Keyboard.PressAsync("+");
        await page.WaitForFunctionAsync("([chart, length]) => chart.dataset.to - chart.dataset.from < 0.6 * length", new object[] { await chart.ElementHandleAsync(), before.To - before.From });
        await page.Keyboard.PressAsync("0");
        await page.WaitForFunctionAsync("chart => chart.dataset.to - chart.dataset.from === 7 * 86400e3", await chart.ElementHandleAsync());

        // Mend: the turned clamp is switched off with a reason, and on again.
        await page.GetByRole(AriaRole.Link, new() { NameString = "Mend", Exact = true }).ClickAsync();
        await DemoSurveyProgram.ReadyAsync(page, "mend");
        var mended = await page.Locator(".figure.strong .figure-value").InnerTextAsync();
        await SwitchAsync(page, "Tried without.");
        await Assertions.Expect(page.Locator(".figure.strong .figure-value")).Not.ToHaveTextAsync(mended, new() { Timeout = 60_000 });
        await Assertions.Expect(page.Locator(".journal")).ToContainTextAsync("Tried without.");
        await SwitchAsync(page, "It was turned after all.");
        await Assertions.Expect(page.Locator(".figure.strong .figure-value")).ToHaveTextAsync(mended, new() { Timeout = 60_000 });

        // Study: the same energy, limits, and the vectors of a moment.
        await page.GetByRole(AriaRole.Link, new() { NameString = "Study", Exact = true }).ClickAsync();
        await DemoSurveyProgram.ReadyAsync(page, "study");
        Assert.Equal(mended, await page.Locator(".figure.strong .figure-value").InnerTextAsync());
        await Assertions.Expect(page.Locator(".vectors svg")).ToBeVisibleAsync();
        await page.Locator("#pick-column").SelectOptionAsync("Voltage");
        await Assertions.Expect(page.Locator(".charts .chart-title").First).ToHaveTextAsync("Voltages");
    }

    [Fact]
    public async Task A_broken_file_that_is_dropped_is_refused_in_words()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        await demo.GoAsync(screen.Page, "surveys");
        await screen.Page.GetByLabel("Import the recorder's file").SetInputFilesAsync(new FilePayload { Name = "broken.xlsx", MimeType = "application/octet-stream", Buffer = [0x50, 0x4B, 3, 4, 9, 9] });
        await Assertions.Expect(screen.Page.Locator(".import [role=alert]")).ToContainTextAsync("broken.xlsx", new() { Timeout = 60_000 });
    }

    [Theory]
    [InlineData(390, ColorScheme.Light)]
    [InlineData(390, ColorScheme.Dark)]
    [InlineData(1280, ColorScheme.Light)]
    [InlineData(1280, ColorScheme.Dark)]
    public async Task No_survey_screen_breaks_a_rule_of_access(int width, ColorScheme scheme)
    {
        await using var screen = await browser.OpenAsync(width == 390 ? ScreenSize.Phone : ScreenSize.Desk, scheme, bypassesPolicy: true);
        var found = new List<string>();
        foreach (var name in s_screens)
        {
            await demo.GoAsync(screen.Page, name);
            var result = await screen.Page.RunAxe();
            found.AddRange(result.Violations.SelectMany(violation => violation.Nodes.Select(node => $"{name}: {violation.Id}: {violation.Help}: {node.Html}")));
            var content = await screen.Page.EvaluateAsync<int>("() => document.documentElement.scrollWidth");
            if (content > width) found.Add(string.Create(CultureInfo.InvariantCulture, $"{name}: {content} px wide"));
            if (width == 390) found.AddRange((await screen.Page.EvaluateAsync<string[]>(SmallTargets, SmallestTarget)).Select(target => $"{name}: small: {target}"));
        }

        Assert.Empty(found);
    }

    [Fact]
    public async Task At_two_hundred_percent_of_a_desk_nothing_scrolls_sideways()
    {
        // 200 % zoom of 1280 px is a layout of 640.
        await using var screen = await browser.OpenAsync(new ScreenSize(640, 400));
        foreach (var name in s_screens)
        {
            await demo.GoAsync(screen.Page, name);
            Assert.InRange(await screen.Page.EvaluateAsync<int>("() => document.documentElement.scrollWidth"), 1, 640);
        }
    }

    [Theory(Explicit = true)]
    [InlineData(390)]
    [InlineData(1280)]
    public async Task Take_the_pictures_of_the_guide(int width)
    {
        await using var screen = await browser.OpenAsync(width == 390 ? ScreenSize.Phone : new ScreenSize(1280, 1100));
        foreach (var name in s_screens)
        {
            await demo.GoAsync(screen.Page, name);
            await Task.Delay(1500, TestContext.Current.CancellationToken);
            await screen.Page.ScreenshotAsync(new() { Path = PathOf($"docs/pictures/survey-{name}-{(width == 390 ? "phone" : "desk")}.png") });
        }
    }

    private static string PathOf(string name, [CallerFilePath] string here = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "../..", name));

    private static async Task SwitchAsync(IPage page, string why)
    {
        await page.Locator("[role=switch]").First.ClickAsync();
        await page.Locator("#why").FillAsync(why);
        await page.Locator("form.why button[type=submit]").ClickAsync();
        await page.Locator("form.why").WaitForAsync(new() { State = WaitForSelectorState.Detached, Timeout = 60_000 });
        await DemoSurveyProgram.ReadyAsync(page, "mend");
    }

    private static async Task<(double From, double To)> SpanAsync(ILocator chart) => (
        double.Parse((await chart.GetAttributeAsync("data-from"))!, CultureInfo.InvariantCulture), double.Parse((await chart.GetAttributeAsync("data-to"))!, CultureInfo.InvariantCulture));
}
