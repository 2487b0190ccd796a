using Bunit;
using Leadwright.Client.Pages;
using Leadwright.Client.Surveys;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.Extensions.DependencyInjection;

namespace Leadwright.Client.Tests.Surveys;

public sealed class SurveyHookupPageTests : ScreenContext
{
    private readonly SurveyFake _api = new() { Sheet = new SurveySheet("one", "Board 1") };

    public SurveyHookupPageTests()
    {
        Services.AddSingleton<ISurveyApi>(_api);
        JSInterop.Mode = JSRuntimeMode.Loose;
    }

    [Fact]
    public void Without_a_check_it_says_so_and_leads_to_one_for_this_survey()
    {
        var page = Page();
        Assert.Equal("No check was kept yet", page.Find("#checks-title").TextContent);
        Assert.Equal("hook-up/service?survey=one", page.Find(".begin a").GetAttribute("href"));
    }

    [Fact]
    public void Checks_are_a_history_with_answer_probability_and_what_was_judged()
    {
        _api.Hookups = _api.Hookups with
        {
            Checks =
            [
                new HookupCard(8, new DateTimeOffset(2026, 3, 2, 10, 0, 0, TimeSpan.Zero), "A. Fitter", "correct") { Confidence = 0.97, Says = "Every lead and clamp was where it belongs." },
                new HookupCard(7, new DateTimeOffset(2026, 3, 2, 9, 0, 0, TimeSpan.Zero), "A. Fitter", "faulty") { Confidence = 0.99, Says = "Clamp I1 faces the source.", Moves = ["Turn clamp I1 round."], Judged = "snapshot" },
            ],
            Told = ["Rotation is A-B-C."],
        };
        var cards = Page().FindAll(".check");
        Assert.Equal(2, cards.Count);
        Assert.Contains("✓ Correct", cards[0].TextContent, StringComparison.Ordinal);
        Assert.Contains("probability 97 %", cards[0].TextContent, StringComparison.Ordinal);
        Assert.Contains("typed readings", cards[0].TextContent, StringComparison.Ordinal);
        Assert.Contains("Turn clamp I1 round.", cards[1].TextContent, StringComparison.Ordinal);
        Assert.Contains("from snapshot", cards[1].TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_photo_is_attached_with_its_caption_and_a_large_one_is_refused_before_it_is_sent()
    {
        var page = Page();
        page.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromBinary(new byte[2 << 20], "large.jpg"));
        Assert.Contains("1 MB are taken", page.Find(".attach [role=alert]").TextContent, StringComparison.Ordinal);
        page.Find("#photo-caption").Change("Clamp I2");
        page.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromBinary([0xFF, 0xD8, 0xFF], "panel.jpg"));
        page.Find("form.attach").Submit();
        page.WaitForAssertion(() => Assert.Contains("'panel.jpg' is attached.", page.Markup, StringComparison.Ordinal));
        Assert.Equal("Clamp I2", page.Find(".kept img").GetAttribute("alt"));
    }

    [Fact]
    public void A_photo_that_says_where_it_was_taken_is_told_of()
    {
        _api.Hookups = _api.Hookups with { Photos = [new PhotoCard(6, default, "panel.jpg", "") { Sha256 = new string('a', 64), IsPicture = true, HasPosition = true }] };
        Assert.Contains("where on earth", Page().Find(".position").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_program_that_is_away_is_said_so()
    {
        _api.Failure = new SurveyApiException("The program does not answer.") { IsAway = true };
        Assert.Contains("does not answer", Page().Find("[role=alert]").TextContent, StringComparison.Ordinal);
    }

    private IRenderedComponent<SurveyHookupPage> Page() => Render<SurveyHookupPage>(parameters => parameters.Add(hookup => hookup.Id, "one"));
}
