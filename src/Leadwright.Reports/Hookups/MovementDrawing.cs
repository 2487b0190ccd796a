using System.Globalization;

namespace Leadwright.Reports.Hookups;

/// <summary>Draws the movements that put a hook-up right, each with its number.</summary>
internal static class MovementDrawing
{
    /// <summary>Draws an arrow in a bow from one column to another.</summary>
    /// <param name="svg">Receives the marks.</param>
    /// <param name="from">Middle of the column where it is.</param>
    /// <param name="to">Middle of the column where it belongs.</param>
    /// <param name="top">Upper edge of the thing that moves.</param>
    /// <param name="number">The number of the step.</param>
    public static void Move(SvgWriter svg, double from, double to, double top, int number)
    {
        var (ink, paper) = HookupDrawing.Colours;
        var way = Math.Sign(to - from);
        var (startX, endX) = (from + (15 * way), to - (13 * way));
        var middle = (startX + endX) / 2;
        var bow = $"M {Text(startX)} {Text(top)} Q {Text(middle)} {Text(top - 20)} {Text(endX)} {Text(top - 2)}";
        svg.Add($"""<path d="{bow}" fill="none" stroke="{paper}" stroke-width="6"/><path d="{bow}" fill="none" stroke="{ink}" stroke-width="2.6"/>""");
        svg.Add($"""<path d="M {endX + (5.0 * way)} {top + 3} L {endX - (8.0 * way)} {top - 0.5} L {endX - (1.0 * way)} {top - 11} Z" fill="{ink}" stroke="{paper}" stroke-width="1"/>""");
        Badge(svg, middle, top - 10, number);
    }

    /// <summary>Draws the sign for turning a clamp round where it is.</summary>
    public static void Turn(SvgWriter svg, double x, double y, int number)
    {
        var (ink, paper) = HookupDrawing.Colours;
        var side = x > DrawingLayout.Width / 2 ? -1.0 : 1.0;
        var (near, far) = (x + (33 * side), x + (58 * side));
        var bow = $"M {Text(near)} {Text(y - 15)} C {Text(far)} {Text(y - 19)} {Text(far)} {Text(y + 19)} {Text(near + (7 * side))} {Text(y + 15)}";
        svg.Add($"""<path d="{bow}" fill="none" stroke="{paper}" stroke-width="6"/><path d="{bow}" fill="none" stroke="{ink}" stroke-width="2.6"/>""");
        svg.Add($"""<path d="M {near - (2.0 * side)} {y + 14.5} L {near + (10.0 * side)} {y + 8.5} L {near + (9.0 * side)} {y + 21.5} Z" fill="{ink}" stroke="{paper}" stroke-width="1"/>""");
        Badge(svg, x + (62 * side), y, number);
    }

    /// <summary>Draws the sign for a ratio that is to be set again.</summary>
    public static void Ratio(SvgWriter svg, double x, double y, double scale, int number)
    {
        var (ink, paper) = HookupDrawing.Colours;
        var side = x > DrawingLayout.Width / 2 ? -1.0 : 1.0;
        var centre = x + (56 * side);
        svg.Add($"""<rect x="{centre - 22}" y="{y - 7}" width="44" height="20" rx="3" fill="{paper}" stroke="{ink}" stroke-width="1.5"/>""");
        svg.Add($"""<text x="{centre}" y="{y + 8}" font-size="13" font-weight="700" text-anchor="middle" fill="{ink}">×{scale.ToString("0.##", CultureInfo.InvariantCulture)}</text>""");
        Badge(svg, centre, y - 17, number);
    }

    private static void Badge(SvgWriter svg, double x, double y, int number)
    {
        var (ink, paper) = HookupDrawing.Colours;
        svg.Add($"""<circle cx="{x}" cy="{y}" r="9.5" fill="{paper}" stroke="{ink}" stroke-width="2"/><text x="{x}" y="{y + 5}" font-size="14" font-weight="700" text-anchor="middle" fill="{ink}" data-step="{number}">{number}</text>""");
    }

    private static string Text(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);
}
