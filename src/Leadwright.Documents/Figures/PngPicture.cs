using Leadwright.Documents.Drawings;
using Leadwright.Documents.Fonts;
using SkiaSharp;

namespace Leadwright.Documents.Figures;

/// <summary>Writes a drawing as a PNG picture, set in the shipped fonts: the same picture on every system.</summary>
public static class PngPicture
{
    private static readonly Lazy<SKTypeface[]> s_faces = new(() => [.. FontShelf.Files().Select(bytes => SKTypeface.FromData(SKData.CreateCopy(bytes)))]);

    /// <summary>The picture.</summary>
    /// <param name="drawing">The drawing.</param>
    /// <param name="scale">Pixels for each of its units (points of a printed page); above zero.</param>
    /// <returns>The bytes of a PNG file (ISO/IEC 15948), sRGB, on white.</returns>
    public static byte[] Write(Drawing drawing, double scale)
    {
        ArgumentNullException.ThrowIfNull(drawing);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(scale);
        var info = new SKImageInfo((int)Math.Ceiling(drawing.Width * scale), (int)Math.Ceiling(drawing.Height * scale), SKColorType.Rgba8888, SKAlphaType.Opaque);
        using var surface = SKSurface.Create(info);
        var canvas = surface.Canvas;
        canvas.Clear(SKColors.White);
        canvas.Scale((float)scale);
        var fonts = new FontShelf();
        foreach (var mark in drawing.Marks)
        {
            if (mark is PathMark path) Draw(canvas, path);
            else if (mark is TextMark text) Draw(canvas, text, fonts);
        }

        using var image = surface.Snapshot();
        using var data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    private static void Draw(SKCanvas canvas, PathMark mark)
    {
        using var path = PathOf(mark);
        var ink = mark.Ink;
        if (ink.Fill is { } fill)
        {
            using var paint = new SKPaint { IsAntialias = true, Style = SKPaintStyle.Fill, Color = ColourOf(fill, ink.FillOpacity) };
            canvas.DrawPath(path, paint);
        }

        if (ink.Pattern is { } pattern) Tile(canvas, path, pattern);
        if (ink.Stroke is not { } stroke) return;
        using var line = new SKPaint { IsAntialias = true, Style = SKPaintStyle.Stroke, Color = ColourOf(stroke, ink.StrokeOpacity), StrokeWidth = (float)ink.StrokeWidth };
        if (ink.IsRound) (line.StrokeCap, line.StrokeJoin) = (SKStrokeCap.Round, SKStrokeJoin.Round);
        using var dashes = ink.Dashes.IsEmpty ? null : SKPathEffect.CreateDash([.. ink.Dashes.Select(length => (float)length)], 0);
        line.PathEffect = dashes;
        canvas.DrawPath(path, line);
    }

    private static void Tile(SKCanvas canvas, SKPath path, DrawingPattern pattern)
    {
        canvas.Save();
        canvas.ClipPath(path, antialias: true);
        var (bounds, size) = (path.Bounds, (float)pattern.Size);
        for (var y = MathF.Floor(bounds.Top / size) * size; y < bounds.Bottom; y += size)
        {
            for (var x = MathF.Floor(bounds.Left / size) * size; x < bounds.Right; x += size)
            {
                canvas.Save();
                canvas.Translate(x, y);
                foreach (var tile in pattern.Marks) Draw(canvas, tile);
                canvas.Restore();
            }
        }

        canvas.Restore();
    }

    private static void Draw(SKCanvas canvas, TextMark mark, FontShelf fonts)
    {
        var own = mark.Runs.Sum(run => run.Gap + fonts.Width(run.Text, Face(run), run.Size) + (mark.Spacing * run.Text.Length));
        var squeeze = mark.FitWidth > 0 ? mark.FitWidth / own : 1;
        var length = own * squeeze;
        var start = mark.Anchor switch { TextAnchor.Middle => -length / 2, TextAnchor.End => -length, _ => 0 };
        canvas.Save();
        canvas.Translate((float)mark.X, (float)mark.Y);
        if (mark.IsUpright) canvas.RotateDegrees(-90);
        if (mark.HasHalo && !mark.IsUpright)
        {
            var size = mark.Runs.Max(run => run.Size);
            using var paper = new SKPaint { IsAntialias = true, Color = ColourOf(Palette.Paper, 0.92) };
            canvas.DrawRoundRect((float)(start - 1.5), (float)(-0.78 * size), (float)(length + 3), (float)size, 2, 2, paper);
        }

        canvas.Translate((float)start, 0);
        canvas.Scale((float)squeeze, 1);
        using var paint = new SKPaint { IsAntialias = true, Color = ColourOf(mark.Colour, 1) };
        var along = 0.0;
        foreach (var run in mark.Runs)
        {
            along += run.Gap;
            foreach (var (face, glyphs) in fonts.Shape(run.Text, Face(run)))
            {
                using var font = new SKFont(s_faces.Value[(int)face], (float)run.Size) { Subpixel = true, Hinting = SKFontHinting.None, LinearMetrics = true, Edging = SKFontEdging.Antialias };
                var places = new SKPoint[glyphs.Count];
                for (var index = 0; index < glyphs.Count; index++)
                {
                    places[index] = new SKPoint((float)along, 0);
                    along += (fonts[face].WidthOf(glyphs[index]) * run.Size / fonts[face].UnitsPerEm) + mark.Spacing;
                }

                using var builder = new SKTextBlobBuilder();
                builder.AddPositionedRun(glyphs.ToArray(), font, places);
                using var blob = builder.Build();
                if (blob is not null) canvas.DrawText(blob, 0, 0, paint);
            }
        }

        canvas.Restore();
    }

    private static SKPath PathOf(PathMark mark)
    {
        using var builder = new SKPathBuilder();
        foreach (var step in mark.Steps)
        {
            switch (step.Kind)
            {
                case PathStepKind.Move: builder.MoveTo((float)step.X, (float)step.Y); break;
                case PathStepKind.Line: builder.LineTo((float)step.X, (float)step.Y); break;
                case PathStepKind.Curve: builder.CubicTo((float)step.FirstX, (float)step.FirstY, (float)step.SecondX, (float)step.SecondY, (float)step.X, (float)step.Y); break;
                default: builder.Close(); break;
            }
        }

        return builder.Detach();
    }

    private static Face Face(TextRun run) => run.IsBold ? Fonts.Face.NarrowBold : Fonts.Face.Narrow;

    private static SKColor ColourOf(Colour colour, double opacity) => new(colour.Red, colour.Green, colour.Blue, (byte)Math.Round(255 * opacity));
}
