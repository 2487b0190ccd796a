using System.Runtime.CompilerServices;
using System.Xml.Linq;
using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class SavingTests(BrowserFixture browser, DemoSurveyProgram demo) : IClassFixture<DemoSurveyProgram>
{
    [Fact]
    public async Task What_guard_mend_and_study_show_is_saved_as_drawing_picture_and_table()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk);
        var page = screen.Page;
        await demo.GoAsync(page, "guard");
        await HoldsAsync(page, "Watch strip", "I2", "from,to,kind,channels");
        await demo.GoAsync(page, "mend");
        await HoldsAsync(page, "Before and after", "Energy, kWh", "figure,unit,as_recorded,mended");
        await demo.GoAsync(page, "study");
        await page.Locator(".vectors svg").First.WaitForAsync();
        await HoldsAsync(page, "Vectors", "V1", null);
    }

    // A real fault record: tests/data/README.md.
    [Fact]
    public async Task Waves_and_harmonics_of_a_moment_and_any_column_are_saved_as_drawing_picture_and_table()
    {
        var folder = Directory.CreateTempSubdirectory("leadwright-waves-");
        try
        {
            var survey = Path.Combine(folder.FullName, "fault");
            await ServedProgram.RunAsync("survey", "new", survey, "--title", "Invented substation", "--service", "wye", "--nominal", "100", "--who", "T. Ester");
            await ServedProgram.RunAsync("survey", "add", survey, Path.Combine(Data(), "comtrade", "substation", "xtz.cfg"), "--who", "T. Ester");
            await using var program = await ServedProgram.StartAsync(TestContext.Current.CancellationToken, "--data", folder.FullName);
            await using var screen = await browser.OpenAsync(ScreenSize.Desk);
            var page = screen.Page;
            await page.GotoAsync(new Uri(program.Address, "surveys/fault/study").ToString());
            await DemoSurveyProgram.ReadyAsync(page, "study");
            var chart = page.Locator(".chart[data-count]").First;
            await chart.FocusAsync();
            await page.Keyboard.PressAsync("Shift+ArrowRight");
            await page.Locator(".at-moment tbody tr").First.WaitForAsync();
            await HoldsAsync(page, "Waves and harmonics", "V1", "at,channel,unit,rms");

            // The chart itself, with what is drawn on its canvas.
            var frame = page.Locator(".chart-frame").First;
            await frame.Locator("summary").ClickAsync();
            var saved = await page.RunAndWaitForDownloadAsync(() => frame.GetByRole(AriaRole.Button, new() { NameString = "Save as SVG" }).ClickAsync());
            var svg = XDocument.Parse(await File.ReadAllTextAsync((await saved.PathAsync())!, TestContext.Current.CancellationToken));
            Assert.Contains(svg.Descendants(), element => element.Name.LocalName is "path" or "polyline");
            var png = await page.RunAndWaitForDownloadAsync(() => frame.GetByRole(AriaRole.Button, new() { NameString = "Save as PNG" }).ClickAsync());
            Assert.Equal([0x89, 0x50, 0x4E, 0x47], (await File.ReadAllBytesAsync((await png.PathAsync())!, TestContext.Current.CancellationToken))[..4]);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static string Data([CallerFilePath] string here = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "data"));

    private static async Task HoldsAsync(IPage page, string title, string word, string? head)
    {
        var group = page.GetByRole(AriaRole.Group, new() { NameString = $"Save: {title}", Exact = true });
        var svg = XDocument.Parse(await SavedAsync(page, group, "SVG"));
        Assert.Equal("svg", svg.Root!.Name.LocalName);
        Assert.Contains(word, string.Join('\n', svg.Descendants().Where(element => element.Name.LocalName == "text").Select(element => element.Value)), StringComparison.Ordinal);

        // It stands by itself: nothing in it points to the page's rules or to another file.
        Assert.DoesNotContain(svg.Descendants().Attributes(), attribute => attribute.Name.LocalName == "class" || attribute.Value.Contains("var(", StringComparison.Ordinal) || attribute.Value.Contains("http", StringComparison.Ordinal) && !attribute.IsNamespaceDeclaration);
        var png = await page.RunAndWaitForDownloadAsync(() => group.GetByRole(AriaRole.Button, new() { NameString = "Save as PNG" }).ClickAsync());
        var bytes = await File.ReadAllBytesAsync((await png.PathAsync())!, TestContext.Current.CancellationToken);
        Assert.Equal([0x89, 0x50, 0x4E, 0x47], bytes[..4]);
        Assert.True(bytes.Length > 4000, $"{title}: {bytes.Length} bytes of picture");
        if (head is not null) Assert.StartsWith(head, await SavedAsync(page, group, "CSV"), StringComparison.Ordinal);
    }

    private static async Task<string> SavedAsync(IPage page, ILocator group, string kind)
    {
        var saved = await page.RunAndWaitForDownloadAsync(() => group.GetByRole(AriaRole.Button, new() { NameString = $"Save as {kind}" }).ClickAsync());
        return await File.ReadAllTextAsync((await saved.PathAsync())!, TestContext.Current.CancellationToken);
    }
}
