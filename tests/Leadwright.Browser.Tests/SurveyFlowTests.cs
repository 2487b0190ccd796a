using System.Globalization;
using System.Runtime.CompilerServices;
using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class SurveyFlowTests(BrowserFixture browser, DemoSurveyProgram demo) : IClassFixture<DemoSurveyProgram>
{
    private static readonly string[] s_screens = ["hook-up", "departing", "guard", "mend", "study", "report"];

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

        // The numbers of the chart are wider than a phone: they move sideways in their own place, and the chart stays in sight.
        await page.GetByText("In numbers", new() { Exact = true }).First.ClickAsync();
        await page.Locator(".twin[open] table").WaitForAsync();
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));

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

    [Fact]
    public async Task The_guard_screen_says_how_a_file_was_read_and_fits_a_phone_with_the_longest_name_of_a_column()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone, bypassesPolicy: true);
        var page = screen.Page;
        await demo.GoAsync(page, "surveys");
        var longName = $"Remarks{string.Concat(Enumerable.Repeat("_of_the_caretaker", 5))}";
        var rows = Enumerable.Range(0, 144).Select(row =>
        {
            var start = new DateTime(2026, 3, 2).AddMinutes(10 * row);
            var amperes = 20 + (row % 17);
            return string.Create(CultureInfo.InvariantCulture, $"{start:yyyy-MM-dd HH:mm},{230 + (0.1 * (row % 7)):0.0},{230.5 - (0.1 * (row % 5)):0.0},{229.5 + (0.1 * (row % 3)):0.0},{amperes},{amperes + 3},{amperes + 5},quiet");
        });
        var table = $"time,V1 (V),V2 (V),V3 (V),I1 (A),I2 (A),I3 (A),{longName}\n{string.Join('\n', rows)}\n";
        await page.GetByLabel("Import the recorder's file").SetInputFilesAsync(new FilePayload { Name = "day.csv", MimeType = "text/csv", Buffer = System.Text.Encoding.UTF8.GetBytes(table) });

        // A column of words makes it ask first what the columns hold.
        await page.WaitForURLAsync("**/columns", new() { Timeout = 60_000 });
        await page.Locator("nav.screens a[href$='/guard']").ClickAsync(new() { Timeout = 60_000 });
        await page.Locator("#guard-title").WaitForAsync(new() { Timeout = 60_000 });
        await Assertions.Expect(page.Locator(".spans h3").Last).ToHaveTextAsync("How the file was read");
        await Assertions.Expect(page.Locator(".how-read")).ToContainTextAsync(longName);
        var walk = new AccessWalk(page);
        await walk.LookAsync("guard with what was read");
        await walk.LookForWidthAsync("guard with what was read", 390);
        Assert.Empty(walk.Found);
    }

    [Fact]
    public async Task The_report_is_written_signed_for_and_saved_as_the_verb_writes_it()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        var page = screen.Page;
        await demo.GoAsync(page, "departing");

        // With the keyboard alone: each group of answers is reached and answered, one of them not possible with its reason.
        for (var item = 0; item < 8; item++)
        {
            await page.Locator(".item fieldset").Nth(item).Locator("input").First.FocusAsync();
            await page.Keyboard.PressAsync("Space");
            if (item == 7)
            {
                await page.Keyboard.PressAsync("ArrowRight");
                await page.Keyboard.PressAsync("ArrowRight");
                await page.Keyboard.PressAsync("Tab");
                await page.Keyboard.TypeAsync("The porter has the key.");
                await page.Keyboard.PressAsync("Tab");
            }
        }

        await page.ReloadAsync();
        await Assertions.Expect(page.Locator("#departing-title")).ToHaveTextAsync("Before you leave: 8 of 8 answered");
        await page.Locator("#departing-who").FillAsync("A. Fitter");
        await page.GetByRole(AriaRole.Button, new() { NameString = "Sign the check" }).ClickAsync();
        await Assertions.Expect(page.Locator(".signature.last")).ToContainTextAsync("1 of 8 not in order or not possible.");
        await Assertions.Expect(page.Locator("#signed-title")).ToBeFocusedAsync();

        await page.Locator("nav.screens a[href*='/invented-workshop/report']").ClickAsync();
        await DemoSurveyProgram.ReadyAsync(page, "report");
        await Assertions.Expect(page.Locator(".departed")).ToContainTextAsync("signed by A. Fitter");
        var steps = await page.EvaluateAsync<int>("history.length");
        await page.GetByLabel("Customer", new() { Exact = true }).FillAsync("Invented Bakery");
        await page.Keyboard.PressAsync("Tab");
        await Assertions.Expect(page.Locator(".kept")).ToContainTextAsync("Kept at");
        var report = page.FrameLocator("iframe.preview");
        await Assertions.Expect(report.Locator("header .facts")).ToContainTextAsync("Invented Bakery", new() { Timeout = 60_000 });
        await Assertions.Expect(report.Locator("#hook-up")).ToContainTextAsync("The porter has the key.", new() { Timeout = 60_000 });
        Assert.Equal(steps, await page.EvaluateAsync<int>("history.length"));
        var saved = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { NameString = "Save as PDF" }).ClickAsync());
        Assert.Equal("invented-workshop-report.pdf", saved.SuggestedFilename);
        var bytes = new byte[5];
        await using (var file = File.OpenRead(await saved.PathAsync())) await file.ReadExactlyAsync(bytes, TestContext.Current.CancellationToken);
        Assert.Equal("%PDF-"u8.ToArray(), bytes);
    }

    [Fact]
    public async Task No_survey_screen_breaks_a_rule_of_access_on_phone_or_desk_or_at_two_hundred_percent()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk, bypassesPolicy: true);
        var walk = new AccessWalk(screen.Page);
        await demo.GoAsync(screen.Page, "surveys");
        await LookAsync("surveys");
        await demo.GoAsync(screen.Page, s_screens[0]);
        foreach (var name in s_screens)
        {
            await screen.Page.Locator($"nav.screens a[href*='/invented-workshop/{name}']").ClickAsync();
            await DemoSurveyProgram.ReadyAsync(screen.Page, name);
            await LookAsync(name);
        }

        Assert.Empty(walk.Found);
        Assert.Equal(14, walk.StepCount);

        async Task LookAsync(string name)
        {
            await walk.LookAsync($"{name} on a desk");
            // 200 % zoom of 1280 px is a layout of 640.
            await walk.LookForWidthAsync(name, 1280, 640);
            await screen.Page.SetViewportSizeAsync(ScreenSize.Phone.Width, ScreenSize.Phone.Height);
            await walk.LookAsync($"{name} on a phone");
            await walk.LookForWidthAsync(name, 390);
            await walk.LookForTargetsAsync(name);
            await screen.Page.SetViewportSizeAsync(ScreenSize.Desk.Width, ScreenSize.Desk.Height);
        }
    }

    [Theory(Explicit = true)]
    [InlineData(390)]
    [InlineData(1280)]
    public async Task Take_the_pictures_of_the_guide(int width)
    {
        await using var screen = await browser.OpenAsync(width == 390 ? ScreenSize.Phone : new ScreenSize(1280, 1100));
        foreach (var name in (string[])["surveys", .. s_screens])
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
