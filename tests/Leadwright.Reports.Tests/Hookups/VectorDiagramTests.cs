using System.Globalization;
using System.Xml.Linq;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Tests.Hookups;

public class VectorDiagramTests
{
    private static readonly XNamespace s_svg = "http://www.w3.org/2000/svg";

    public static TheoryData<string> Names => new(SampleVerdicts.All.Keys);

    [Theory]
    [MemberData(nameof(Names))]
    public void Diagram_is_well_formed_and_described(string name)
    {
        var verdict = SampleVerdicts.All[name]();
        var svg = XElement.Parse(VectorDiagram.Svg(verdict));

        Assert.Equal("Vector diagram", svg.Element(s_svg + "title")?.Value);
        Assert.Equal(VectorDiagram.Description(verdict), svg.Element(s_svg + "desc")?.Value);
    }

    [Fact]
    public void Reference_points_up_and_positive_angles_turn_anticlockwise()
    {
        var svg = XElement.Parse(VectorDiagram.Svg(SampleVerdicts.Exchanged()));

        var (x1, y1) = Run(svg, "V1");
        Assert.Equal(0, x1, 0.5);
        Assert.True(y1 < -100, "V1 at 0 degrees must point up.");
        var (x3, y3) = Run(svg, "V3");
        Assert.True(x3 < -80 && y3 > 30, "V3 at +120 degrees must point left and down.");
        var (x2, _) = Run(svg, "V2");
        Assert.True(x2 > 80, "V2 at −120 degrees must point right.");
    }

    [Fact]
    public void Voltages_and_currents_differ_in_stroke_not_only_in_colour()
    {
        var svg = XElement.Parse(VectorDiagram.Svg(SampleVerdicts.Exchanged()));

        Assert.Null(Line(svg, "V1").Attribute("stroke-dasharray"));
        Assert.NotNull(Line(svg, "I1").Attribute("stroke-dasharray"));
    }

    [Fact]
    public void Every_vector_has_its_label_and_labels_do_not_cover_each_other()
    {
        foreach (var make in SampleVerdicts.All.Values)
        {
            var verdict = make();
            var labels = XElement.Parse(VectorDiagram.Svg(verdict)).Elements(s_svg + "text")
                .Where(text => Enum.TryParse<Channel>(text.Value, out _))
                .Select(text => (text.Value, X: Number(text, "x"), Y: Number(text, "y"))).ToArray();
            Assert.Equal(verdict.Phasors.Keys.Select(key => key.ToString()).Order(), labels.Select(label => label.Value).Order());
            foreach (var label in labels)
                Assert.DoesNotContain(labels, other => other != label && Math.Abs(other.X - label.X) < 22 && Math.Abs(other.Y - label.Y) < 14);
        }
    }

    [Fact]
    public void Order_of_the_voltages_is_said_in_words()
    {
        var verdict = SampleVerdicts.Correct();
        var reversed = verdict with
        {
            Phasors = verdict.Phasors.SetItem(Channel.V2, Phasor.FromDegrees(230, 120)).SetItem(Channel.V3, Phasor.FromDegrees(230, -120)),
        };
        var alike = verdict with
        {
            Phasors = verdict.Phasors.SetItem(Channel.V2, Phasor.FromDegrees(230, 0)).SetItem(Channel.V3, Phasor.FromDegrees(230, 0)),
        };

        Assert.Equal("The voltages come in the order 1, 2, 3.", VectorDiagram.PhaseOrder(verdict));
        Assert.Equal("The voltages come in the order 1, 3, 2.", VectorDiagram.PhaseOrder(reversed));
        Assert.Equal("The voltages come in no clear order.", VectorDiagram.PhaseOrder(alike));
        Assert.Equal("The voltages come in the order V12, V31 and V23.", VectorDiagram.PhaseOrder(SampleVerdicts.ThreeWire()));
        Assert.Equal("The two voltages stand 180° apart.", VectorDiagram.PhaseOrder(SampleVerdicts.Split()));
        Assert.Equal("No order of the voltages was read.", VectorDiagram.PhaseOrder(SampleVerdicts.Undecided()));
    }

    private static XElement Line(XElement svg, string channel) =>
        svg.Elements(s_svg + "line").Single(line => line.Attribute("data-channel")?.Value == channel);

    private static (double X, double Y) Run(XElement svg, string channel)
    {
        var line = Line(svg, channel);
        return (Number(line, "x2") - Number(line, "x1"), Number(line, "y2") - Number(line, "y1"));
    }

    private static double Number(XElement element, string attribute) =>
        double.Parse(element.Attribute(attribute)!.Value, CultureInfo.InvariantCulture);
}
