using Microsoft.Playwright;

namespace Leadwright.Browser.Tests;

/// <summary>What only a browser shows of the Guard and Mend screens: what is in sight, and what stands out from its ground.</summary>
[Collection("One page at a time")]
public sealed class GuardScreenTests(BrowserFixture browser, DemoSurveyProgram demo) : IClassFixture<DemoSurveyProgram>
{
    // WCAG 2.2, 1.4.11: what is needed to make out a control or a drawing.
    private const double LeastContrast = 3;

    // The contrast of two colours of the page by their names, each as the browser resolves it.
    private const string Contrast = """
        ([place, first, second]) => {
          const probe = document.createElement('i');
          document.querySelector(place).append(probe);
          const light = name => {
            probe.style.color = `var(${name})`;
            const [red, green, blue] = getComputedStyle(probe).color.match(/[\d.]+/g).slice(0, 3).map(part => part / 255).map(part => part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4);
            return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
          };
          const both = [light(first), light(second)].sort((one, other) => other - one);
          probe.remove();
          return (both[0] + 0.05) / (both[1] + 0.05);
        }
        """;

    [Fact]
    public async Task On_a_phone_the_heading_of_what_was_picked_comes_into_sight_and_has_the_focus()
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Phone);
        await demo.GoAsync(screen.Page, "guard");
        for (var span = 0; span < 3; span++)
        {
            await screen.Page.Locator(".span-card").Nth(span).ClickAsync();
            await Assertions.Expect(screen.Page.Locator("#picture-title")).ToBeFocusedAsync();
            await Assertions.Expect(screen.Page.Locator("#picture-title")).ToBeInViewportAsync(new() { Ratio = 1 });
        }
    }

    [Theory]
    [InlineData(1280, 720)]
    [InlineData(1024, 768)]
    public async Task On_a_desk_the_heading_beside_the_list_stays_in_sight_to_the_end_of_the_page(int width, int height)
    {
        await using var screen = await browser.OpenAsync(new ScreenSize(width, height));
        await demo.GoAsync(screen.Page, "guard");
        await screen.Page.EvaluateAsync("scrollTo(0, document.documentElement.scrollHeight)");
        await Assertions.Expect(screen.Page.Locator("#picture-title")).ToBeInViewportAsync(new() { Ratio = 1 });
    }

    [Theory]
    [InlineData(ColorScheme.Light)]
    [InlineData(ColorScheme.Dark)]
    public async Task Lines_outlines_and_patterns_stand_out_from_what_they_lie_on(ColorScheme scheme)
    {
        await using var screen = await browser.OpenAsync(ScreenSize.Desk, scheme);
        await demo.GoAsync(screen.Page, "guard");
        (string Place, string Line, string Ground)[] pairs =
        [
            ("body", "--line", "--steel"), ("body", "--line", "--surface"), ("body", "--line", "--field"), ("body", "--line", "--chosen"), ("body", "--line", "--sound"),
            ("body", "--focus", "--steel"), ("body", "--focus", "--surface"), ("body", "--focus", "--chosen"), (".rail", "--focus", "--rail"),
            ("body", "--copper", "--surface"), ("body", "--copper", "--chosen"), ("body", "--copper", "--sound"),
            ("body", "--line-1", "--surface"), ("body", "--line-2", "--surface"), ("body", "--line-3", "--surface"), ("body", "--line-4", "--surface"), ("body", "--line-2", "--band"),
        ];
        foreach (var (place, line, ground) in pairs)
        {
            var contrast = await screen.Page.EvaluateAsync<double>(Contrast, new[] { place, line, ground });
            Assert.True(contrast >= LeastContrast, $"{line} on {ground} of {place}: {contrast:0.00}");
        }
    }

    [Theory]
    [InlineData("guard")]
    [InlineData("mend")]
    public async Task Every_key_and_its_numbers_are_readable_in_both_themes(string name)
    {
        foreach (var size in (ScreenSize[])[ScreenSize.Phone, ScreenSize.Desk])
        {
            await using var screen = await browser.OpenAsync(size, bypassesPolicy: true);
            await demo.GoAsync(screen.Page, name);
            foreach (var numbers in await screen.Page.Locator(".twin > summary").AllAsync()) await numbers.ClickAsync();
            var walk = new AccessWalk(screen.Page);
            await walk.LookAsync(name);
            if (size.IsPhone) await walk.LookForTargetsAsync(name);
            await walk.LookForWidthAsync(name, size.Width);
            Assert.Empty(walk.Found);
        }
    }
}
