using Leadwright.Core.Hookups;
using Leadwright.Core.Planning;
using Leadwright.Core.Wording;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Planning;

/// <summary>Draws how leads and clamps are to be connected: the hook-up drawing with everything where it belongs.</summary>
public static class ConnectionDrawing
{
    /// <summary>The drawing as an SVG element that scales with its place; legible from 340 px wide, in grey and in print.</summary>
    /// <param name="sheet">The plan.</param>
    /// <param name="naming">How the site's conductors are called and coloured; null for IEC 60445.</param>
    /// <param name="id">A prefix for the ids in the drawing.</param>
    public static string Svg(PlanSheet sheet, ConductorNaming? naming = null, string id = "plan")
    {
        ArgumentNullException.ThrowIfNull(sheet);
        naming ??= ConductorNaming.Iec60445;
        var hookup = sheet.Hookup;
        var layout = new DrawingLayout(Service.Of(sheet.Plan.Service), hookup);
        var svg = new SvgWriter();
        svg.Add($"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {DrawingLayout.Width} {layout.Height}" width="100%" role="img" aria-labelledby="{id}-title {id}-desc" font-family="system-ui, 'Segoe UI', 'DejaVu Sans', sans-serif">""");
        svg.Add($"""<title id="{id}-title">{SvgWriter.Escaped(Say.Of("drawing.connection", "Connection drawing: where every lead and clamp belongs"))}</title>""");
        svg.Add($"""<desc id="{id}-desc">{SvgWriter.Escaped(string.Join(' ', TextTwin(sheet, naming)))}</desc>""");
        svg.Add($"""<rect x="1" y="1" width="{DrawingLayout.Width - 2}" height="{layout.Height - 2}" rx="8" fill="#f0ede6" stroke="#c9c4b8"/>""");
        Caption(svg, 22, Say.Of("drawing.from-the-source", "FROM THE SOURCE"));
        Caption(svg, layout.Height - 12, Say.Of("drawing.to-the-load", "TO THE LOAD"));
        BarDrawing.Patterns(svg, layout, naming, id);
        foreach (var conductor in layout.Conductors) BarDrawing.Bar(svg, layout, conductor, naming, id);
        foreach (var (lead, place) in hookup.Leads) DeviceDrawing.Lead(svg, layout.X(place), layout.Y(lead), lead, Standing.Right);
        foreach (var (clamp, place) in hookup.Clamps)
        {
            DeviceDrawing.Clamp(svg, layout.X(place.On), layout.Y(clamp), clamp, false, Standing.Right);
            BarDrawing.Through(svg, layout.X(place.On), layout.Y(clamp), place.On!.Value, id);
        }

        svg.Add($"</svg>");
        return svg.ToString();
    }

    /// <summary>The drawing's text twin: one sentence for each lead and clamp.</summary>
    /// <param name="sheet">The plan.</param>
    /// <param name="naming">How the site's conductors are called; null for IEC 60445.</param>
    public static IReadOnlyList<string> TextTwin(PlanSheet sheet, ConductorNaming? naming = null)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        naming ??= ConductorNaming.Iec60445;
        return
        [
            .. sheet.Hookup.Leads.Select(lead => Say.Of("drawing.lead-goes-on", "Lead {lead} goes on {conductor}.", ("lead", lead.Key), ("conductor", naming.Phrase(lead.Value!.Value)))),
            .. sheet.Hookup.Clamps.Select(clamp => Say.Of("drawing.clamp-goes-round", "Clamp {clamp} goes round {conductor}, its arrow to the load.", ("clamp", clamp.Key), ("conductor", naming.Phrase(clamp.Value.On!.Value)))),
        ];
    }

    private static void Caption(SvgWriter svg, double y, string text)
    {
        var (ink, _) = HookupDrawing.Colours;
        svg.Add($"""<text x="{DrawingLayout.Width / 2}" y="{y}" font-size="12" letter-spacing="1" text-anchor="middle" fill="{ink}">↓ {SvgWriter.Escaped(text)} ↓</text>""");
    }
}
