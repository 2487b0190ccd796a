using System.Xml.Linq;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Documents.Drawings;
using Leadwright.Reports.Hookups;

namespace Leadwright.Documents.Tests.Drawings;

public sealed class DrawingTests
{
    public static TheoryData<string> Panels => [.. DemoPanels.All().Select(panel => panel.Key)];

    [Theory]
    [MemberData(nameof(Panels))]
    public void Every_drawing_of_the_screens_can_be_printed_with_all_its_labels(string key)
    {
        var panel = DemoPanels.Named(key)!;
        var verdict = HookupCheck.Judge(panel.Readings, panel.Options);
        foreach (var svg in (string[])[HookupDrawing.Svg(verdict), VectorDiagram.Svg(verdict)])
        {
            var drawing = SvgDrawing.Read(svg);
            var labels = XElement.Parse(svg).Descendants().Where(element => element.Name.LocalName == "text").Select(element => element.Value.Trim()).Where(text => text.Length > 0);
            Assert.Equal(labels, drawing.Marks.OfType<TextMark>().Select(mark => mark.Text));
            Assert.NotEmpty(drawing.Description);
        }
    }

    [Fact]
    public void A_drawing_written_as_svg_is_well_formed_and_says_what_it_shows()
    {
        var panel = DemoPanels.All()[1];
        var drawing = SvgDrawing.Read(HookupDrawing.Svg(HookupCheck.Judge(panel.Readings, panel.Options)));
        var svg = XElement.Parse(SvgText.Write(drawing, "d1"));
        Assert.Equal(drawing.Title, svg.Elements().First().Value);
        Assert.Equal("img", svg.Attribute("role")!.Value);
        Assert.All(svg.Descendants().Where(element => element.Attribute("fill")?.Value.StartsWith("url(#", StringComparison.Ordinal) == true),
            element => Assert.Contains(svg.Descendants(), pattern => pattern.Attribute("id")?.Value == element.Attribute("fill")!.Value[5..^1]));
    }

    [Theory]
    [InlineData("M10 0A10 10 0 0 1 0 10", 10, 0)]
    [InlineData("M10 0A10 10 0 0 0 -10 0", 10, 0)]
    [InlineData("M5 1A4 4 0 0 0 5 9", 4, 5)]
    public void An_arc_keeps_its_distance_from_the_centre(string path, double radius, double centreY)
    {
        // Points of a cubic Bézier curve with the usual handles stay within 3e-4 of the circle's radius (a property of the approximation, derived).
        var steps = PathText.Parse(path);
        var centreX = radius == 4 ? 5.0 : 0.0;
        var (x, y) = (steps[0].X, steps[0].Y);
        Assert.True(steps.Length > 1);
        foreach (var step in steps.Skip(1))
        {
            for (var t = 0.0; t <= 1; t += 0.125)
            {
                var u = 1 - t;
                var px = (u * u * u * x) + (3 * u * u * t * step.FirstX) + (3 * u * t * t * step.SecondX) + (t * t * t * step.X);
                var py = (u * u * u * y) + (3 * u * u * t * step.FirstY) + (3 * u * t * t * step.SecondY) + (t * t * t * step.Y);
                Assert.InRange(Math.Sqrt(((px - centreX) * (px - centreX)) + ((py - centreY) * (py - centreY))), radius * (1 - 3e-4), radius * (1 + 3e-4));
            }

            (x, y) = (step.X, step.Y);
        }
    }

    [Fact]
    public void A_path_reads_back_as_it_was_written()
    {
        const string Path = "M1 2L3.5 4C5 6 7 8 9 10Z";
        Assert.Equal(Path, PathText.Write(PathText.Parse(Path)));
        Assert.Equal("M1 2L4 2L4 6L5 7Z", PathText.Write(PathText.Parse("m1 2h3v4l1 1z")));
    }

    [Fact]
    public void A_mark_that_no_drawing_of_ours_has_is_refused() =>
        Assert.Contains("<ellipse>", Assert.Throws<FormatException>(() => SvgDrawing.Read("<svg viewBox=\"0 0 1 1\"><ellipse/></svg>")).Message, StringComparison.Ordinal);
}
