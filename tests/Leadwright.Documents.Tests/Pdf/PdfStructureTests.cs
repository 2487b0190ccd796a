using Leadwright.Documents.Layout;
using Leadwright.Documents.Pdf;
using Leadwright.Documents.Reports;
using Leadwright.Documents.Sheets;
using Leadwright.Documents.Tests.Pages;
using Leadwright.Reports.Hookups;
using UglyToad.PdfPig;

namespace Leadwright.Documents.Tests.Pdf;

/// <summary>The logical structure (ISO 32000-1, clause 14.8) and the links of every kind of document.</summary>
public sealed class PdfStructureTests
{
    // What may stand in what: ISO 32000-1, 14.8.4.2 and 14.8.4.3, as far as our documents use it.
    private static readonly Dictionary<string, string[]> s_kids = new(StringComparer.Ordinal)
    {
        ["Document"] = ["Sect"],
        ["Sect"] = ["Title", "H1", "H2", "P", "L", "Table", "Figure", "Note", "TOC", "Div"],
        ["Div"] = ["H2", "P", "L", "Table", "Figure", "Note"],
        ["L"] = ["LI"], ["LI"] = ["Lbl", "LBody"], ["Lbl"] = ["Figure"], ["LBody"] = [],
        ["Table"] = ["TR"], ["TR"] = ["TH", "TD"], ["TH"] = [], ["TD"] = [],
        ["TOC"] = ["TOCI"], ["TOCI"] = ["Link"], ["Link"] = [], ["Note"] = ["P"], ["P"] = [], ["H1"] = [], ["H2"] = [], ["Title"] = [], ["Figure"] = [],
    };

    public static TheoryData<string> Documents() => ["week", "half lost", "house", "plan", "leaving", "signed"];

    [Theory]
    [MemberData(nameof(Documents))]
    public void All_content_belongs_to_one_element_and_the_elements_stand_as_the_standard_lets_them(string name)
    {
        var bytes = Write(name);
        var objects = new PdfObjects(bytes);
        var structure = objects.Structure();
        Assert.All(structure, element => Assert.All(element.Kids, kid => Assert.Contains(kid, s_kids[element.Type])));
        var marks = structure.SelectMany(element => element.Marks).ToList();
        Assert.Equal(marks.Count, marks.Distinct().Count());
        using var pdf = PdfDocument.Open(bytes);
        foreach (var (index, page) in objects.Pages.Index())
        {
            // Every mark of the page is owned; what has none is an artifact (running heads, rules, pictures' frames).
            var owned = marks.Where(mark => mark.Page == page).Select(mark => mark.Mark).Order().ToList();
            var onPage = pdf.GetPage(index + 1).GetMarkedContents().Where(content => content.Tag != "Artifact").Select(content => content.MarkedContentIdentifier).Distinct().Order().ToList();
            Assert.Equal(onPage, owned.Where(onPage.Contains));
            Assert.Equal(owned.Count, owned.Distinct().Count());
        }
    }

    [Theory]
    [MemberData(nameof(Documents))]
    public void The_structure_runs_in_the_order_of_the_pages(string name)
    {
        var objects = new PdfObjects(Write(name));
        var order = objects.Structure().SelectMany(element => element.Marks).Select(mark => objects.Pages.IndexOf(mark.Page)).ToList();
        Assert.NotEmpty(order);
        // A table's caption, an element of its own, may be met again below; pages never run backwards by more than none.
        Assert.Equal(order.Order(), order);
    }

    // ISO 32000-1, table 349: a header cell says what it heads.
    [Theory]
    [MemberData(nameof(Documents))]
    public void Cells_that_head_a_column_or_a_row_of_a_table_say_so(string name)
    {
        var tables = new PdfObjects(Write(name)).Tables();
        Assert.True(tables.Count > 0 || name == "signed");
        foreach (var rows in tables)
        {
            var width = rows.Max(row => row.Sum(cell => cell.Span));
            Assert.All(rows, row => Assert.Equal(width, row.Sum(cell => cell.Span)));
            Assert.All(rows.SelectMany(row => row), cell => Assert.Equal(cell.Type == "TH", cell.Scope.Length > 0));
            // A list of facts has its headings in the first column; every other table has a row of them on top, and nowhere else.
            var heads = rows.Select(row => row.All(cell => cell.Scope == "Column")).ToList();
            Assert.DoesNotContain(true, heads.Skip(1));
            Assert.All(rows.Skip(heads[0] ? 1 : 0), row => Assert.True(row[0].Scope is "Row" || row.All(cell => cell.Type == "TD")));
            if (!heads[0]) Assert.All(rows, row => Assert.Equal("Row", row[0].Scope));
        }
    }

    [Theory]
    [MemberData(nameof(Documents))]
    public void Every_link_has_words_and_stands_in_the_structure_once(string name)
    {
        var links = new PdfObjects(Write(name)).Links();
        Assert.True(links.Count > 0 || name is "plan" or "leaving" or "signed");
        Assert.All(links, link => Assert.True(link is { Holders: 1, HasParent: true } && link.Says.Length > 2, link.ToString()));
    }

    [Theory]
    [MemberData(nameof(Documents))]
    public void Every_link_and_every_bookmark_leads_to_a_page(string name)
    {
        var objects = new PdfObjects(Write(name));
        Assert.NotEmpty(objects.Destinations);
        Assert.All(objects.Destinations, page => Assert.Contains(page, objects.Pages));
    }

    [Theory]
    [MemberData(nameof(Documents))]
    public void A_program_of_others_finds_no_fault_in_the_file(string name)
    {
        var path = Path.Combine(Directory.CreateTempSubdirectory("leadwright-qpdf-").FullName, "file.pdf");
        File.WriteAllBytes(path, Write(name));
        Rasteriser.Run("qpdf", "--check", path);
        Directory.Delete(Path.GetDirectoryName(path)!, recursive: true);
    }

    private static byte[] Write(string name) => PdfReport.Write(
        name switch
        {
            "week" => ReportBuilder.Build(TestSurvey.Week(), TestSurvey.Settings()),
            "half lost" => ReportBuilder.Build(TestSurvey.HalfLost(), TestSurvey.Settings()),
            "house" => ReportBuilder.Build(TestSurvey.Of(TestSurvey.Real("interval/household-1min-2007-02-01.csv"), Core.Circuits.ServiceKind.Single), TestSurvey.Settings()),
            "plan" => PlanPaper.Build(PageImageTests.Plan(), ConductorNaming.Letters, "Invented Bakery", "Leadwright 0.0 test"),
            "leaving" => LeavingPaper.Build(new LeavingSubject { Site = "Invented Bakery", Plan = PageImageTests.Plan() }, "Leadwright 0.0 test"),
            _ => LeavingPaper.Build(Sheets.LeavingPaperTests.Signed(), "Leadwright 0.0 test"),
        },
        PaperSize.A4);
}
