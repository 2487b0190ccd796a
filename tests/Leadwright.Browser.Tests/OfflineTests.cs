using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

[Collection("One page at a time")]
public sealed class OfflineTests(BrowserFixture browser)
{
    [Fact]
    public async Task After_the_first_visit_the_screens_open_and_judge_with_the_server_stopped()
    {
        await using var program = await ServedProgram.StartAsync(TestContext.Current.CancellationToken);
        await using var opened = await browser.OpenAsync(ScreenSize.Phone);
        await using var screen = new HookupScreen(opened.Page, ScreenSize.Phone, program.Address);
        await screen.GoAsync("hook-up");

        // The worker takes over only when every file is kept.
        await screen.Page.WaitForFunctionAsync("() => navigator.serviceWorker.controller !== null", null, new() { Timeout = 120_000 });
        await program.StopAsync();

        await screen.AnswerAllAsync();
        Assert.Equal("Faulty", await screen.Plate.InnerTextAsync(), ignoreCase: true);
        await Assert.ThrowsAnyAsync<PlaywrightException>(() => screen.Page.APIRequest.GetAsync(program.Address.ToString()));
    }
}
