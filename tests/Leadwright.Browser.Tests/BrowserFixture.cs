using Microsoft.Playwright;

[assembly: AssemblyFixture(typeof(Leadwright.Browser.Tests.BrowserFixture))]

namespace Leadwright.Browser.Tests;

/// <summary>One browser and one served program for all tests; each test gets an empty profile.</summary>
public sealed class BrowserFixture : IAsyncLifetime
{
    private IPlaywright? _playwright;
    private IBrowser? _browser;
    private ServedProgram? _program;

    /// <summary>The address of the program.</summary>
    public Uri Address => _program!.Address;

    public async ValueTask InitializeAsync()
    {
        var path = await BrowserProgram.FindAsync(CancellationToken.None);
        _program = await ServedProgram.StartAsync(CancellationToken.None);
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = path,
            Args =
            [
                "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
                "--disable-component-update", "--disable-sync",
            ],
        });
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null) await _browser.DisposeAsync();
        _playwright?.Dispose();
        if (_program is not null) await _program.DisposeAsync();
    }

    /// <summary>Opens a page with an empty profile.</summary>
    /// <param name="size">The window.</param>
    /// <param name="scheme">Light or dark.</param>
    /// <param name="locale">Language and region of the person.</param>
    /// <param name="answersItself">True where the test gives the program's answers: what asks through the worker of the page would go past it.</param>
    /// <param name="bypassesPolicy">True for tools that must put a script of theirs into the page.</param>
    internal async Task<HookupScreen> OpenAsync(ScreenSize size, ColorScheme scheme = ColorScheme.Light, bool bypassesPolicy = false, string locale = "en-GB", bool answersItself = false)
    {
        var context = await _browser!.NewContextAsync(new()
        {
            ViewportSize = new() { Width = size.Width, Height = size.Height },
            ColorScheme = scheme,
            Locale = locale,
            HasTouch = size.IsPhone,
            IsMobile = size.IsPhone,
            BypassCSP = bypassesPolicy,
            ReducedMotion = ReducedMotion.Reduce,
            ServiceWorkers = answersItself ? ServiceWorkerPolicy.Block : ServiceWorkerPolicy.Allow,
        });
        context.SetDefaultTimeout(60_000);

        // The machine may be busy with other work: what is waited for is what is tested, not how soon it comes.
        Assertions.SetDefaultExpectTimeout(60_000);
        return new HookupScreen(await context.NewPageAsync(), size, Address);
    }
}
