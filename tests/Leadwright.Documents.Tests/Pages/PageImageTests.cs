using System.Runtime.CompilerServices;
using Leadwright.Core.Circuits;
using Leadwright.Core.Planning;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Pdf;
using Leadwright.Documents.Reports;
using Leadwright.Documents.Sheets;
using Leadwright.Reports.Hookups;

namespace Leadwright.Documents.Tests.Pages;

/// <summary>Every page is held against a picture of it that was looked at and approved. To look again: run with -explicit only, look at Pages/approved, commit.</summary>
public sealed class PageImageTests
{
    // Another version of the rasteriser smooths edges otherwise; a line of text that moves by its height changes about 2 % of a full page's dots.
    private const double MostMean = 1.5, MostShare = 0.006;

    private static readonly Dictionary<string, Func<byte[]>> s_documents = new(StringComparer.Ordinal)
    {
        ["week-a4"] = () => PdfReport.Write(ReportBuilder.Build(TestSurvey.Week(), TestSurvey.Settings()), PaperSize.A4),
        ["week-letter"] = () => PdfReport.Write(ReportBuilder.Build(TestSurvey.Week(), TestSurvey.Settings()), PaperSize.Letter),
        ["half-lost-a4"] = () => PdfReport.Write(ReportBuilder.Build(TestSurvey.HalfLost(), TestSurvey.Settings()), PaperSize.A4),
        ["plan-a4"] = () => PdfReport.Write(PlanPaper.Build(Plan(), ConductorNaming.Of(ConductorColours.WithId("iec-60445")!), "Invented Bakery", "Leadwright 0.0 test"), PaperSize.A4),
        ["leaving-letter"] = () => PdfReport.Write(LeavingPaper.Build(new LeavingSubject { Site = "Invented Bakery", Plan = Plan() }, "Leadwright 0.0 test"), PaperSize.Letter),
    };

    public static TheoryData<string> Documents() => [.. s_documents.Keys];

    [Theory]
    [MemberData(nameof(Documents))]
    public void Pages_look_as_they_were_approved(string name)
    {
        var pages = Rasteriser.Pages(s_documents[name]());
        var approved = Directory.GetFiles(Approved(), $"{name}-*.png").Order(StringComparer.Ordinal).Select(File.ReadAllBytes).ToList();
        Assert.Equal(approved.Count, pages.Count);
        foreach (var (index, page) in pages.Index())
        {
            var (mean, share) = Rasteriser.Difference(approved[index], page);
            Assert.True(mean <= MostMean && share <= MostShare, $"Page {index + 1} of {name} is not as approved: mean difference {mean:0.00}, {100 * share:0.00} % of the dots.");
        }
    }

    [Fact]
    public void A_page_that_moved_by_a_line_is_seen()
    {
        var pages = Rasteriser.Pages(s_documents["plan-a4"]());
        Assert.Equal((0, 0), Rasteriser.Difference(pages[0], pages[0]));
        var (mean, share) = Rasteriser.Difference(pages[0], pages[1]);
        Assert.True(mean > MostMean && share > MostShare);
        var other = PdfReport.Write(PlanPaper.Build(Plan() with { Warnings = [PlanWarning.DurationTooShort] }, ConductorNaming.Letters, "Invented Bakery", "Leadwright 0.0 test"), PaperSize.A4);
        var (moved, dots) = Rasteriser.Difference(pages[0], Rasteriser.Pages(other)[0]);
        Assert.True(moved > MostMean && dots > MostShare, $"{moved} {dots}");
    }

    [Fact(Explicit = true)]
    public void Approve_the_pages_anew()
    {
        foreach (var old in Directory.GetFiles(Approved(), "*.png")) File.Delete(old);
        foreach (var (name, write) in s_documents)
        {
            foreach (var (index, page) in Rasteriser.Pages(write()).Index()) File.WriteAllBytes(Path.Combine(Approved(), $"{name}-{index + 1:00}.png"), page);
        }
    }

    internal static PlanSheet Plan() => PlanMaker.Of(new SurveyPlan
    {
        Service = ServiceKind.Wye, Nominal = TestSurvey.Wye, Purposes = [SurveyPurpose.Load, SurveyPurpose.Voltage], ExpectedWatts = 60e3, Clamp = new ClampFigures(200, 1, 0.1, 1),
    });

    private static string Approved([CallerFilePath] string path = "") => Directory.CreateDirectory(Path.Combine(Path.GetDirectoryName(path)!, "approved")).FullName;
}
