using System.Xml.Linq;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Tests.Hookups;

public class HookupDrawingTests
{
    private static readonly XNamespace s_svg = "http://www.w3.org/2000/svg";

    public static TheoryData<string> Names => new(SampleVerdicts.All.Keys);

    [Theory]
    [MemberData(nameof(Names))]
    public void Drawing_is_well_formed_and_has_title_and_description(string name)
    {
        var verdict = SampleVerdicts.All[name]();
        var svg = XElement.Parse(HookupDrawing.Svg(verdict));

        Assert.Equal(s_svg + "svg", svg.Name);
        Assert.Equal("img", svg.Attribute("role")?.Value);
        var ids = svg.Attribute("aria-labelledby")!.Value.Split(' ');
        Assert.Equal(ids[0], svg.Element(s_svg + "title")?.Attribute("id")?.Value);
        Assert.Equal(ids[1], svg.Element(s_svg + "desc")?.Attribute("id")?.Value);
        Assert.Equal(string.Join(' ', HookupDrawing.TextTwin(verdict)), svg.Element(s_svg + "desc")?.Value);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_lead_and_clamp_stands_at_its_bar_and_faces_its_way(string name)
    {
        var verdict = SampleVerdicts.All[name]();
        var svg = XElement.Parse(HookupDrawing.Svg(verdict));
        var bars = svg.Descendants(s_svg + "rect").Where(bar => bar.Attribute("data-conductor") is not null).ToDictionary(
            bar => Enum.Parse<Conductor>(bar.Attribute("data-conductor")!.Value), Middle);

        foreach (var (lead, place) in verdict.Best.Hookup.Leads)
        {
            var clip = Assert.Single(Real(svg, "data-lead", lead.ToString()));
            AssertAt(bars, place, clip);
        }

        foreach (var (clamp, place) in verdict.Best.Hookup.Clamps)
        {
            var jaws = Assert.Single(Real(svg, "data-clamp", clamp.ToString()));
            AssertAt(bars, place.On, jaws);
            Assert.Equal(place.Reversed ? "source" : "load", jaws.Attribute("data-faces")?.Value);
        }
    }

    [Fact]
    public void Wanted_places_are_dotted_at_the_bar_where_each_belongs_and_steps_are_numbered_in_order()
    {
        var svg = XElement.Parse(HookupDrawing.Svg(SampleVerdicts.Exchanged()));

        var ghosts = svg.Descendants(s_svg + "g").Where(group => group.Attribute("data-standing")?.Value == "wanted").ToArray();
        Assert.Equal(["I2", "I3"], ghosts.Select(ghost => ghost.Attribute("data-clamp")?.Value));
        Assert.All(ghosts, ghost => Assert.NotNull(ghost.Element(s_svg + "rect")?.Attribute("stroke-dasharray")));
        Assert.Equal(["1", "2", "3"], svg.Descendants().Select(mark => mark.Attribute("data-step")?.Value).OfType<string>());
    }

    [Fact]
    public void Right_and_undecided_hookups_show_no_movement()
    {
        foreach (var verdict in (HookupVerdict[])[SampleVerdicts.Correct(), SampleVerdicts.Exchanged() with { Verdict = Verdict.Undecided }])
        {
            var svg = XElement.Parse(HookupDrawing.Svg(verdict));
            Assert.DoesNotContain(svg.Descendants(), mark => mark.Attribute("data-step") is not null);
            Assert.DoesNotContain(svg.Descendants(), mark => mark.Attribute("data-standing")?.Value == "wanted");
        }
    }

    [Fact]
    public void Bars_tell_themselves_apart_without_colour()
    {
        // Every conductor in one colour: letters and patterns must still differ.
        var naming = new ConductorNaming("", ConductorNaming.Iec60445.Colours.Keys.Aggregate(
            ConductorNaming.Iec60445.Colours, (colours, conductor) => colours.SetItem(conductor, new ConductorColour("grey", "#808080"))));
        var svg = XElement.Parse(HookupDrawing.Svg(SampleVerdicts.Correct(), naming));

        var patterns = svg.Descendants(s_svg + "pattern").Select(pattern => string.Concat(pattern.Elements())).ToArray();
        Assert.Equal(4, patterns.Length);
        Assert.Equal(4, patterns.Distinct().Count());
        var plates = svg.Elements(s_svg + "text").Select(text => text.Value).ToArray();
        Assert.Superset(new HashSet<string> { "AL1", "BL2", "CL3", "N" }, plates.ToHashSet());
    }

    [Fact]
    public void Wrong_and_right_differ_in_plate_and_in_words_not_in_hue()
    {
        var svg = XElement.Parse(HookupDrawing.Svg(SampleVerdicts.Exchanged()));

        string Plate(string clamp) => Real(svg, "data-clamp", clamp).Single().Elements(s_svg + "rect").Last().Attribute("fill")!.Value;
        string Clip(string lead) => Real(svg, "data-lead", lead).Single().Elements(s_svg + "rect").Last().Attribute("fill")!.Value;
        Assert.True(Lightness(Clip("V1")) - Lightness(Plate("I1")) > 180, "A wrong plate must be dark and a right one light.");
        Assert.Contains("Clamp I1 is on conductor A (brown) and faces the source: wrong. Step 1:", string.Join(' ', HookupDrawing.TextTwin(SampleVerdicts.Exchanged())), StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_reaches_beyond_the_drawing()
    {
        foreach (var make in SampleVerdicts.All.Values)
        {
            var svg = XElement.Parse(HookupDrawing.Svg(make()));
            var size = svg.Attribute("viewBox")!.Value.Split(' ').Select(number => Number(number)).ToArray();
            foreach (var rect in svg.Elements().Concat(svg.Elements(s_svg + "g").Elements()).Where(mark => mark.Name == s_svg + "rect"))
            {
                Assert.InRange(Number(rect.Attribute("x")!.Value), 0, size[2] - Number(rect.Attribute("width")!.Value));
                Assert.InRange(Number(rect.Attribute("y")!.Value), 0, size[3] - Number(rect.Attribute("height")!.Value));
            }
        }
    }

    [Fact]
    public void Colour_words_from_outside_cannot_break_the_drawing()
    {
        var naming = new ConductorNaming("", ConductorNaming.Iec60445.Colours.SetItem(Conductor.A, new ConductorColour("<b>&\"", "#808080")));

        Assert.NotNull(XElement.Parse(HookupDrawing.Svg(SampleVerdicts.Exchanged(), naming)));
    }

    private static IEnumerable<XElement> Real(XElement svg, string attribute, string name) => svg.Descendants(s_svg + "g")
        .Where(group => group.Attribute(attribute)?.Value == name && group.Attribute("data-standing")?.Value != "wanted");

    private static void AssertAt(Dictionary<Conductor, double> bars, Conductor? place, XElement device)
    {
        var middle = Middle(device.Elements(s_svg + "rect").Last());
        if (place is { } on) Assert.Equal(bars[on], middle, 0.2);
        else Assert.All(bars.Values, bar => Assert.True(Math.Abs(bar - middle) > 40, "What is in the air must stand apart from every bar."));
    }

    private static double Middle(XElement rect) => Number(rect.Attribute("x")!.Value) + (Number(rect.Attribute("width")!.Value) / 2);

    private static double Number(string text) => double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);

    private static double Lightness(string hex) => Enumerable.Range(0, 3).Average(part => Convert.ToInt32(hex.Substring(1 + (2 * part), 2), 16));
}
