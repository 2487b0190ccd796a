using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>Draws leads as clips and clamps as jaws, each with its label plate.</summary>
internal static class DeviceDrawing
{
    private const string Dots = "stroke-dasharray=\"2.5 3\"";

    /// <summary>Draws a lead's clip with its middle at a place.</summary>
    public static void Lead(SvgWriter svg, double x, double y, Lead lead, Standing standing)
    {
        var (ink, paper) = HookupDrawing.Colours;
        var (fill, letters) = standing == Standing.Wrong ? (ink, paper) : (paper, ink);
        var dotted = standing == Standing.Wanted ? Dots : "";
        svg.Add($"""<g data-lead="{lead}" data-standing="{Name(standing)}">""");
        if (standing != Standing.Wanted)
        {
            // The clip's teeth, above and below the plate, bite the bar.
            svg.Add($"""<path d="M {x - 15} {y - 11} l 5 -6 l 5 6 l 5 -6 l 5 6 l 5 -6 l 5 6 z M {x - 15} {y + 11} l 5 6 l 5 -6 l 5 6 l 5 -6 l 5 6 l 5 -6 z" fill="{ink}" stroke="{paper}" stroke-width=".8"/>""");
        }

        svg.Add($"""<rect x="{x - 23}" y="{y - 11}" width="46" height="22" rx="2" fill="{fill}" fill-opacity="{(standing == Standing.Wanted ? ".75" : "1")}" stroke="{ink}" stroke-width="2" {dotted}/>""");
        svg.Add($"""<text x="{x}" y="{y + 6}" font-size="16" font-weight="700" text-anchor="middle" fill="{letters}">{lead}</text></g>""");
    }

    /// <summary>Draws a clamp's jaws with their middle at a place, its arrow down to the load or up to the source.</summary>
    public static void Clamp(SvgWriter svg, double x, double y, Clamp clamp, bool isReversed, Standing standing)
    {
        var (ink, paper) = HookupDrawing.Colours;
        var (fill, letters) = standing == Standing.Wrong ? (ink, paper) : (paper, ink);
        var dotted = standing == Standing.Wanted ? Dots : "";
        svg.Add($"""<g data-clamp="{clamp}" data-standing="{Name(standing)}" data-faces="{(isReversed ? "source" : "load")}">""");
        if (standing == Standing.Wanted)
            svg.Add($"""<rect x="{x - 29}" y="{y - 18}" width="58" height="36" rx="17" fill="none" stroke="{ink}" stroke-width="2" {dotted}/>""");
        else
            svg.Add($"""<rect x="{x - 28}" y="{y - 17}" width="56" height="34" rx="16" fill="none" stroke="{paper}" stroke-width="7.5"/><rect x="{x - 28}" y="{y - 17}" width="56" height="34" rx="16" fill="none" stroke="{ink}" stroke-width="4.5"/>""");

        svg.Add($"""<rect x="{x - 22}" y="{y - 11}" width="44" height="22" rx="8" fill="{fill}" fill-opacity="{(standing == Standing.Wanted ? ".75" : "1")}" stroke="{ink}" stroke-width="1.5" {dotted}/>""");
        svg.Add($"""<text x="{x - 7}" y="{y + 5.5}" font-size="15" font-weight="700" text-anchor="middle" fill="{letters}">{clamp}</text>""");
        var (tip, tail) = isReversed ? (y - 8, y + 8) : (y + 8, y - 8);
        var neck = isReversed ? y : y - 0.5;
        svg.Add($"""<path d="M {x + 12} {tail} V {neck}" stroke="{letters}" stroke-width="3.5"/><path d="M {x + 12} {tip} L {x + 6} {neck} H {x + 18} Z" fill="{letters}"/></g>""");
    }

    private static string Name(Standing standing) => standing switch
    {
        Standing.Right => "right",
        Standing.Wrong => "wrong",
        _ => "wanted",
    };
}
