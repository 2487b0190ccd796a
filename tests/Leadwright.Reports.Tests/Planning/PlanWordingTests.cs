using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Planning;
using Leadwright.Reports.Hookups;
using Leadwright.Reports.Planning;

namespace Leadwright.Reports.Tests.Planning;

public sealed class PlanWordingTests
{
    public static TheoryData<ServiceKind> Services => [.. Enum.GetValues<ServiceKind>()];

    [Theory]
    [MemberData(nameof(Services))]
    public void Every_service_has_a_drawing_with_each_lead_and_clamp_on_its_own_conductor(ServiceKind kind)
    {
        var sheet = Sheet(kind);
        var svg = System.Xml.Linq.XElement.Parse(ConnectionDrawing.Svg(sheet));
        var service = Service.Of(kind);
        Assert.Equal(service.Leads.Length, svg.Descendants().Count(element => element.Attribute("data-lead") is not null));
        Assert.Equal(service.Clamps.Length, svg.Descendants().Count(element => element.Attribute("data-faces")?.Value == "load"));
        Assert.Equal(service.Leads.Length + service.Clamps.Length, ConnectionDrawing.TextTwin(sheet).Count);
    }

    [Fact]
    public void A_warning_says_what_to_do()
    {
        var sheet = PlanMaker.Of(new SurveyPlan
        {
            Service = ServiceKind.Wye, Nominal = new NominalVoltage(230, 400), ExpectedAmperes = 20, Clamp = new ClampFigures(1000, 1, 0.1, 1),
            Purposes = [SurveyPurpose.Voltage, SurveyPurpose.SpareCapacity], IntervalSeconds = 900, Days = 10,
        });
        Assert.Equal(
            [
                "The expected load is 2 % of the clamps' range: below a tenth of it they say little, of angles least. A range of 100 A suits.",
                "The interval is longer than “Room for more load” (1 min) and “Voltage quality” (10 min) allows.",
                "The record is shorter than “Room for more load” (30 days) needs.",
            ],
            sheet.Warnings.Select(warning => PlanWording.Warning(warning, sheet)));
    }

    [Theory]
    [InlineData(-120, -120, "−120°")]
    [InlineData(-42.2, 4.6, "−42° to 5°")]
    [InlineData(160, 207, "160° to −153°")]
    public void Angles_are_said_from_minus_180_to_180(double from, double to, string says) =>
        Assert.Equal(says, PlanWording.AngleOf(new ExpectedReading(Channel.I1, 1, 2, 3, from, to)));

    [Theory]
    [MemberData(nameof(Services))]
    public void The_page_to_print_has_a_box_for_every_reading_and_the_cautions(ServiceKind kind)
    {
        var sheet = Sheet(kind);
        var html = PlanHtml.Of(sheet, ConductorNaming.Letters);
        Assert.Equal(2 * (sheet.Readings.Length + sheet.Powers.Length), html.Split("class=\"box\"").Length - 1);
        foreach (var caution in Cautions.Full) Assert.Contains(caution, html, StringComparison.Ordinal);
    }

    private static PlanSheet Sheet(ServiceKind kind) => PlanMaker.Of(new SurveyPlan
    {
        Service = kind, Nominal = new NominalVoltage(120, 120 * NominalVoltage.LineRatio(kind)), ExpectedAmperes = 20,
    });
}
