using System.Globalization;
using System.Text;
using Leadwright.Core.Planning;
using Leadwright.Reports.Hookups;

namespace Leadwright.Reports.Planning;

/// <summary>Writes a plan as one page to print: the connection drawing, boxes for the readings, the lists, the cautions.</summary>
public static class PlanHtml
{
    private const string Style = """
        @page{size:A4;margin:12mm}*{box-sizing:border-box}
        body{font:10pt/1.3 "Barlow Semi Condensed","Arial Narrow","Liberation Sans Narrow",Arial,"Liberation Sans",sans-serif;color:#14171a;background:#fff;max-width:190mm;margin:0 auto;padding:4mm}
        h1{font-size:18pt;margin:0}h2{font-size:12pt;margin:5mm 0 1.5mm;border-bottom:1.5pt solid #14171a}
        p,ul{margin:0 0 1.5mm}ul{list-style:none;padding:0}.warn{border:2pt solid #14171a;padding:2mm 3mm;margin:3mm 0}
        .caution{border:1.5pt solid #14171a;padding:2mm 3mm;margin:3mm 0;font-weight:600}
        .two{display:grid;grid-template-columns:58mm minmax(0,1fr);gap:5mm;align-items:start}
        table{border-collapse:collapse;width:100%}th,td{border:.75pt solid #555;padding:1.1mm 1.6mm;text-align:left;vertical-align:middle;white-space:nowrap;font-size:9.5pt}
        th{background:#ece9e1}.box{width:24mm;height:8mm}.tick::before{content:"";display:inline-block;width:3.6mm;height:3.6mm;border:1pt solid #14171a;margin-right:2mm;vertical-align:-.5mm}
        svg,tr,li{break-inside:avoid}h2{break-after:avoid}.lists{display:grid;grid-template-columns:1fr 1fr;gap:6mm}.small{font-size:9pt;color:#333}
        .sign{display:grid;grid-template-columns:1fr 1fr 1fr;gap:6mm;margin-top:5mm}.sign div{border-bottom:.75pt solid #555;height:11mm}
        @media(max-width:640px){.two,.lists{grid-template-columns:1fr}}
        """;

    /// <summary>The page, whole by itself: no script, nothing fetched.</summary>
    /// <param name="sheet">The plan.</param>
    /// <param name="naming">How the site's conductors are called and coloured.</param>
    /// <param name="site">The site's name; empty for none.</param>
    public static string Of(PlanSheet sheet, ConductorNaming naming, string site = "")
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(naming);
        var name = site.Length > 0 ? $"Plan: {site}" : "Survey plan";
        var html = new StringBuilder()
            .Append("<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">")
            .Append(CultureInfo.InvariantCulture, $"<title>{Escaped(name)}</title><style>{Style}</style></head><body>\n<h1>{Escaped(name)}</h1>\n");
        Body(html, sheet, naming);
        return html.Append("</body></html>\n").ToString();
    }

    private static void Body(StringBuilder html, PlanSheet sheet, ConductorNaming naming)
    {
        var plan = sheet.Plan;
        Paragraph(html, string.Create(
            CultureInfo.InvariantCulture,
            $"{Phrases.Capital(CheckWords.InSentence(plan.Service))}, {ServiceWording.Nominal(plan.Service, plan.Nominal)} V, {plan.FrequencyHertz:0.##} Hz. Interval {PlanWording.Seconds(sheet.IntervalSeconds)}, {sheet.Days:0.##} days."));
        Paragraph(html, Cautions.Line, "caution");
        foreach (var warning in sheet.Warnings) Paragraph(html, "Does not fit: " + PlanWording.Warning(warning, sheet), "warn");
        html.Append("<div class=\"two\"><section><h2>Connect</h2>\n").Append(ConnectionDrawing.Svg(sheet, naming));
        Paragraph(html, naming.Scheme.Length > 0 ? $"Colours: {naming.Caption}. {Core.Circuits.ColourScheme.Caution}" : Core.Circuits.ColourScheme.Caution, "small");
        html.Append("</section><section><h2>Readings</h2>\n<table><tr><th>Channel</th><th>Expected</th><th>Angle</th><th>Read</th><th>Angle read</th></tr>\n");
        foreach (var reading in sheet.Readings)
        {
            html.Append(CultureInfo.InvariantCulture, $"<tr><th scope=\"row\">{reading.Channel}</th><td>{Escaped(PlanWording.Size(reading))}</td><td>{PlanWording.AngleOf(reading)}</td><td class=\"box\"></td><td class=\"box\"></td></tr>\n");
        }

        foreach (var power in sheet.Powers)
        {
            var watts = power.Watts is { } value ? Phrases.Size(value / 1000, "kW") : "";
            html.Append(CultureInfo.InvariantCulture, $"<tr><th scope=\"row\">P{power.Phase}</th><td>{watts}</td><td>PF {PlanWording.PowerFactor(power)}</td><td class=\"box\"></td><td class=\"box\"></td></tr>\n");
        }

        html.Append("</table>");
        Paragraph(html, "Angles: positive leads, from the first voltage, for a supply that turns A, B, C; angles and power factors as on eight of ten sites of this kind.", "small");
        html.Append("</section></div>\n<section><h2>Why this long, this fine</h2>");
        List(html, sheet.Needs.Select(need => $"{PlanWording.Name(need.Purpose)}: {PlanWording.Why(need.Purpose)}."), "");
        foreach (var line in new[] { PlanWording.Clamp(sheet), PlanWording.Memory(sheet) }.Where(line => line.Length > 0)) Paragraph(html, line);
        html.Append("</section><div class=\"lists\"><section><h2>In the bag</h2>");
        List(html, PlanWording.Bag, "tick");
        html.Append("</section><section><h2>At the panel</h2>");
        List(html, PlanWording.Panel, "tick");
        html.Append("</section></div><section><h2>Cautions</h2>");
        List(html, Cautions.Full, "");
        html.Append("</section><div class=\"sign\"><div>Connected by</div><div>Date and time</div><div>Recorder</div></div>\n");
    }

    private static void Paragraph(StringBuilder html, string text, string look = "") =>
        html.Append(CultureInfo.InvariantCulture, $"<p{(look.Length > 0 ? $" class=\"{look}\"" : "")}>{Escaped(text)}</p>\n");

    private static void List(StringBuilder html, IEnumerable<string> items, string look)
    {
        html.Append("<ul>");
        foreach (var item in items) html.Append(CultureInfo.InvariantCulture, $"<li{(look.Length > 0 ? $" class=\"{look}\"" : "")}>{Escaped(item)}</li>\n");
        html.Append("</ul>");
    }

    private static string Escaped(string text) => SvgWriter.Escaped(text);
}
