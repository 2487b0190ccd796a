using Bunit;
using Leadwright.Client.Pages;
using Leadwright.Client.Surveys;
using Microsoft.Extensions.DependencyInjection;

namespace Leadwright.Client.Tests.Surveys;

public sealed class ReportPageTests : ScreenContext
{
    private readonly SurveyFake _api = new();

    public ReportPageTests()
    {
        Services.AddSingleton<ISurveyApi>(_api);
        Services.AddSingleton(TimeProvider.System);
        JSInterop.Mode = JSRuntimeMode.Loose;
    }

    [Fact]
    public void The_words_can_be_written_while_the_report_is_still_worked_out()
    {
        _api.Making = new TaskCompletionSource();
        var page = Page();
        Assert.Contains("Studying", page.Find("[role=status].wait-plate").TextContent, StringComparison.Ordinal);
        Assert.Empty(page.FindAll("iframe"));
        Field(page, "Customer").Change("Another Bakery");
        Assert.Equal(new WordsChange("customer", "Another Bakery", 5), Assert.Single(_api.Written));
        _api.Making.SetResult();
        page.WaitForElement("iframe");
    }

    [Fact]
    public void The_report_is_shown_in_a_frame_that_runs_nothing_and_moves_on_with_the_words()
    {
        var page = Page();
        var frame = page.WaitForElement("iframe");
        Assert.Equal("", frame.GetAttribute("sandbox"));
        Assert.EndsWith("&v=5", frame.GetAttribute("src"), StringComparison.Ordinal);
        Field(page, "Note in: Load study").Change("Ovens were off.");
        Assert.EndsWith("&v=6#load", page.Find("iframe").GetAttribute("src"), StringComparison.Ordinal);
        Assert.Equal(["pdf", "html", "xlsx"], page.FindAll(".saves a").Select(link => link.GetAttribute("href")!.Split('.')[^1].Split('?')[0]));
        Assert.All(page.FindAll(".saves a"), link => Assert.NotNull(link.GetAttribute("download")));
    }

    [Fact]
    public void Who_wrote_a_field_and_what_stands_there_without_words_is_said()
    {
        var page = Page();
        Assert.Contains("T. Ester", Field(page, "Customer").ParentElement!.TextContent, StringComparison.Ordinal);
        Assert.Equal("Board 1", Field(page, "Site").GetAttribute("placeholder"));
    }

    [Fact]
    public void A_part_is_left_out_by_its_box_and_the_last_one_stays()
    {
        var page = Page();
        page.FindAll(".part input[type=checkbox]")[1].Change(false);
        Assert.Equal(new WordsChange("parts", "summary", 5), Assert.Single(_api.Written));
        _api.Report = _api.Report with { Parts = [_api.Report.Parts[0], _api.Report.Parts[1] with { IsChosen = false }] };
        page = Page();
        page.FindAll(".part input[type=checkbox]")[0].Change(false);
        Assert.Single(_api.Written);
        Assert.Contains("one part at least", page.Find(".parts [role=alert]").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_refused_stands_at_its_field_and_stays_typed()
    {
        var page = Page();
        _api.Refusal = new SurveyApiException("'x' is no date.");
        Field(page, "Site").Change("x");
        Assert.Equal("'x' is no date.", page.Find(".word-field [role=alert]").TextContent);
        Assert.Equal("true", Field(page, "Site").GetAttribute("aria-invalid"));
    }

    [Fact]
    public void A_report_that_can_t_be_made_says_why_and_is_tried_again()
    {
        _api.Making = new TaskCompletionSource();
        var page = Page();
        _api.Failure = new SurveyApiException("The file was changed.");
        _api.Making.SetResult();
        page.WaitForAssertion(() => Assert.Contains("The file was changed.", page.Find(".paper [role=alert]").TextContent, StringComparison.Ordinal));
        (_api.Failure, _api.Making) = (null, null);
        page.FindAll("button").Single(button => button.TextContent == "Try again").Click();
        page.WaitForElement("iframe");
    }

    [Fact]
    public void Without_a_recording_there_is_a_place_to_lay_one()
    {
        _api.Sheet = new SurveySheet("one", "Board 1");
        Assert.NotNull(Page().Find(".import"));
    }

    private static AngleSharp.Dom.IElement Field(IRenderedComponent<ReportPage> page, string label)
    {
        var found = page.FindAll("label").Single(one => one.TextContent == label);
        return page.Find($"#{found.GetAttribute("for")}");
    }

    private IRenderedComponent<ReportPage> Page() => Render<ReportPage>(parameters => parameters.Add(report => report.Id, "one"));
}
