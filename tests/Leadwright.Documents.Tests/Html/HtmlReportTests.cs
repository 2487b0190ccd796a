using System.Text.RegularExpressions;
using Leadwright.Documents.Html;
using Leadwright.Documents.Reports;

namespace Leadwright.Documents.Tests.Html;

public sealed partial class HtmlReportTests
{
    private static readonly Lazy<string> s_page = new(() => HtmlReport.Write(ReportBuilder.Build(TestSurvey.Week(), TestSurvey.Settings())));

    [Fact]
    public void The_page_needs_no_other_file()
    {
        var page = s_page.Value;
        Assert.DoesNotMatch("<script|<link|@import|url\\((?!#)", page);
        Assert.DoesNotMatch("(src|href)=\"(?!#|data:)", page);
    }

    [Fact]
    public void Every_link_leads_to_something_and_every_id_is_the_only_one()
    {
        var ids = Ids().Matches(s_page.Value).Select(match => match.Groups[1].Value).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
        Assert.All(References().Matches(s_page.Value), match => Assert.Contains(match.Groups[1].Value, ids));
        Assert.All(Labels().Matches(s_page.Value), match => Assert.All(match.Groups[1].Value.Split(' '), id => Assert.Contains(id, ids)));
    }

    [Fact]
    public void Tables_have_headings_and_drawings_have_words()
    {
        var page = s_page.Value;
        Assert.Equal(Count(page, "<table"), Count(page, "</table>"));
        Assert.All(Heads().Matches(page), match => Assert.Contains("scope=\"col\"", match.Value, StringComparison.Ordinal));
        Assert.All(Drawings().Matches(page), match => Assert.Contains("<title", match.Value, StringComparison.Ordinal));
        Assert.True(Count(page, "<figure") >= 8);
        Assert.Contains("<html lang=\"en\">", page, StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_typed_cannot_become_markup()
    {
        var settings = TestSurvey.Settings();
        var page = HtmlReport.Write(ReportBuilder.Build(TestSurvey.Week(), settings with { Letterhead = settings.Letterhead with { Site = "<b onclick=\"x\">A & B</b>" } }));
        Assert.DoesNotContain("<b onclick", page, StringComparison.Ordinal);
        Assert.Contains("&lt;b onclick=&quot;x&quot;&gt;A &amp; B", page, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_subject_gives_the_same_page() => Assert.Equal(s_page.Value, HtmlReport.Write(ReportBuilder.Build(TestSurvey.Week(), TestSurvey.Settings())));

    private static int Count(string text, string part) => text.Split(part).Length - 1;

    [GeneratedRegex(" id=\"([^\"]+)\"")]
    private static partial Regex Ids();

    [GeneratedRegex("href=\"#([^\"]+)\"")]
    private static partial Regex References();

    [GeneratedRegex("aria-labelledby=\"([^\"]+)\"")]
    private static partial Regex Labels();

    [GeneratedRegex("<thead>.*?</thead>")]
    private static partial Regex Heads();

    [GeneratedRegex("<figure.*?</figure>", RegexOptions.Singleline)]
    private static partial Regex Drawings();
}
