using System.Globalization;
using System.Text;
using Leadwright.Documents.Fonts;

namespace Leadwright.Documents.Drawings;

/// <summary>Writes a drawing as an SVG element.</summary>
public static class SvgText
{
    /// <summary>The element.</summary>
    /// <param name="drawing">The drawing.</param>
    /// <param name="id">A prefix for its ids, so that several can stand on one page.</param>
    /// <param name="isWholeFile">True for a file of its own, with its fonts in it; false for a part of a page.</param>
    public static string Write(Drawing drawing, string id, bool isWholeFile = false)
    {
        ArgumentNullException.ThrowIfNull(drawing);
        var svg = new StringBuilder(16384);
        svg.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {drawing.Width:0.##} {drawing.Height:0.##}\"");
        if (isWholeFile) svg.Append(CultureInfo.InvariantCulture, $" width=\"{drawing.Width:0.##}\" height=\"{drawing.Height:0.##}\"");
        svg.Append(CultureInfo.InvariantCulture, $" role=\"img\" aria-labelledby=\"{id}-t {id}-d\" font-family=\"'Barlow Semi Condensed','Barlow','Arial Narrow','Liberation Sans Narrow',sans-serif\">");
        svg.Append(CultureInfo.InvariantCulture, $"<title id=\"{id}-t\">{Escaped(drawing.Title)}</title><desc id=\"{id}-d\">{Escaped(drawing.Description)}</desc>\n");
        if (isWholeFile) AppendFonts(svg, drawing);
        var patterns = new Dictionary<(DrawingPattern, Colour?), string>();
        foreach (var mark in drawing.Marks.OfType<PathMark>())
        {
            if (mark.Ink.Pattern is not { } pattern || patterns.ContainsKey((pattern, mark.Ink.Fill))) continue;
            var name = $"{id}-p{patterns.Count}";
            patterns[(pattern, mark.Ink.Fill)] = name;
            svg.Append(CultureInfo.InvariantCulture, $"<pattern id=\"{name}\" width=\"{pattern.Size:0.##}\" height=\"{pattern.Size:0.##}\" patternUnits=\"userSpaceOnUse\">");
            if (mark.Ink.Fill is { } paper) svg.Append(CultureInfo.InvariantCulture, $"<rect width=\"{pattern.Size:0.##}\" height=\"{pattern.Size:0.##}\" fill=\"{paper}\"/>");
            foreach (var tile in pattern.Marks) AppendPath(svg, tile, null);
            svg.Append("</pattern>\n");
        }

        foreach (var mark in drawing.Marks)
        {
            if (mark is PathMark path) AppendPath(svg, path, path.Ink.Pattern is { } pattern ? patterns[(pattern, path.Ink.Fill)] : null);
            else if (mark is TextMark text) AppendText(svg, text);
        }

        return svg.Append("</svg>").ToString();
    }

    // Whole faces: subsets made for PDF lack the table that a page needs to find its letters.
    private static void AppendFonts(StringBuilder svg, Drawing drawing)
    {
        var runs = drawing.Marks.OfType<TextMark>().SelectMany(mark => mark.Runs).ToList();
        svg.Append("<style>");
        foreach (var (face, weight) in (ReadOnlySpan<(Face, int)>)[(Face.Narrow, 500), (Face.NarrowBold, 700)])
        {
            if (!runs.Exists(run => run.IsBold == (face == Face.NarrowBold))) continue;
            svg.Append(CultureInfo.InvariantCulture, $"@font-face{{font-family:'Barlow Semi Condensed';font-weight:{weight};src:url(data:font/ttf;base64,{Convert.ToBase64String(FontShelf.FileOf(face))})}}");
        }

        svg.Append("</style>\n");
    }

    internal static string Escaped(string text) => text.Replace("&", "&amp;", StringComparison.Ordinal).Replace("<", "&lt;", StringComparison.Ordinal)
        .Replace(">", "&gt;", StringComparison.Ordinal).Replace("\"", "&quot;", StringComparison.Ordinal);

    private static void AppendPath(StringBuilder svg, PathMark mark, string? pattern)
    {
        var ink = mark.Ink;
        svg.Append(CultureInfo.InvariantCulture, $"<path d=\"{PathText.Write(mark.Steps)}\" fill=\"{(pattern is not null ? $"url(#{pattern})" : ink.Fill?.ToString() ?? "none")}\"");
        if (ink.FillOpacity < 1) svg.Append(CultureInfo.InvariantCulture, $" fill-opacity=\"{ink.FillOpacity:0.##}\"");
        if (ink.Stroke is { } stroke)
        {
            svg.Append(CultureInfo.InvariantCulture, $" stroke=\"{stroke}\" stroke-width=\"{ink.StrokeWidth:0.##}\"");
            if (ink.StrokeOpacity < 1) svg.Append(CultureInfo.InvariantCulture, $" stroke-opacity=\"{ink.StrokeOpacity:0.##}\"");
            if (!ink.Dashes.IsEmpty) svg.Append(CultureInfo.InvariantCulture, $" stroke-dasharray=\"{string.Join(' ', ink.Dashes.Select(dash => dash.ToString("0.##", CultureInfo.InvariantCulture)))}\"");
            if (ink.IsRound) svg.Append(" stroke-linejoin=\"round\" stroke-linecap=\"round\"");
        }

        svg.Append("/>\n");
    }

    private static void AppendText(StringBuilder svg, TextMark mark)
    {
        var first = mark.Runs[0];
        svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{mark.X:0.##}\" y=\"{mark.Y:0.##}\" font-size=\"{first.Size:0.##}\" font-weight=\"{(first.IsBold ? 700 : 500)}\" fill=\"{mark.Colour}\"");
        if (mark.Anchor != TextAnchor.Start) svg.Append(mark.Anchor == TextAnchor.Middle ? " text-anchor=\"middle\"" : " text-anchor=\"end\"");
        if (mark.FitWidth > 0) svg.Append(CultureInfo.InvariantCulture, $" textLength=\"{mark.FitWidth:0.##}\" lengthAdjust=\"spacingAndGlyphs\"");
        if (mark.Spacing > 0) svg.Append(CultureInfo.InvariantCulture, $" letter-spacing=\"{mark.Spacing:0.##}\"");
        if (mark.IsUpright) svg.Append(CultureInfo.InvariantCulture, $" transform=\"rotate(-90 {mark.X:0.##} {mark.Y:0.##})\"");
        if (mark.HasHalo) svg.Append(CultureInfo.InvariantCulture, $" stroke=\"#ffffff\" stroke-width=\"{first.Size / 4:0.##}\" stroke-linejoin=\"round\" paint-order=\"stroke\"");
        svg.Append('>').Append(Escaped(first.Text));
        foreach (var run in mark.Runs.Skip(1))
            svg.Append(CultureInfo.InvariantCulture, $"<tspan font-size=\"{run.Size:0.##}\" font-weight=\"{(run.IsBold ? 700 : 500)}\"{(run.Gap > 0 ? $" dx=\"{run.Gap.ToString("0.##", CultureInfo.InvariantCulture)}\"" : "")}>{Escaped(run.Text)}</tspan>");
        svg.Append("</text>\n");
    }
}
