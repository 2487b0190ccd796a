using System.Globalization;
using Leadwright.Core.Circuits;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>Draws conductors as bars with engraved plates.</summary>
internal static class BarDrawing
{
    private const double BarWidth = 22;
    private const string Engraving = "#2a2e31";

    /// <summary>Defines each bar's fill: the site's colour under a pattern of its own, so that grey print still tells them apart.</summary>
    public static void Patterns(SvgWriter svg, DrawingLayout layout, ConductorNaming naming, string id)
    {
        svg.Add($"<defs>");
        foreach (var conductor in layout.Conductors)
        {
            var colour = naming.ColourOf(conductor).CssHex;
            var mark = IsDark(colour) ? "#ffffff" : "#000000";
            var pattern = conductor switch
            {
                Conductor.B => $"""<path d="M-3 3 L3 -3 M0 14 L14 0 M11 17 L17 11" stroke="{mark}" stroke-opacity=".5" stroke-width="2"/>""",
                Conductor.C => $"""<circle cx="4" cy="4" r="1.7" fill="{mark}" fill-opacity=".55"/><circle cx="11" cy="11" r="1.7" fill="{mark}" fill-opacity=".55"/>""",
                Conductor.N => $"""<path d="M0 3.5 H14 M0 10.5 H14" stroke="{mark}" stroke-opacity=".5" stroke-width="1.8"/>""",
                Conductor.G => $"""<path d="M0 0 L7 7 L14 0 M0 14 L7 7 L14 14" fill="none" stroke="{mark}" stroke-opacity=".5" stroke-width="1.8"/>""",
                _ => "",
            };
            svg.Add($"""<pattern id="{id}-bar-{conductor}" width="14" height="14" patternUnits="userSpaceOnUse"><rect width="14" height="14" fill="{colour}"/>{pattern}</pattern>""");
        }

        svg.Add($"</defs>");
    }

    /// <summary>Draws a conductor with its plate, and a label above that where it is a line of its own kind.</summary>
    public static void Bar(SvgWriter svg, DrawingLayout layout, Conductor conductor, ConductorNaming naming, string id, string label = "")
    {
        var x = layout.X(conductor);
        var top = DrawingLayout.PlateTop;
        svg.Add($"""<rect x="{x - (BarWidth / 2)}" y="{top + 10}" width="{BarWidth}" height="{layout.BarBottom - top - 10}" rx="2" fill="url(#{id}-bar-{conductor})" stroke="#45484b" data-conductor="{conductor}"/>""");
        svg.Add($"""<rect x="{x - (layout.PlateWidth / 2)}" y="{top}" width="{layout.PlateWidth}" height="{DrawingLayout.PlateHeight}" rx="4" fill="{Engraving}" stroke="#fff" stroke-width="1.5"/>""");
        var line = ConductorNaming.LineName(conductor);
        var second = line.Length == 0 ? "" : $"""<tspan font-size="13" font-weight="400" dx="5">{line}</tspan>""";
        var word = naming.WordOf(conductor);
        var baseline = word.Length == 0 ? top + 29 : top + 21;
        svg.Add($"""<text x="{x}" y="{baseline}" font-size="19" font-weight="700" text-anchor="middle" fill="#fff">{conductor}{second}</text>""");
        if (label.Length > 0)
            svg.Add($"""<text x="{x}" y="{top - 6}" font-size="13" font-weight="700" text-anchor="middle" fill="{Engraving}" data-label="{conductor}">{SvgWriter.Escaped(label)}</text>""");
        if (word.Length == 0) return;
        var room = layout.PlateWidth - 8;
        var squeeze = word.Length * 6.6 > room
            ? string.Create(CultureInfo.InvariantCulture, $" textLength=\"{room:0.#}\" lengthAdjust=\"spacingAndGlyphs\"") : "";
        svg.Add($"""<text x="{x}" y="{top + 37}" font-size="12" text-anchor="middle" fill="#fff"{squeeze}>{SvgWriter.Escaped(word)}</text>""");
    }

    /// <summary>Draws the piece of a bar that stands in front of the far half of a clamp's jaws.</summary>
    public static void Through(SvgWriter svg, double x, double y, Conductor conductor, string id)
    {
        svg.Add($"""<rect x="{x - (BarWidth / 2)}" y="{y - 22}" width="{BarWidth}" height="10" fill="url(#{id}-bar-{conductor})"/>""");
        svg.Add($"""<path d="M {x - (BarWidth / 2)} {y - 22} v 10 M {x + (BarWidth / 2)} {y - 22} v 10" stroke="#45484b"/>""");
    }

    /// <summary>Draws the column of what is in the air.</summary>
    public static void Air(SvgWriter svg, DrawingLayout layout)
    {
        var x = layout.X(null);
        svg.Add($"""<rect x="{x - 28}" y="{DrawingLayout.PlateTop}" width="56" height="{DrawingLayout.PlateHeight}" rx="4" fill="none" stroke="{Engraving}" stroke-width="1.5" stroke-dasharray="4 3"/>""");
        svg.Add($"""<text x="{x}" y="{DrawingLayout.PlateTop + 19}" font-size="13" text-anchor="middle" fill="{Engraving}">{SvgWriter.Escaped(Say.Of("drawing.in-the", "in the"))}</text><text x="{x}" y="{DrawingLayout.PlateTop + 34}" font-size="13" text-anchor="middle" fill="{Engraving}">{SvgWriter.Escaped(Say.Of("drawing.air", "air"))}</text>""");
    }

    // Relative luminance with the weights of Rec. ITU-R BT.709, without its gamma: enough to choose black or white marks.
    private static bool IsDark(string hex)
    {
        if (hex.Length != 7 || !int.TryParse(hex.AsSpan(1), NumberStyles.HexNumber, CultureInfo.InvariantCulture, out var rgb)) return false;
        return (0.2126 * ((rgb >> 16) & 255)) + (0.7152 * ((rgb >> 8) & 255)) + (0.0722 * (rgb & 255)) < 120;
    }
}
