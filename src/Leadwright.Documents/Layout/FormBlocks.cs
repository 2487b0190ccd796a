using System.Collections.Immutable;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Fonts;
using Leadwright.Documents.Model;
using Leadwright.Documents.Pdf;

namespace Leadwright.Documents.Layout;

/// <summary>Lays out what is filled in by hand: boxes to tick, lines to write on.</summary>
internal static class FormBlocks
{
    private const double Size = 8.9, Leading = 11.4, Box = 9, Indent = 17;

    public static IEnumerable<Slice> Ticks(TicksBlock block, Sheet sheet, PdfElement parent)
    {
        var list = parent.Add("L");
        foreach (var (index, item) in block.Items.Index())
        {
            var row = list.Add("LI");
            var says = item.IsDone switch { null => sheet.Words.Box, true => sheet.Words.Done, false => sheet.Words.NotDone };
            var label = row.Add("Lbl").Add(new PdfElement("Figure") { Alternative = says.Length > 0 ? says : null });
            var body = row.Add("LBody");
            ImmutableArray<Span> spans = [.. RichText.Parse(item.Text, Face.Text, Face.TextBold), .. item.Note.Length > 0 ? [new Span(" " + item.Note, Face.TextBold)] : Array.Empty<Span>()];
            var lines = RichText.Lines(spans, sheet.Fonts, Size, sheet.Width - Indent);
            yield return new Slice
            {
                Height = (lines.Count * Leading) + 2,
                SpaceBefore = index == 0 ? 3 : 2.4,
                Draw = (page, y) =>
                {
                    page.Begin(label);
                    page.Draw(BoxOf(item.IsDone), sheet.Left, y + 1, 1);
                    page.Begin(body);
                    for (var line = 0; line < lines.Count; line++)
                        TextBlocks.Write(page, sheet, line < lines.Count - 1 ? TextBlocks.Continued(lines[line]) : lines[line], sheet.Left + Indent, y + 9 + (line * Leading), Size, Palette.Ink);
                    page.End();
                },
            };
        }
    }

    public static IEnumerable<Slice> Ruled(RuledBlock block, Sheet sheet, PdfElement parent)
    {
        const double Line = 22;
        var element = parent.Add("P");
        yield return new Slice
        {
            Height = 12 + (block.Count * Line),
            SpaceBefore = 8,
            // Room for notes is not worth a page of its own.
            IsOptional = block.Label.Length > 0,
            Draw = (page, y) =>
            {
                page.Begin(element);
                page.Text(sheet.Left, y + 8, block.Label, Face.Narrow, 8.4, Palette.Soft);
                page.Begin(null);
                for (var line = 1; line <= block.Count; line++) page.Line(sheet.Left, y + 8 + (line * Line), sheet.Right, y + 8 + (line * Line), Palette.Grey, 0.5);
                page.End();
            },
        };
    }

    private static Drawing BoxOf(bool? isDone)
    {
        var board = new DrawingBoard(Box, Box);
        board.Rectangle(0.5, 0.5, Box - 1, Box - 1, new Ink { Stroke = Palette.Ink, StrokeWidth = 1 }, 1);
        if (isDone == true) board.Path(PathText.Parse("M2 4.8 L3.9 6.9 L7.2 2.1"), new Ink { Stroke = Palette.Ink, StrokeWidth = 1.4, IsRound = true });
        return board.Finish("", "");
    }
}
