using Leadwright.Documents.Drawings;

namespace Leadwright.Documents.Charts;

/// <summary>The patterns of charts: each is told apart in black and white.</summary>
internal static class Looks
{
    /// <summary>Slanted lines.</summary>
    public static readonly DrawingPattern Hatch = Lines("M-1 1 L1 -1 M0 5 L5 0 M4 6 L6 4", 5, Palette.Ink, 0.9);

    /// <summary>Slanted lines, crossed and light: nothing is known.</summary>
    public static readonly DrawingPattern Cross = Lines("M0 0 L6 6 M6 0 L0 6", 6, Palette.Grey, 0.5);

    /// <summary>Level lines.</summary>
    public static readonly DrawingPattern Level = Lines("M0 1.5 H3.5", 3, Palette.Ink, 0.8);

    /// <summary>Upright lines.</summary>
    public static readonly DrawingPattern Upright = Lines("M1.5 0 V3.5", 3, Palette.Ink, 0.8);

    /// <summary>Dots.</summary>
    public static readonly DrawingPattern Dots = new(4.5, [new PathMark(PathShapes.Circle(2.2, 2.2, 0.9), new Ink { Fill = Palette.Ink })]);

    private static DrawingPattern Lines(string path, double size, Colour colour, double thickness) =>
        new(size, [new PathMark(PathText.Parse(path), new Ink { Stroke = colour, StrokeWidth = thickness })]);
}
