using System.Collections.Immutable;

namespace Leadwright.Documents.Drawings;

/// <summary>Collects the marks of a drawing.</summary>
/// <param name="width">Width in points of a printed page.</param>
/// <param name="height">Height likewise; y runs downwards.</param>
internal sealed class DrawingBoard(double width, double height)
{
    private readonly ImmutableArray<Mark>.Builder _marks = ImmutableArray.CreateBuilder<Mark>();

    public double Width => width;

    public double Height => height;

    public void Rectangle(double x, double y, double w, double h, Ink ink, double radius = 0) => _marks.Add(new PathMark(PathShapes.Rectangle(x, y, w, h, radius), ink));

    public void Circle(double x, double y, double radius, Ink ink) => _marks.Add(new PathMark(PathShapes.Circle(x, y, radius), ink));

    public void Line(double x1, double y1, double x2, double y2, Colour colour, double thickness = 0.6, params ImmutableArray<double> dashes) =>
        _marks.Add(new PathMark(PathShapes.Line(x1, y1, x2, y2), new Ink { Stroke = colour, StrokeWidth = thickness, Dashes = dashes.IsDefault ? [] : dashes }));

    public void Path(ImmutableArray<PathStep> steps, Ink ink)
    {
        if (!steps.IsEmpty) _marks.Add(new PathMark(steps, ink));
    }

    public void Polygon(IEnumerable<(double X, double Y)> points, Ink ink)
    {
        var steps = PathShapes.Through(points);
        if (steps.Length > 2) Path(steps.Add(new PathStep(PathStepKind.Close, steps[0].X, steps[0].Y)), ink);
    }

    public void Text(double x, double y, string text, double size, TextAnchor anchor = TextAnchor.Start, bool isBold = false, Colour? colour = null, bool hasHalo = false, bool isUpright = false) =>
        _marks.Add(new TextMark(x, y, [new TextRun(text, size, isBold)], anchor, colour ?? Palette.Ink) { HasHalo = hasHalo, IsUpright = isUpright });

    public Drawing Finish(string title, string description) => new(width, height, _marks.ToImmutable()) { Title = title, Description = description };
}
