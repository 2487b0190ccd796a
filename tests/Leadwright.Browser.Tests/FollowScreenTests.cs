using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

/// <summary>What only a browser shows of a followed recorder: what is read out, where the focus goes, what stands out and what is wide enough.</summary>
/// <remarks>The answers of the watch are made here: how a watch comes to them is held elsewhere.</remarks>
[Collection("One page at a time")]
public sealed class FollowScreenTests(BrowserFixture browser, DemoSurveyProgram demo) : IClassFixture<DemoSurveyProgram>
{
    private const string Raised = """{"number": 1, "kind": "clamp-open", "says": "Clamp I1 was open or off. 12.7 A became 0.12 A.", "channels": ["I1"], "from": "2026-03-03T01:00:00", "raised": "2026-03-03T02:00:00+00:00"}""";

    private const string Renamed = """{"number": 1, "kind": "clamp-reversed", "says": "Clamp I1 faced the source.", "channels": ["I1"], "from": "2026-03-03T01:00:00", "was": "Clamp I1 was open or off.", "renamed": "2026-03-03T03:00:00+00:00", "raised": "2026-03-03T02:00:00+00:00"}""";

    private const string Withdrawn = """{"number": 2, "kind": "ratio-wrong", "says": "The ratio or range of clamp I2 was set wrong.", "channels": ["I2"], "from": "2026-03-03T01:00:00", "to": "2026-03-03T02:00:00", "is_withdrawn": true, "raised": "2026-03-03T02:00:00+00:00", "cleared": "2026-03-03T04:00:00+00:00"}""";

    private const string Cleared = """{"number": 3, "kind": "no-data", "says": "The recorder was off, or lost what it had stored.", "channels": [], "from": "2026-03-03T01:00:00", "to": "2026-03-03T02:00:00", "raised": "2026-03-03T02:00:00+00:00", "cleared": "2026-03-03T04:00:00+00:00"}""";

    private string _answer = "{}";
    private int _asked;

    [Fact]
    public async Task Every_state_of_an_alarm_is_readable_and_wide_enough_in_both_themes()
    {
        _answer = Sheet(isRunning: true, Cleared, Withdrawn, Renamed);
        foreach (var size in (ScreenSize[])[ScreenSize.Phone, ScreenSize.Desk])
        {
            await using var screen = await browser.OpenAsync(size, bypassesPolicy: true, answersItself: true);
            await GoAsync(screen.Page);
            await Assertions.Expect(screen.Page.Locator(".follow .alarm")).ToHaveCountAsync(3);
            var walk = new AccessWalk(screen.Page);
            await walk.LookAsync("follow");
            if (size.IsPhone) await walk.LookForTargetsAsync("follow");
            await walk.LookForWidthAsync("follow", size.IsPhone ? [320, 390] : [size.Width]);
            Assert.Empty(walk.Found);
        }
    }

    [Fact]
    public async Task Each_change_of_an_alarm_is_read_out_once_though_the_list_is_folded()
    {
        _answer = Sheet(isRunning: true);
        await using var screen = await browser.OpenAsync(ScreenSize.Phone, answersItself: true);
        await GoAsync(screen.Page);
        await screen.Page.Locator(".follow summary").ClickAsync();
        await screen.Page.EvaluateAsync("""
            () => {
              window.told = [];
              const place = document.querySelector('.follow [role=status]');
              new MutationObserver(() => window.told.push(place.textContent)).observe(place, { childList: true, characterData: true, subtree: true });
            }
            """);
        foreach (var alarm in (string[])[Raised, Renamed])
        {
            _answer = Sheet(isRunning: true, alarm);
            // Two looks with the same answer: the second has no news.
            var asked = Volatile.Read(ref _asked);
            while (Volatile.Read(ref _asked) < asked + 2) await Task.Delay(100, TestContext.Current.CancellationToken);
        }

        _answer = Sheet(isRunning: true, Withdrawn, Renamed);
        await Assertions.Expect(screen.Page.Locator(".follow [role=status]")).ToContainTextAsync("already taken back");
        Assert.Equal(
            [
                "Alarm: Clamp I1 was open or off. 12.7 A became 0.12 A.", "Alarm renamed: Clamp I1 faced the source. Told before as: Clamp I1 was open or off.",
                "Alarm that was already taken back: The ratio or range of clamp I2 was set wrong.",
            ],
            await screen.Page.EvaluateAsync<string[]>("() => window.told"));
        Assert.Equal(0, await screen.Page.Locator(".follow [role=log], .follow [role=status] [role=status]").CountAsync());
    }

    [Fact]
    public async Task The_focus_goes_on_to_what_comes_in_the_place_of_the_button_that_was_pressed()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk, answersItself: true);
        await GoAsync(screen.Page);
        await screen.Page.Locator(".follow summary").PressAsync("Enter");
        await screen.Page.Locator("#follow-path").FillAsync("/drop");
        _answer = Sheet(isRunning: true);
        await screen.Page.Locator("#follow-path").PressAsync("Enter");
        await Assertions.Expect(screen.Page.GetByRole(AriaRole.Button, new() { NameString = "Stop following" })).ToBeFocusedAsync();
        _answer = Sheet(isRunning: false);
        await screen.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(screen.Page.Locator("#follow-path")).ToBeFocusedAsync();
    }

    private async Task GoAsync(IPage page)
    {
        await page.RouteAsync("**/follow**", route =>
        {
            Interlocked.Increment(ref _asked);
            return route.FulfillAsync(new() { ContentType = "application/json", Body = _answer });
        });
        await demo.GoAsync(page, "guard");
    }

    private static string Sheet(bool isRunning, params string[] alarms) =>
        $$"""{"path": "/drop/a-folder-with-a-name-that-is-long-enough-to-break", "is_running": {{(isRunning ? "true" : "false")}}, "since": "2026-03-03T00:00:00+00:00", "alarms": [{{string.Join(", ", alarms)}}]}""";
}
