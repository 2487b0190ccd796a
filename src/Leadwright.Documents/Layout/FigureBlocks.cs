using Leadwright.Documents.Drawings;
using Leadwright.Documents.Fonts;
using Leadwright.Documents.Model;
using Leadwright.Documents.Pdf;

namespace Leadwright.Documents.Layout;

/// <summary>Lays out drawings with their captions, large figures, and questions with answers.</summary>
internal static class FigureBlocks
{
    private const double CaptionSize = 8.4, CaptionLeading = 11.2;

    public static IEnumerable<Slice> Figure(FigureBlock block, Sheet sheet, PdfElement parent, int number)
    {
        yield return Row([(block, sheet.Left, block.WidthShare * sheet.Width, number)], sheet, parent);
    }

    public static IEnumerable<Slice> Pair(FigurePairBlock block, Sheet sheet, PdfElement parent, int number)
    {
        const double Gap = 18;
        // Widths in proportion to shapes, so that both are as high.
        var (left, right) = (block.Left.Drawing.Width / block.Left.Drawing.Height, block.Right.Drawing.Width / block.Right.Drawing.Height);
        var height = Math.Min((sheet.Width - Gap) / (left + right), 290);
        yield return Row(
            [(block.Left, sheet.Left, height * left, number), (block.Right, sheet.Left + (height * left) + Gap, height * right, number + 1)], sheet, parent);
    }

    private static Slice Row((FigureBlock Block, double X, double Width, int Number)[] figures, Sheet sheet, PdfElement parent)
    {
        var laid = figures.Select(figure =>
        {
            var label = figure.Number == 0 ? "" : sheet.Words.Figure.Replace("{number}", $"{figure.Number}", StringComparison.Ordinal);
            var width = figures.Length == 1 ? sheet.Width : figure.Width;
            var caption = RichText.Lines([.. label.Length > 0 ? new[] { new Span(label + " ", Face.NarrowBold) } : [], .. RichText.Parse(" " + figure.Block.Caption, Face.Narrow, Face.NarrowBold)], sheet.Fonts, CaptionSize, width);
            var element = new PdfElement("Figure") { Alternative = $"{figure.Block.Drawing.Title}. {figure.Block.Drawing.Description}".Trim() };
            return (figure.Block.Drawing, figure.X, Scale: figure.Width / figure.Block.Drawing.Width, Caption: caption, Element: element, Text: new PdfElement("P"));
        }).ToList();
        foreach (var figure in laid)
        {
            parent.Add(figure.Element);
            parent.Add(figure.Text);
        }

        var drawn = laid.Max(figure => figure.Drawing.Height * figure.Scale);
        const double Gap = 20;
        var left = figures[0].X + figures[0].Width + Gap;
        var beside = figures[0].Block.Beside.Select(text => (
            Lines: RichText.Lines(RichText.Parse(text, Face.Text, Face.TextBold), sheet.Fonts, TextBlocks.Size, sheet.Right - left), Element: parent.Add("P"))).ToList();
        return new Slice
        {
            Height = drawn + 6 + (laid.Max(figure => figure.Caption.Count) * CaptionLeading) + 4,
            SpaceBefore = 9,
            IsOptional = figures[0].Block.IsOptional,
            Draw = (page, y) =>
            {
                var line = y + 10;
                foreach (var (lines, element) in beside)
                {
                    page.Begin(element);
                    for (var index = 0; index < lines.Count; index++, line += 13)
                        TextBlocks.Write(page, sheet, index < lines.Count - 1 ? TextBlocks.Continued(lines[index]) : lines[index], left, line, TextBlocks.Size, Palette.Ink);
                    line += 5;
                }

                foreach (var figure in laid)
                {
                    page.Begin(figure.Element);
                    page.Draw(figure.Drawing, figure.X, y, figure.Scale);
                    page.Begin(figure.Text);
                    var at = y + drawn + 6 + 8;
                    foreach (var words in figure.Caption)
                    {
                        TextBlocks.Write(page, sheet, words, figure.X, at, CaptionSize, Palette.Soft);
                        at += CaptionLeading;
                    }

                    page.End();
                }
            },
        };
    }

    public static IEnumerable<Slice> KeyFigures(KeyFiguresBlock block, Sheet sheet, PdfElement parent)
    {
        const double Gap = 14;
        var width = (sheet.Width - (Gap * (block.Figures.Length - 1))) / block.Figures.Length;
        var laid = block.Figures.Select(figure =>
        {
            var size = 21.0;
            while (size > 12 && sheet.Fonts.Width(figure.Value, Face.NarrowBold, size) + sheet.Fonts.Width(" " + figure.Unit, Face.Narrow, size * 0.55) > width - 2) size -= 0.5;
            return (Figure: figure, Size: size, Note: RichText.Lines([new Span(figure.Note, Face.Narrow)], sheet.Fonts, 8.2, width), Element: parent.Add("P"));
        }).ToList();
        yield return new Slice
        {
            Height = 46 + (laid.Max(figure => figure.Note.Count) * 10.6) + 6,
            SpaceBefore = 8,
            Draw = (page, y) =>
            {
                for (var index = 0; index < laid.Count; index++)
                {
                    var (figure, size, note, element) = laid[index];
                    var x = sheet.Left + (index * (width + Gap));
                    page.Begin(null);
                    page.Rectangle(x, y, width, 1.6, Palette.Ink);
                    page.Begin(element);
                    page.Text(x, y + 13.5, figure.Label + " ", Face.Narrow, 8.6, Palette.Soft);
                    page.Text(x, y + 35, figure.Value + " ", Face.NarrowBold, size, Palette.Ink);
                    page.Text(x + sheet.Fonts.Width(figure.Value + " ", Face.NarrowBold, size), y + 35, figure.Unit + " ", Face.Narrow, size * 0.55, Palette.Ink);
                    var at = y + 47;
                    foreach (var line in note)
                    {
                        TextBlocks.Write(page, sheet, line, x, at, 8.2, Palette.Soft);
                        at += 10.6;
                    }

                    page.End();
                }
            },
        };
    }

    public static IEnumerable<Slice> Answers(AnswersBlock block, Sheet sheet, PdfElement parent)
    {
        const double Left = 128, AnswerSize = 9.4, Leading = 12.8;
        foreach (var answer in block.Answers)
        {
            var question = RichText.Lines([new Span(answer.Question, Face.NarrowBold)], sheet.Fonts, 9.8, Left - 12);
            var lines = RichText.Lines(
                [.. answer.Short.Length > 0 ? new[] { new Span(answer.Short + " ", Face.TextBold) } : [], .. RichText.Parse((answer.Short.Length > 0 ? " " : "") + answer.Text, Face.Text, Face.TextBold)],
                sheet.Fonts, AnswerSize, sheet.Width - Left - 14);
            var (asked, told) = (parent.Add("P"), parent.Add("P"));
            yield return new Slice
            {
                Height = Math.Max(question.Count * 12.4, lines.Count * Leading) + 9,
                SpaceBefore = 0,
                Draw = (page, y) =>
                {
                    page.Begin(null);
                    page.Line(sheet.Left, y, sheet.Right, y, Palette.Rule, 0.5);
                    Sign(page, sheet.Left + Left + 4, y + 10.2, answer.Mood);
                    page.Begin(asked);
                    for (var line = 0; line < question.Count; line++) TextBlocks.Write(page, sheet, question[line], sheet.Left, y + 14 + (line * 12.4), 9.8, Palette.Ink);
                    page.Begin(told);
                    for (var line = 0; line < lines.Count; line++) TextBlocks.Write(page, sheet, lines[line], sheet.Left + Left + 14, y + 14 + (line * Leading), AnswerSize, Palette.Ink);
                    page.End();
                },
            };
        }
    }

    // Full circle, half circle, triangle, empty circle: told apart without colour.
    private static void Sign(PdfPage page, double x, double y, AnswerMood mood)
    {
        if (mood == AnswerMood.Plain) return;
        var board = new DrawingBoard(10, 10);
        var line = new Ink { Stroke = Palette.Ink, StrokeWidth = 1.1 };
        switch (mood)
        {
            case AnswerMood.Good: board.Circle(5, 5, 4, line with { Fill = Palette.Ink }); break;
            case AnswerMood.Bad: board.Polygon([(5, 0.6), (9.6, 9), (0.4, 9)], line with { Fill = Palette.Copper, Stroke = Palette.Copper }); break;
            case AnswerMood.Partly:
                board.Circle(5, 5, 4, line);
                board.Path(PathText.Parse("M5 1 A4 4 0 0 0 5 9 Z"), new Ink { Fill = Palette.Ink });
                break;
            default: board.Circle(5, 5, 4, line); break;
        }

        page.Draw(board.Finish("", ""), x - 5, y - 4.2, 1);
    }
}
