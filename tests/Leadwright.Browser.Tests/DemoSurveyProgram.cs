using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

/// <summary>The program with the invented survey in a folder of its own.</summary>
public sealed class DemoSurveyProgram : IAsyncLifetime
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("leadwright-browser-");
    private ServedProgram? _program;

    /// <summary>The address of the program.</summary>
    public Uri Address => _program!.Address;

    public async ValueTask InitializeAsync() => _program = await ServedProgram.StartAsync(CancellationToken.None, "--demo", "--data", Path.Combine(_folder.FullName, "surveys"));

    public async ValueTask DisposeAsync()
    {
        if (_program is not null) await _program.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    /// <summary>Opens a screen of the survey and waits until it shows its results.</summary>
    internal async Task GoAsync(IPage page, string screen)
    {
        await page.GotoAsync(new Uri(Address, screen is "surveys" ? "surveys" : $"surveys/invented-workshop/{screen}").ToString());
        await ReadyAsync(page, screen);
    }

    /// <summary>Waits until a screen shows its results.</summary>
    internal static async Task ReadyAsync(IPage page, string screen)
    {
        await page.Locator(screen switch
        {
            "surveys" => "#list-title", "hook-up" => "#checks-title", "departing" => "#departing-title", "guard" => "#guard-title", "mend" => "#mend-title",
            "report" => "iframe.preview", _ => "#limits-title",
        }).WaitForAsync(new() { Timeout = 180_000 });
        if (screen is "guard" or "mend" or "study") await page.Locator(".chart[data-count]").First.WaitForAsync(new() { Timeout = 60_000 });
    }
}
