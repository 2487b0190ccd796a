using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text;
using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

/// <summary>Pictures and figures for the documents; run when wanted: <c>dotnet run --project tests/Leadwright.Browser.Tests
/// -c Release -- -explicit only</c>.</summary>
[Collection("One page at a time")]
public sealed class Measurements(BrowserFixture browser, DemoSurveyProgram demo) : IClassFixture<DemoSurveyProgram>
{
    private const int VerdictCount = 9;

    // The machine may be busy with other work, and a first verdict in WebAssembly is interpreted.
    private const int LongestWaitMilliseconds = 180_000;

    [Fact(Explicit = true)]
    public async Task Take_the_pictures()
    {
        await using (var phone = await browser.OpenAsync(ScreenSize.Phone))
        {
            await phone.AnswerAllAsync();
            await phone.Page.ScreenshotAsync(new() { Path = PathOf("docs/pictures/hook-up-phone.png") });
        }

        await using var desk = await browser.OpenAsync(new ScreenSize(1280, 1320));
        await desk.AnswerAllAsync();
        await desk.Page.EvaluateAsync("scrollTo(0, 0)");
        await desk.Page.ScreenshotAsync(new() { Path = PathOf("docs/pictures/hook-up-desk.png") });
    }

    [Fact(Explicit = true)]
    public async Task Take_the_pictures_of_plan_and_practice()
    {
        // Every step goes to a folder to look at where one is named; the documents show a few of them.
        var all = Environment.GetEnvironmentVariable("LEADWRIGHT_PICTURES");
        foreach (var size in new[] { ScreenSize.Phone, new ScreenSize(1280, 1100) })
        {
            await using var screen = await browser.OpenAsync(size);
            var word = size.IsPhone ? "phone" : "desk";
            await new PlanScreen(screen, size).WalkAsync(step => ShootAsync($"plan-{step}-{word}"));
            var practice = new PracticeScreen(screen, size);
            await practice.WalkAsync(step => ShootAsync($"practice-{step}-{word}"));
            await practice.BeginAsync("Lead or supply?", "2");
            await ShootAsync($"practice-strip-{word}");
            await practice.BeginAsync("A panel with hidden faults", "6");
            await screen.Page.GetByRole(AriaRole.Button, new() { NameString = "Hand meter" }).ClickAsync();
            await screen.Page.Locator(".where .place").First.ClickAsync();
            await ShootAsync($"practice-actions-{word}");

            async Task ShootAsync(string name)
            {
                await screen.Page.EvaluateAsync("scrollTo(0, 0)");
                if (all is not null) await screen.Page.ScreenshotAsync(new() { Path = Path.Combine(all, $"{name}.png"), FullPage = true });
                if (name is "plan-sheet-desk" or "plan-sheet-phone" or "practice-actions-desk" or "practice-mark-phone")
                {
                    await screen.Page.ScreenshotAsync(new() { Path = PathOf($"docs/pictures/{name.Replace("-sheet", "", StringComparison.Ordinal).Replace("-actions", "", StringComparison.Ordinal).Replace("-mark", "", StringComparison.Ordinal)}.png") });
                }
            }
        }
    }

    [Fact(Explicit = true)]
    public async Task Measure_the_verdict()
    {
        var text = new StringBuilder();
        var version = "";
        foreach (var (visit, readings) in Visits())
        {
            await using var screen = await browser.OpenAsync(ScreenSize.Desk);
            version = screen.Page.Context.Browser!.Version;
            await screen.GoAsync("hook-up");
            var times = new List<double>();
            for (var round = 0; round < VerdictCount; round++) times.Add(await NextVerdictAsync(screen, readings(41.2 + (0.1 * round))));
            times.Sort();
            text.AppendLine(CultureInfo.InvariantCulture, $"| {visit} | {times[0]:0} | {times[VerdictCount / 2]:0} | {times[^1]:0} |");
        }

        var page = new StringBuilder().AppendLine(CultureInfo.InvariantCulture,
                $"Chromium {version}, headless, {Environment.ProcessorCount} logical processors; the page as served by the {ThisBuild()} build; {VerdictCount} verdicts a row, one number changed before each. Measured by the page around the check itself.")
            .AppendLine().AppendLine("| visit | best, ms | median, ms | slowest, ms |").AppendLine("| --- | --- | --- | --- |").Append(text);
        await File.WriteAllTextAsync(
            PathOf("bench/results/amd-epyc-2-cores/verdict-in-the-browser.md"), page.ToString(), TestContext.Current.CancellationToken);
    }

    // From the start of the navigation until a heading of the page and what can be pressed in it are there; keys on a chart until the frame after next, and until the
    // values of the narrower span are in.
    [Fact(Explicit = true)]
    public async Task Measure_the_first_page_and_the_zoom()
    {
        const int Rounds = 5;
        var (pages, zooms, version) = (new StringBuilder(), new StringBuilder(), "");
        foreach (var path in (string[])["", "hook-up", "plan", "practice", "surveys", "surveys/invented-workshop/guard"])
        {
            var (cold, warm) = (new List<double>(), new List<double>());
            for (var round = 0; round < Rounds; round++)
            {
                await using var screen = await browser.OpenAsync(ScreenSize.Desk);
                version = screen.Page.Context.Browser!.Version;
                await screen.Page.GotoAsync(new Uri(demo.Address, path).ToString(), new() { WaitUntil = WaitUntilState.Commit });
                cold.Add(await InteractiveAsync(screen.Page));
                await screen.Page.ReloadAsync(new() { WaitUntil = WaitUntilState.Commit });
                warm.Add(await InteractiveAsync(screen.Page));
            }

            pages.AppendLine(CultureInfo.InvariantCulture, $"| /{path} | {Row(cold)} | {Row(warm)} |");
        }

        foreach (var name in (string[])["guard", "mend", "study"])
        {
            await using var screen = await browser.OpenAsync(ScreenSize.Desk);
            await demo.GoAsync(screen.Page, name);
            await screen.Page.Locator(".chart[data-count]").First.ScrollIntoViewIfNeededAsync();
            var text = await screen.Page.EvaluateAsync<string>(ZoomScript);
            var times = text.Split(' ').Select(pair => pair.Split('/').Select(part => double.Parse(part, CultureInfo.InvariantCulture)).ToArray()).ToList();
            zooms.AppendLine(CultureInfo.InvariantCulture, $"| {name} | {times.Count} | {Row([.. times.Select(pair => pair[0])])} | {Row([.. times.Select(pair => pair[1])])} |");
        }

        var load = File.Exists("/proc/loadavg") ? (await File.ReadAllTextAsync("/proc/loadavg", TestContext.Current.CancellationToken)).Split(' ')[0] : "not known";
        await File.WriteAllTextAsync(
            PathOf($"bench/results/amd-epyc-2-cores/screens-in-the-browser{(ServedProgram.IsPublished ? "-published" : "")}.md"),
            string.Create(CultureInfo.InvariantCulture, $"""
                Chromium {version}, headless, {Environment.ProcessorCount} logical processors, load average at the end {load}; the pages as served by the {ThisBuild()} build, {(ServedProgram.IsPublished ? "published" : "not published")}.

                Until a page can be used, from the start of its navigation, {Rounds} rounds. First: an empty profile, everything is fetched. Again: the page reloaded. Aim: 2,000 ms.

                | page | first: best, ms | median | slowest | again: best, ms | median | slowest |
                | --- | --- | --- | --- | --- | --- | --- |
                {pages}
                Keys on a chart of the invented week, 10,080 rows a column. Drawn: until the chart stands at the new span on the screen. Fine: until the values of that span are in and drawn; it holds a pause of 25 ms, so that a turning wheel
                asks once. Aim: drawn within 100 ms.

                | screen | zooms | drawn: best, ms | median | slowest | fine: best, ms | median | slowest |
                | --- | --- | --- | --- | --- | --- | --- | --- |
                {zooms}
                """),
            TestContext.Current.CancellationToken);

        static string Row(List<double> times)
        {
            times.Sort();
            return string.Create(CultureInfo.InvariantCulture, $"{times[0]:0} | {times[times.Count / 2]:0} | {times[^1]:0}");
        }
    }

    private const string ZoomScript = """
        async () => {
          const place = document.querySelector('.chart[data-count]'), told = [];
          place.focus();
          for (const key of ['+', '+', '+', 'ArrowRight', '+', '-', '+', 'ArrowLeft', '-', '-', '+', '+', '+', '-', '-', '0', '+', '0', '+', '+']) {
            const begun = performance.now();
            const fine = new Promise(done => {
              const watch = new MutationObserver(() => { watch.disconnect(); done(performance.now() - begun); });
              watch.observe(place, { attributes: true, attributeFilter: ['data-count'] });
              setTimeout(() => { watch.disconnect(); done(5000); }, 5000);
            });
            place.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }));
            const drawn = await new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now() - begun))));
            told.push(`${drawn}/${await fine}`);
            await new Promise(done => setTimeout(done, 200));
          }
          return told.join(' ');
        }
        """;

    private static async Task<double> InteractiveAsync(IPage page)
    {
        var handle = await page.WaitForFunctionAsync(
            "() => document.querySelector('main h1, main h2') && document.querySelector('main button, main a[href], main input, main select') ? performance.now() : 0", null, new() { Timeout = LongestWaitMilliseconds });
        return await handle.JsonValueAsync<double>();
    }

    private static async Task<double> NextVerdictAsync(HookupScreen screen, string readings)
    {
        var verdict = screen.Page.Locator("article.verdict");
        var before = await verdict.CountAsync() == 0 ? "" : await verdict.GetAttributeAsync("data-judge-milliseconds");
        await screen.Page.Locator("input[type=file]").SetInputFilesAsync(
            new FilePayload { Name = "readings.json", MimeType = "application/json", Buffer = Encoding.UTF8.GetBytes(readings) });
        await screen.Page.WaitForFunctionAsync(
            "old => (document.querySelector('article.verdict')?.dataset.judgeMilliseconds ?? old) !== old", before,
            new() { Timeout = LongestWaitMilliseconds });
        return await screen.JudgeMillisecondsAsync();
    }

    // The names are those of the benchmark, bench/Leadwright.Benchmarks/VisitKind.cs. One current is left open.
    private static IEnumerable<(string Visit, Func<double, string> Readings)> Visits()
    {
        const string Voltages = """ "V1": {"rms": 231.2, "angle": 0}, "V2": {"rms": 230.1, "angle": -120.3}, "V3": {"rms": 229.8, "angle": 119.8} """;
        const string Currents = """ "I2": {"rms": 38.0, "angle": 95.0}, "I3": {"rms": 44.9, "angle": -146.1} """;
        yield return ("WyeTwelveNumbers", amperes => Readings("wye", "230/400", Voltages, I1(amperes, 161), Currents));
        yield return ("WyeNeutralClamp", amperes => Readings(
            "wye", "230/400", Voltages, I1(amperes, 161), Currents, """ "IN": {"rms": 6.3, "angle": -40} """));
        yield return ("WyeWattsWithoutVars", amperes => Readings(
            "wye", "230/400", """ "V1": 231.2, "V2": 230.1, "V3": 229.8, "I2": 38.0, "I3": 44.9 """, Json($"\"I1\": {amperes:0.0}"))
            .Replace("\"channels\"", "\"phases\": {\"1\": {\"watts\": -9010}, \"2\": {\"watts\": -7140}, \"3\": {\"watts\": -750}}, \"channels\"", StringComparison.Ordinal));
        yield return ("Delta", amperes => Readings(
            "delta", "480", """ "V12": {"rms": 481, "angle": 0}, "V23": {"rms": 479, "angle": -120.2}, "V31": {"rms": 480, "angle": 119.9} """,
            I1(amperes, 122), """ "I2": {"rms": 40.3, "angle": -178.6}, "I3": {"rms": 41.0, "angle": 61.1} """));
    }

    private static string Readings(string service, string nominal, params string[] channels) =>
        $$"""{"schema": "leadwright.readings/1", "service": "{{service}}", "nominal": "{{nominal}}", "angles": "lead-positive", "channels": { {{string.Join(',', channels)}} } }""";

    private static string I1(double amperes, double degrees) => Json($"\"I1\": {{\"rms\": {amperes:0.0}, \"angle\": {degrees}}}");

    private static string Json(FormattableString text) => FormattableString.Invariant(text);

    private static string ThisBuild() => Path.GetFileName(AppContext.BaseDirectory.TrimEnd(Path.DirectorySeparatorChar));

    private static string PathOf(string name, [CallerFilePath] string here = "")
    {
        var path = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", name));
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        return path;
    }
}
