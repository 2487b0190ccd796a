using System.Collections.Immutable;
using System.Globalization;
using System.Xml.Linq;

namespace Leadwright.Documents.Drawings;

/// <summary>Reads the SVG that this program itself draws for its screens, so that a document shows the same drawing.</summary>
/// <remarks>Not a reader of any SVG: what our drawings do not use is refused.</remarks>
public static class SvgDrawing
{
    /// <summary>Reads a drawing.</summary>
    /// <param name="svg">The SVG element.</param>
    /// <exception cref="FormatException">It holds something that none of our drawings has.</exception>
    public static Drawing Read(string svg)
    {
        var root = XElement.Parse(svg, LoadOptions.PreserveWhitespace);
        var box = root.Attribute("viewBox")!.Value.Split(' ').Select(Number).ToArray();
        var reader = new Reader();
        foreach (var pattern in root.Descendants().Where(element => element.Name.LocalName == "pattern")) reader.AddPattern(pattern);
        reader.Take(root.Elements(), new Looks());
        return new Drawing(box[2], box[3], [.. reader.Marks])
        {
            Title = root.Elements().FirstOrDefault(element => element.Name.LocalName == "title")?.Value ?? "",
            Description = root.Elements().FirstOrDefault(element => element.Name.LocalName == "desc")?.Value ?? "",
        };
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private sealed record Looks
    {
        public string Fill { get; init; } = "#000000";

        public string Stroke { get; init; } = "none";

        public double StrokeWidth { get; init; } = 1;

        public double Size { get; init; } = 16;

        public bool IsBold { get; init; }
    }

    private sealed class Reader
    {
        private readonly Dictionary<string, (Colour? Paper, DrawingPattern Pattern)> _patterns = [];

        public List<Mark> Marks { get; } = [];

        public void AddPattern(XElement pattern)
        {
            var tile = new Reader();
            tile.Take(pattern.Elements(), new Looks());
            var size = Value(pattern, "width", 0);
            var marks = tile.Marks.OfType<PathMark>().ToList();
            // The first rectangle is the paper of the tile.
            var paper = marks.Count > 0 ? marks[0].Ink.Fill : null;
            _patterns[pattern.Attribute("id")!.Value] = (paper, new DrawingPattern(size, [.. marks.Skip(1)]));
        }

        public void Take(IEnumerable<XElement> elements, Looks inherited)
        {
            foreach (var element in elements)
            {
                var looks = LooksOf(element, inherited);
                switch (element.Name.LocalName)
                {
                    case "g": Take(element.Elements(), looks); break;
                    case "rect": Path(PathShapes.Rectangle(Value(element, "x", 0), Value(element, "y", 0), Value(element, "width", 0), Value(element, "height", 0), Value(element, "rx", 0)), element, looks); break;
                    case "circle": Path(PathShapes.Circle(Value(element, "cx", 0), Value(element, "cy", 0), Value(element, "r", 0)), element, looks); break;
                    case "line": Path(PathShapes.Line(Value(element, "x1", 0), Value(element, "y1", 0), Value(element, "x2", 0), Value(element, "y2", 0)), element, looks with { Fill = "none" }); break;
                    case "path": Path(PathText.Parse(element.Attribute("d")!.Value), element, looks); break;
                    case "text": Text(element, looks); break;
                    case "title" or "desc" or "defs" or "pattern": break;
                    case var name: throw new FormatException($"This is a bug in Leadwright: a drawing holds <{name}>.");
                }
            }
        }

        private void Path(ImmutableArray<PathStep> steps, XElement element, Looks looks)
        {
            Colour? fill = null;
            DrawingPattern? pattern = null;
            if (looks.Fill.StartsWith("url(#", StringComparison.Ordinal)) (fill, pattern) = _patterns[looks.Fill[5..^1]];
            else if (looks.Fill != "none") fill = Colour.Parse(looks.Fill);
            Marks.Add(new PathMark(steps, new Ink
            {
                Fill = fill,
                Pattern = pattern,
                FillOpacity = Value(element, "fill-opacity", 1),
                Stroke = looks.Stroke == "none" ? null : Colour.Parse(looks.Stroke),
                StrokeWidth = looks.StrokeWidth,
                StrokeOpacity = Value(element, "stroke-opacity", 1),
                Dashes = element.Attribute("stroke-dasharray") is { } dashes ? [.. dashes.Value.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Number)] : [],
            }));
        }

        private void Text(XElement element, Looks looks)
        {
            var runs = ImmutableArray.CreateBuilder<TextRun>();
            foreach (var node in element.Nodes())
            {
                if (node is XText text && text.Value.Trim().Length > 0) runs.Add(new TextRun(text.Value.Trim(), looks.Size, looks.IsBold));
                if (node is not XElement span) continue;
                var own = LooksOf(span, looks);
                runs.Add(new TextRun(span.Value, own.Size, own.IsBold, Value(span, "dx", 0)));
            }

            if (runs.Count == 0) return;
            Marks.Add(new TextMark(Value(element, "x", 0), Value(element, "y", 0), runs.ToImmutable(), element.Attribute("text-anchor")?.Value switch
            {
                "middle" => TextAnchor.Middle,
                "end" => TextAnchor.End,
                _ => TextAnchor.Start,
            }, Colour.Parse(looks.Fill))
            {
                FitWidth = Value(element, "textLength", 0),
                Spacing = Value(element, "letter-spacing", 0),
                HasHalo = element.Attribute("paint-order") is not null,
            });
        }

        private static Looks LooksOf(XElement element, Looks inherited) => inherited with
        {
            Fill = element.Attribute("fill")?.Value ?? inherited.Fill,
            Stroke = element.Attribute("stroke")?.Value ?? inherited.Stroke,
            StrokeWidth = Value(element, "stroke-width", inherited.StrokeWidth),
            Size = Value(element, "font-size", inherited.Size),
            IsBold = element.Attribute("font-weight") is { } weight ? weight.Value is "700" or "bold" : inherited.IsBold,
        };

        private static double Value(XElement element, string name, double standard) => element.Attribute(name) is { } attribute ? Number(attribute.Value) : standard;
    }
}
