using Bunit;
using Leadwright.Client.Devices;
using Leadwright.Client.Pages;
using Leadwright.Client.Surveys;
using Microsoft.Extensions.DependencyInjection;

namespace Leadwright.Client.Tests.Surveys;

public sealed class DepartingPageTests : ScreenContext
{
    private readonly SurveyFake _api = new() { Sheet = new SurveySheet("one", "Board 1") };
    private readonly KeptTexts _device = new();

    public DepartingPageTests()
    {
        Services.AddSingleton<ISurveyApi>(_api);
        Services.AddSingleton<IDevice>(_device);
        JSInterop.Mode = JSRuntimeMode.Loose;
    }

    [Fact]
    public void Nothing_is_signed_until_every_item_has_its_answer_each_no_its_reason_and_somebody_their_name()
    {
        var page = Page();
        page.Find("form").Submit();
        Assert.Contains("2 items above", page.Find("#departing-problem").TextContent, StringComparison.Ordinal);
        Answer(page, 0, 0);
        Answer(page, 1, 2);
        page.Find("form").Submit();
        Assert.Equal("Say why, so that the desk knows.", page.Find("#wanting-covers").TextContent);
        Assert.Equal("true", page.Find("#remark-covers").GetAttribute("aria-invalid"));
        page.Find("#remark-covers").Change("Handed to the site's electrician.");
        page.Find("form").Submit();
        Assert.Equal("Sign with your name.", page.Find("#departing-problem").TextContent);
        Assert.Empty(_api.Signatures);
        page.Find("#departing-who").Change("A. Fitter");
        page.Find("form").Submit();
        var signed = Assert.Single(_api.Signatures);
        Assert.Equal(("A. Fitter", 5L), (signed.Who, signed.Sequence));
        Assert.Equal([("clock", "yes", ""), ("covers", "not-possible", "Handed to the site's electrician.")], signed.Answers.Select(answer => (answer.Key, answer.Answer, answer.Remark)));
        Assert.Equal("Signed", page.Find("#signed-title").TextContent);
        Assert.Contains("1 of 2 not in order", page.Find(".signature.last").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void Answers_outlive_a_reload()
    {
        Answer(Page(), 0, 0);
        var again = Page();
        Assert.Equal("Before you leave: 1 of 2 answered", again.Find("#departing-title").TextContent);
        Assert.True(again.FindAll(".item")[0].QuerySelectorAll("input[type=radio]")[0].HasAttribute("checked"));
    }

    [Fact]
    public void A_refusal_keeps_the_answers()
    {
        var page = Page();
        Answer(page, 0, 0);
        Answer(page, 1, 0);
        page.Find("#departing-who").Change("A. Fitter");
        _api.Refusal = new SurveyApiException("B. Fitter signed this check meanwhile.") { IsConflict = true };
        page.Find("form").Submit();
        Assert.Contains("meanwhile", page.Find("#departing-problem").TextContent, StringComparison.Ordinal);
        Assert.Equal("Before you leave: 2 of 2 answered", page.Find("#departing-title").TextContent);
    }

    [Fact]
    public void A_survey_that_can_t_be_opened_says_why()
    {
        _api.Failure = new SurveyApiException("The journal was changed.");
        Assert.Contains("The journal was changed.", Page().Find("[role=alert]").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_signed_stands_at_the_head_of_the_other_screens_with_a_sign_beside_its_colour()
    {
        _api.Sheet = _api.Sheet with { Departing = new DepartingSigned(default, "A. Fitter", "") { Answers = [new("clock", "no", "3 s")] } };
        var page = Render<SurveyHookupPage>(parameters => parameters.Add(hookup => hookup.Id, "one"));
        Assert.Contains("△", page.Find(".departed").TextContent, StringComparison.Ordinal);
        Assert.Contains("signed by A. Fitter", page.Find(".departed").TextContent, StringComparison.Ordinal);
        Assert.Empty(Page().FindAll(".departed"));
    }

    private static void Answer(IRenderedComponent<DepartingPage> page, int item, int answer) =>
        page.FindAll(".item")[item].QuerySelectorAll("input[type=radio]")[answer].Change(true);

    private IRenderedComponent<DepartingPage> Page() => Render<DepartingPage>(parameters => parameters.Add(departing => departing.Id, "one"));
}
