using Leadwright.Core.Circuits;
using Leadwright.Core.Planning;
using Leadwright.Documents.Html;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Model;
using Leadwright.Documents.Pdf;
using Leadwright.Documents.Reports;
using Leadwright.Documents.Sheets;
using Leadwright.Documents.Tests.Pages;
using Leadwright.Reports.Planning;
using UglyToad.PdfPig;

namespace Leadwright.Documents.Tests.Sheets;

public sealed class LeavingPaperTests
{
    internal static LeavingSubject Signed() => new()
    {
        Site = "Invented Bakery", Plan = PageImageTests.Plan(), Items = [("Cover closed", true, ""), ("Clamps compared", false, "")], Note = "Key with the caretaker.", Who = "R. Invented",
        At = new DateTimeOffset(2026, 3, 2, 14, 5, 33, TimeSpan.FromHours(1)), IsOfSurvey = true,
        Proofs = [new PanelProof(new DateTimeOffset(2026, 3, 2, 13, 50, 0, TimeSpan.FromHours(1)), "R. Invented", "faulty", 0.993, ["Clamp I2 faces the source."])],
    };

    [Fact]
    public void A_form_has_every_line_with_a_box_and_a_box_for_every_reading()
    {
        var document = LeavingPaper.Build(new LeavingSubject { Plan = PageImageTests.Plan() }, "test");
        var ticks = Assert.Single(document.Parts[0].Blocks.OfType<TicksBlock>());
        Assert.Equal(DepartingWording.Of(ServiceKind.Wye).Select(item => item.Text), ticks.Items.Select(item => item.Text));
        Assert.All(ticks.Items, item => Assert.Null(item.IsDone));
        var readings = document.Parts.SelectMany(part => part.Blocks).OfType<ColumnsBlock>().SelectMany(block => block.Left).OfType<TableBlock>().Single();
        Assert.Equal(12, readings.Rows.Length);
        Assert.Equal(1, PageCount(document, PaperSize.Letter));
    }

    [Fact]
    public void What_was_signed_is_printed_ticked_and_what_was_not_done_is_said()
    {
        var document = LeavingPaper.Build(Signed(), "test");
        using var pdf = PdfDocument.Open(PdfReport.Write(document, PaperSize.A4));
        var text = string.Concat(pdf.GetPages().Select(page => page.Text));
        foreach (var said in (string[])["Signed by R. Invented, Mon 2 Mar 2026 14:05.", "Not in order or not possible when it was signed: 1 of 2.", "Clamps compared Not done.", "Clamp I2 faces the source.", "99.3 %", "Key with the caretaker."])
            Assert.Contains(said, text.Replace('\u00a0', ' '), StringComparison.Ordinal);
        var page = HtmlReport.Write(document);
        Assert.Contains("aria-label=\"done\"", page, StringComparison.Ordinal);
        Assert.Contains("aria-label=\"not done\"", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(SurveyPurpose.Load, SurveyPurpose.Voltage)]
    [InlineData(SurveyPurpose.Load, SurveyPurpose.SpareCapacity, SurveyPurpose.Voltage, SurveyPurpose.Harmonics, SurveyPurpose.FaultFinding)]
    public void A_plan_of_every_service_fits_on_two_pages_of_either_paper(params SurveyPurpose[] purposes)
    {
        foreach (var service in Core.Hookups.Service.All)
        {
            var nominal = Core.Circuits.NominalVoltage.TryParse(service.IsThreeWire ? "400" : service.Kind == Core.Circuits.ServiceKind.Single ? "230" : service.Kind == Core.Circuits.ServiceKind.Wye ? "230/400" : "120/240", service.Kind, out var found) ? found : null;
            if (nominal is null && !Core.Circuits.NominalVoltage.TryParse("120/208", service.Kind, out nominal)) Assert.Fail(service.Name);
            var sheet = Core.Planning.PlanMaker.Of(PageImageTests.Plan().Plan with
            {
                Service = service.Kind,
                Nominal = nominal!,
                MayExport = true,
                Purposes = [.. purposes],
                Recorder = new Core.Planning.RecorderFigures { MemoryBytes = 100, BatteryHours = 1, OutageHours = 5 },
            });
            var document = PlanPaper.Build(sheet, Leadwright.Reports.Hookups.ConductorNaming.Iec60445, "Invented Bakery", "test");
            foreach (var paper in (PaperSize[])[PaperSize.A4, PaperSize.Letter]) Assert.True(PageCount(document, paper) <= 2, $"{service.Name} on {paper.Name}");
        }
    }

    private static int PageCount(ReportDocument document, PaperSize paper)
    {
        using var pdf = PdfDocument.Open(PdfReport.Write(document, paper));
        return pdf.NumberOfPages;
    }
}
