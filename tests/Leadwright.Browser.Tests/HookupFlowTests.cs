using System.Diagnostics;
using System.Text;
using System.Text.Json;
using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class HookupFlowTests(BrowserFixture browser, ITestOutputHelper output)
{
    [Fact]
    public async Task Twelve_numbers_typed_on_a_phone_name_the_clamps_to_move()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        await screen.AnswerAllAsync();
        Assert.Equal("Faulty", await screen.Plate.InnerTextAsync(), ignoreCase: true);
        var moves = string.Join('\n', await screen.Page.Locator(".moves li").AllInnerTextsAsync());
        Assert.Contains("Turn clamp I1 round", moves, StringComparison.Ordinal);
        Assert.Contains("Move clamp I2 to conductor B", moves, StringComparison.Ordinal);
        Assert.Contains("Move clamp I3 to conductor C", moves, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_verdict_follows_a_typed_change_within_a_second()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk);
        await screen.AnswerAllAsync();
        var first = await screen.JudgeMillisecondsAsync();
        var judged = double.PositiveInfinity;
        var seen = long.MaxValue;

        // The best of five: what else this machine does meanwhile is not what is measured.
        for (var turn = 0; turn < 5; turn++)
        {
            var isTurned = turn % 2 == 1;
            var clock = Stopwatch.StartNew();
            await screen.TypeAsync([("Clamp I1, angle °", isTurned ? "161" : "-19")]);
            await screen.Page.Locator(".moves li", new() { HasText = "I1" }).WaitForAsync(
                new() { State = isTurned ? WaitForSelectorState.Visible : WaitForSelectorState.Detached });
            seen = Math.Min(seen, clock.ElapsedMilliseconds);
            judged = Math.Min(judged, await screen.JudgeMillisecondsAsync());
        }

        output.WriteLine($"first check {first:0} ms, best of five {judged:0} ms, typed change to verdict on the screen {seen} ms");
        Assert.InRange(judged, 0, 1000);
    }

    [Fact]
    public async Task An_invented_panel_is_judged_and_marked_as_invented()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        await screen.GoAsync("hook-up?demo");
        await screen.Page.GetByRole(AriaRole.Button, new() { NameString = "Joinery workshop" }).ClickAsync();
        await screen.Plate.WaitForAsync();
        Assert.Contains("Invented panel", await screen.Page.Locator(".stamp.wide").InnerTextAsync(), StringComparison.Ordinal);
        Assert.Equal("Faulty", await screen.Plate.InnerTextAsync(), ignoreCase: true);
    }

    [Fact]
    public async Task A_file_of_readings_gives_a_verdict()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk);
        await screen.GoAsync("hook-up");
        await screen.Page.Locator("input[type=file]").SetInputFilesAsync(File("readings.json", Readings));
        await screen.Plate.WaitForAsync();
        Assert.Equal("231.2", await screen.Page.GetByLabel("Lead V1 to neutral, volts").InputValueAsync());
    }

    [Fact]
    public async Task A_file_dropped_on_the_screen_gives_a_verdict()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk);
        await screen.GoAsync("hook-up");
        var box = (await screen.Page.Locator(".drop").BoundingBoxAsync())!;
        var path = Path.Combine(Path.GetTempPath(), $"leadwright-{Guid.NewGuid():N}.json");
        await System.IO.File.WriteAllTextAsync(path, Readings, TestContext.Current.CancellationToken);
        try
        {
            // The browser's own drag and drop, at the place where a person would let go.
            var devtools = await screen.Page.Context.NewCDPSessionAsync(screen.Page);
            foreach (var kind in (string[])["dragEnter", "dragOver", "drop"])
            {
                await devtools.SendAsync("Input.dispatchDragEvent", new()
                {
                    ["type"] = kind,
                    ["x"] = box.X + (box.Width / 2),
                    ["y"] = box.Y + (box.Height / 2),
                    ["data"] = new { items = Array.Empty<object>(), files = new[] { path }, dragOperationsMask = 1 },
                });
            }

            await screen.Plate.WaitForAsync();
            Assert.Equal("231.2", await screen.Page.GetByLabel("Lead V1 to neutral, volts").InputValueAsync());
        }
        finally
        {
            System.IO.File.Delete(path);
        }
    }

    [Fact]
    public async Task A_recording_is_matched_and_the_match_can_be_changed()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk);
        await screen.GoAsync("hook-up");
        await screen.ChooseAsync("Single-phase, 2-wire One line and neutral");
        await screen.Page.Locator("input[type=file]").SetInputFilesAsync(File("panel.csv", Table()));
        await screen.Plate.WaitForAsync();
        var picked = screen.Page.GetByLabel("Channel of the file for I1");
        Assert.Equal("1", await picked.InputValueAsync());
        await picked.SelectOptionAsync(new SelectOptionValue { Label = "Other (A)" });
        await screen.Page.Locator("#channels-title + p", new() { HasText = "I1 = Other" }).WaitForAsync();
    }

    [Fact]
    public async Task An_open_verdict_asks_takes_the_answer_that_is_tapped_and_gives_it_back()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        await screen.GoAsync("hook-up");
        await screen.Page.Locator("input[type=file]").SetInputFilesAsync(File("readings.json", SignNotStated));
        await screen.Plate.WaitForAsync();
        Assert.Equal("Cannot tell yet", await screen.Plate.InnerTextAsync(), ignoreCase: true);
        var answer = screen.Page.GetByRole(AriaRole.Button, new() { NameString = "Negative", Exact = true });
        Assert.True((await answer.BoundingBoxAsync())!.Height >= 48);
        await answer.TapAsync();
        var told = screen.Page.Locator(".told li", new() { HasText = "Instrument shows power to the load: negative" });
        await told.WaitForAsync();
        Assert.True(await screen.Page.EvaluateAsync<bool>("() => document.activeElement.id === 'title-verdict'"));
        await screen.Page.Locator(".headline", new() { HasText = "nothing is wrong" }).Or(screen.Page.Locator(".headline", new() { HasText = "where it belongs" })).WaitForAsync();
        await told.GetByRole(AriaRole.Button).TapAsync();
        await told.WaitForAsync(new() { State = WaitForSelectorState.Detached });
        await answer.WaitForAsync();
    }

    [Fact]
    public async Task A_file_that_can_not_be_used_says_why()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        await screen.GoAsync("hook-up");
        await screen.Page.Locator("input[type=file]").SetInputFilesAsync(File("half.cfg", "x"));
        await screen.Page.GetByText("choose its .dat file together with it").WaitForAsync();
    }

    [Fact]
    public async Task What_was_typed_survives_a_reload()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        await screen.AnswerAllAsync();
        await screen.GoAsync("hook-up/readings");
        Assert.Equal("230,1", await screen.Page.GetByLabel("Lead V2 to neutral, volts").InputValueAsync());
    }

    [Fact]
    public async Task The_sign_key_gives_phones_without_a_minus_their_minus()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        await screen.GoAsync("hook-up/readings");
        await screen.TypeAsync([("Lead V2 to neutral, angle °", "120.3")]);
        await screen.Page.GetByRole(AriaRole.Button, new() { NameString = "Change the sign: Lead V2 to neutral, angle" }).TapAsync();
        await Assertions.Expect(screen.Page.GetByLabel("Lead V2 to neutral, angle °")).ToHaveValueAsync("-120.3");
    }

    [Fact]
    public async Task A_field_that_can_not_be_read_is_marked_and_holds_the_verdict_back()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk);
        await screen.AnswerAllAsync();
        await screen.TypeAsync([("Clamp I2, amps", "4o")]);
        await screen.Page.GetByText("One field can't be read").WaitForAsync();
        Assert.Equal("true", await screen.Page.GetByLabel("Clamp I2, amps").GetAttributeAsync("aria-invalid"));
        Assert.Equal(0, await screen.Plate.CountAsync());
    }

    [Fact]
    public async Task The_whole_check_can_be_done_with_the_keyboard_alone()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk);
        await screen.GoAsync("hook-up");
        var keys = screen.Page.Keyboard;
        await TabToAsync(screen.Page, "document.activeElement.type === 'radio'");
        await keys.PressAsync("Space");
        await TabToAsync(screen.Page, "document.activeElement.id === 'field-V1-rms'");
        foreach (var (_, text) in HookupScreen.TwelveNumbers)
        {
            await keys.TypeAsync(text);
            await keys.PressAsync("Tab");
        }

        await screen.Plate.WaitForAsync();
        await TabToAsync(screen.Page, "document.activeElement.textContent.trim() === 'Save the verdict'");
    }

    [Fact]
    public async Task The_page_asks_no_other_address()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        var asked = new List<string>();
        var complaints = new List<string>();
        screen.Page.Request += (_, request) => asked.Add(request.Url);
        screen.Page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning") complaints.Add(message.Text);
        };
        await screen.AnswerAllAsync();
        Assert.NotEmpty(asked);
        Assert.All(asked, url => Assert.StartsWith(browser.Address.ToString(), url, StringComparison.Ordinal));
        Assert.Empty(complaints);
    }

    private static async Task TabToAsync(IPage page, string isThere)
    {
        for (var press = 0; press < 120; press++)
        {
            await page.Keyboard.PressAsync("Tab");
            if (await page.EvaluateAsync<bool>($"() => {isThere}")) return;
        }

        Assert.Fail($"The keyboard never reached the place where {isThere}.");
    }

    private static FilePayload File(string name, string text) =>
        new() { Name = name, MimeType = "application/octet-stream", Buffer = Encoding.UTF8.GetBytes(text) };

    /// <summary>An instrument that shows power to the load as negative and doesn't say so; volts from line to line are read too.</summary>
    private static string SignNotStated { get; } = JsonSerializer.Serialize(new
    {
        schema = "leadwright.readings/1",
        service = "wye",
        nominal = "230/400",
        channels = new Dictionary<string, object>
        {
            ["V1"] = 230.0,
            ["V2"] = 231.0,
            ["V3"] = 229.5,
            ["I1"] = 40.0,
            ["I2"] = 38.0,
            ["I3"] = 42.0,
        },
        phases = new Dictionary<string, object>
        {
            ["1"] = new { watts = -8100, vars = -3600 },
            ["2"] = new { watts = -7800, vars = -3600 },
            ["3"] = new { watts = -8600, vars = -3600 },
        },
    });

    private static string Readings { get; } = JsonSerializer.Serialize(new
    {
        schema = "leadwright.readings/1",
        service = "wye",
        nominal = "230/400",
        channels = new Dictionary<string, object>
        {
            ["V1"] = new { rms = 231.2, angle = 0.0 },
            ["V2"] = new { rms = 230.1, angle = -120.3 },
            ["V3"] = new { rms = 229.8, angle = 119.8 },
            ["I1"] = new { rms = 41.2, angle = -19.0 },
        },
    });

    private static string Table()
    {
        var text = new StringBuilder("time (s),V1 (V),I1 (A),Other (A)\n");
        for (var index = 0; index < 1000; index++)
        {
            var angle = 2 * Math.PI * 50 * index / 5000.0;
            text.Append(System.Globalization.CultureInfo.InvariantCulture,
                $"{index / 5000.0:0.0000},{325 * Math.Cos(angle):0.000},{14 * Math.Cos(angle - 0.5):0.0000},{7 * Math.Cos(angle - 0.2):0.0000}\n");
        }

        return text.ToString();
    }
}
