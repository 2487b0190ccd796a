using System.Globalization;
using System.Text;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Fonts;

namespace Leadwright.Documents.Pdf;

/// <summary>The content of a page. Places are points from its upper left corner; y runs downwards.</summary>
/// <param name="number">The page, from 0.</param>
/// <param name="width">Its width, points.</param>
/// <param name="height">Its height, points.</param>
/// <param name="fonts">The fonts.</param>
internal sealed class PdfPage(int number, double width, double height, FontShelf fonts)
{
    private readonly StringBuilder _content = new(8192);
    private readonly List<PdfElement> _marks = [];
    private bool _isOpen;

    public int Number => number;

    public double Width => width;

    public double Height => height;

    /// <summary>The elements of its marked content, by mark.</summary>
    public IReadOnlyList<PdfElement> Marks => _marks;

    public List<PdfLink> Links { get; } = [];

    /// <summary>Opacities in use, percent, as pairs of fill and stroke.</summary>
    public SortedSet<(int Fill, int Stroke)> Opacities { get; } = [];

    public SortedSet<int> Images { get; } = [];

    public byte[] Content => Encoding.Latin1.GetBytes(_content.ToString());

    /// <summary>What is drawn next belongs to an element; null: to none, as a running head does.</summary>
    public void Begin(PdfElement? element)
    {
        End();
        if (element is null)
        {
            _content.Append("/Artifact BMC\n");
        }
        else
        {
            _content.Append('/').Append(element.Type).Append("<</MCID ").Append(_marks.Count).Append(">>BDC\n");
            element.Take(new PdfContent(number, _marks.Count));
            _marks.Add(element);
        }

        _isOpen = true;
    }

    public void End()
    {
        if (_isOpen) _content.Append("EMC\n");
        _isOpen = false;
    }

    public void Text(double x, double baseline, string text, Face face, double size, Colour colour, double spacing = 0)
    {
        if (text.Length == 0) return;
        Fill(colour);
        _content.Append("BT\n");
        if (spacing > 0) _content.Append(N(spacing)).Append(" Tc\n");
        _content.Append("1 0 0 1 ").Append(N(x)).Append(' ').Append(N(height - baseline)).Append(" Tm\n");
        Show(text, face, size);
        if (spacing > 0) _content.Append("0 Tc\n");
        _content.Append("ET\n");
    }

    public void Rectangle(double x, double y, double w, double h, Colour colour)
    {
        Fill(colour);
        _content.Append(CultureInfo.InvariantCulture, $"{N(x)} {N(height - y - h)} {N(w)} {N(h)} re f\n");
    }

    public void Line(double x1, double y1, double x2, double y2, Colour colour, double thickness = 0.5)
    {
        Stroke(colour);
        _content.Append(CultureInfo.InvariantCulture, $"{N(thickness)} w {N(x1)} {N(height - y1)} m {N(x2)} {N(height - y2)} l S\n");
    }

    public void Image(int image, double x, double y, double w, double h)
    {
        Images.Add(image);
        _content.Append(CultureInfo.InvariantCulture, $"q {N(w)} 0 0 {N(h)} {N(x)} {N(height - y - h)} cm /Im{image} Do Q\n");
    }

    /// <summary>Draws a drawing with its upper left corner at a place.</summary>
    public void Draw(Drawing drawing, double x, double y, double scale)
    {
        _content.Append(CultureInfo.InvariantCulture, $"q {N4(scale)} 0 0 {N4(-scale)} {N(x)} {N(height - y)} cm\n");
        foreach (var mark in drawing.Marks)
        {
            if (mark is PathMark path) Draw(path);
            else if (mark is TextMark text) Draw(text);
        }

        _content.Append("Q\n");
    }

    private void Draw(PathMark mark)
    {
        var ink = mark.Ink;
        var isSeeThrough = ink.FillOpacity < 1 || ink.StrokeOpacity < 1;
        if (isSeeThrough || !ink.Dashes.IsEmpty || ink.IsRound) _content.Append("q\n");
        if (isSeeThrough)
        {
            var opacity = ((int)Math.Round(100 * ink.FillOpacity), (int)Math.Round(100 * ink.StrokeOpacity));
            Opacities.Add(opacity);
            _content.Append(CultureInfo.InvariantCulture, $"/O{opacity.Item1}x{opacity.Item2} gs\n");
        }

        if (ink.Fill is { } fill) Fill(fill);
        if (ink.Pattern is { } pattern)
        {
            if (ink.Fill is not null)
            {
                Trace(mark);
                _content.Append("f\n");
            }

            Tile(mark, pattern);
            if (ink.Stroke is { } edge)
            {
                Stroke(edge);
                _content.Append(CultureInfo.InvariantCulture, $"{N(ink.StrokeWidth)} w\n");
                Trace(mark);
                _content.Append("S\n");
            }
        }
        else
        {
            if (ink.Stroke is { } stroke)
            {
                Stroke(stroke);
                _content.Append(CultureInfo.InvariantCulture, $"{N(ink.StrokeWidth)} w\n");
                if (!ink.Dashes.IsEmpty) _content.Append(CultureInfo.InvariantCulture, $"[{string.Join(' ', ink.Dashes.Select(N))}] 0 d\n");
                if (ink.IsRound) _content.Append("1 J 1 j\n");
            }

            Trace(mark);
            _content.Append((ink.Fill, ink.Stroke) switch { (not null, not null) => "B\n", (not null, null) => "f\n", (null, not null) => "S\n", _ => "n\n" });
        }

        if (isSeeThrough || !ink.Dashes.IsEmpty || ink.IsRound) _content.Append("Q\n");
    }

    // Tiles are drawn one by one inside the path: every viewer and printer does the same with them.
    private void Tile(PathMark mark, DrawingPattern pattern)
    {
        _content.Append("q\n");
        Trace(mark);
        _content.Append("W n\n");
        var (left, top) = (mark.Steps.Min(step => step.X), mark.Steps.Min(step => step.Y));
        var (right, bottom) = (mark.Steps.Max(step => step.X), mark.Steps.Max(step => step.Y));
        for (var y = Math.Floor(top / pattern.Size) * pattern.Size; y < bottom; y += pattern.Size)
        {
            for (var x = Math.Floor(left / pattern.Size) * pattern.Size; x < right; x += pattern.Size)
            {
                foreach (var tile in pattern.Marks)
                    Draw(tile with { Steps = [.. tile.Steps.Select(step => Moved(step, x, y))] });
            }
        }

        _content.Append("Q\n");
    }

    private static PathStep Moved(PathStep step, double x, double y) =>
        step with { X = step.X + x, Y = step.Y + y, FirstX = step.FirstX + x, FirstY = step.FirstY + y, SecondX = step.SecondX + x, SecondY = step.SecondY + y };

    private void Trace(PathMark mark)
    {
        foreach (var step in mark.Steps)
        {
            switch (step.Kind)
            {
                case PathStepKind.Move: _content.Append(CultureInfo.InvariantCulture, $"{N(step.X)} {N(step.Y)} m\n"); break;
                case PathStepKind.Line: _content.Append(CultureInfo.InvariantCulture, $"{N(step.X)} {N(step.Y)} l\n"); break;
                case PathStepKind.Curve: _content.Append(CultureInfo.InvariantCulture, $"{N(step.FirstX)} {N(step.FirstY)} {N(step.SecondX)} {N(step.SecondY)} {N(step.X)} {N(step.Y)} c\n"); break;
                default: _content.Append("h\n"); break;
            }
        }
    }

    private void Draw(TextMark mark)
    {
        var own = mark.Runs.Sum(run => run.Gap + fonts.Width(run.Text, FaceOf(run), run.Size) + (mark.Spacing * run.Text.Length));
        var squeeze = mark.FitWidth > 0 ? mark.FitWidth / own : 1;
        var length = own * squeeze;
        var start = mark.Anchor switch { TextAnchor.Middle => -length / 2, TextAnchor.End => -length, _ => 0 };
        if (mark.HasHalo && !mark.IsUpright)
        {
            var size = mark.Runs.Max(run => run.Size);
            Draw(new PathMark(PathShapes.Rectangle(mark.X + start - 1.5, mark.Y - (0.78 * size), length + 3, size, 2), new Ink { Fill = Palette.Paper, FillOpacity = 0.92 }));
        }

        Fill(mark.Colour);
        _content.Append("BT\n");
        if (mark.Spacing > 0) _content.Append(N(mark.Spacing)).Append(" Tc\n");
        if (squeeze != 1) _content.Append(N(100 * squeeze)).Append(" Tz\n");
        var along = start;
        foreach (var run in mark.Runs)
        {
            along += run.Gap * squeeze;
            _content.Append(mark.IsUpright
                ? $"0 -1 -1 0 {N(mark.X)} {N(mark.Y - along)} Tm\n"
                : $"1 0 0 -1 {N(mark.X + along)} {N(mark.Y)} Tm\n");
            Show(run.Text, FaceOf(run), run.Size);
            along += squeeze * (fonts.Width(run.Text, FaceOf(run), run.Size) + (mark.Spacing * run.Text.Length));
        }

        if (squeeze != 1) _content.Append("100 Tz\n");
        if (mark.Spacing > 0) _content.Append("0 Tc\n");
        _content.Append("ET\n");
    }

    private void Show(string text, Face face, double size)
    {
        foreach (var (font, glyphs) in fonts.Shape(text, face))
        {
            _content.Append(CultureInfo.InvariantCulture, $"/F{(int)font} {N(size)} Tf <");
            foreach (var glyph in glyphs) _content.Append(glyph.ToString("X4", CultureInfo.InvariantCulture));
            _content.Append("> Tj\n");
        }
    }

    private static Face FaceOf(TextRun run) => run.IsBold ? Face.NarrowBold : Face.Narrow;

    private void Fill(Colour colour) => _content.Append(CultureInfo.InvariantCulture, $"{Shade(colour)} rg\n");

    private void Stroke(Colour colour) => _content.Append(CultureInfo.InvariantCulture, $"{Shade(colour)} RG\n");

    private static string Shade(Colour colour) => $"{N(colour.Red / 255.0)} {N(colour.Green / 255.0)} {N(colour.Blue / 255.0)}";

    private static string N(double value) => PdfFile.Number(value);

    private static string N4(double value) => Math.Round(value, 5).ToString("0.#####", CultureInfo.InvariantCulture);
}
