using System.Collections.Immutable;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Fonts;
using Leadwright.Documents.Model;
using Leadwright.Documents.Pdf;

namespace Leadwright.Documents.Layout;

/// <summary>Lays out headings, paragraphs, lists, notices and lines to sign on.</summary>
internal static class TextBlocks
{
    public const double Size = 9.6;
    private const double Leading = 13.4;

    public static IEnumerable<Slice> PartTitle(string title, Sheet sheet, PdfElement parent, PdfTarget target, bool isOnNewPage)
    {
        var element = parent.Add("H1");
        var lines = RichText.Lines([new Span(title, Face.NarrowBold)], sheet.Fonts, 19, sheet.Width);
        for (var index = 0; index < lines.Count; index++)
        {
            var line = lines[index];
            var isLast = index == lines.Count - 1;
            yield return new Slice
            {
                Height = isLast ? 31 : 22,
                SpaceBefore = index == 0 ? 30 : 0,
                KeepsWithNext = true,
                IsOnNewPage = isOnNewPage && index == 0,
                Target = index == 0 ? target : null,
                Draw = (page, y) =>
                {
                    page.Begin(element);
                    Write(page, sheet, line, sheet.Left, y + 17, 19, Palette.Ink);
                    page.Begin(null);
                    if (isLast) page.Rectangle(sheet.Left, y + 23.5, 34, 2.4, Palette.Copper);
                    page.End();
                },
            };
        }
    }

    public static IEnumerable<Slice> Heading(string text, Sheet sheet, PdfElement parent, PdfTarget? target, string type = "H2", bool isOnNewPage = false)
    {
        var element = parent.Add(type);
        var lines = RichText.Lines([new Span(text, Face.NarrowBold)], sheet.Fonts, 12.5, sheet.Width);
        for (var index = 0; index < lines.Count; index++)
        {
            var line = lines[index];
            yield return new Slice
            {
                Height = index == lines.Count - 1 ? 19 : 15,
                SpaceBefore = index == 0 ? 14 : 0,
                KeepsWithNext = true,
                IsOnNewPage = isOnNewPage && index == 0,
                Target = index == 0 ? target : null,
                Draw = (page, y) =>
                {
                    page.Begin(element);
                    Write(page, sheet, line, sheet.Left, y + 12, 12.5, Palette.Ink);
                    page.End();
                },
            };
        }
    }

    public static IEnumerable<Slice> Paragraph(ParagraphBlock block, Sheet sheet, PdfElement parent)
    {
        var (size, leading, plain, bold, colour) = block.Style switch
        {
            ParagraphStyle.Lead => (11.6, 16.0, Face.Text, Face.TextBold, Palette.Ink),
            ParagraphStyle.Small => (8.4, 11.2, Face.Narrow, Face.NarrowBold, Palette.Soft),
            _ => (Size, Leading, Face.Text, Face.TextBold, Palette.Ink),
        };
        var element = parent.Add("P");
        return Lines(RichText.Parse(block.Text, plain, bold), sheet, element, sheet.Left, sheet.Width, size, leading, colour, block.Style == ParagraphStyle.Small ? 4 : 5, 3);
    }

    /// <summary>Lines of one element; the first two and the last two stay together.</summary>
    public static IEnumerable<Slice> Lines(
        IEnumerable<Span> spans, Sheet sheet, PdfElement element, double left, double width, double size, double leading, Colour colour, double before, double after)
    {
        var lines = RichText.Lines(spans, sheet.Fonts, size, width);
        for (var index = 0; index < lines.Count; index++)
        {
            var line = lines[index];
            var isLast = index == lines.Count - 1;
            var text = index < lines.Count - 1 ? Continued(line) : line;
            yield return new Slice
            {
                Height = leading + (isLast ? after : 0),
                SpaceBefore = index == 0 ? before : 0,
                KeepsWithNext = !isLast && (index == 0 || index == lines.Count - 2),
                Draw = (page, y) =>
                {
                    page.Begin(element);
                    Write(page, sheet, text, left, y + (leading * 0.75), size, colour);
                    page.End();
                },
            };
        }
    }

    // A space at the end of a line keeps its last word apart from the next line's first when the text is taken out.
    public static ImmutableArray<Span> Continued(ImmutableArray<Span> line) => line.SetItem(line.Length - 1, line[^1] with { Text = line[^1].Text + " " });

    public static IEnumerable<Slice> List(ListBlock block, Sheet sheet, PdfElement parent)
    {
        const double Indent = 15;
        var list = parent.Add("L");
        for (var index = 0; index < block.Items.Length; index++)
        {
            var item = list.Add("LI");
            var label = item.Add("Lbl");
            var body = item.Add("LBody");
            var mark = block.IsNumbered ? $"{index + 1}." : "–";
            var isFirst = true;
            // The first two and the last two items stay together: none stands alone on a page.
            var isKept = block.Items.Length > 1 && (index == 0 || index == block.Items.Length - 2);
            var slices = Lines(
                RichText.Parse(block.Items[index], Face.Text, Face.TextBold), sheet, body, sheet.Left + Indent, sheet.Width - Indent, Size, Leading, Palette.Ink, index == 0 ? 4 : 2.5, 0).ToList();
            if (isKept) slices[^1].KeepsWithNext = true;
            foreach (var slice in slices)
            {
                if (!isFirst)
                {
                    yield return slice;
                    continue;
                }

                isFirst = false;
                yield return new Slice
                {
                    Height = slice.Height,
                    SpaceBefore = slice.SpaceBefore,
                    KeepsWithNext = slice.KeepsWithNext,
                    Draw = (page, y) =>
                    {
                        page.Begin(label);
                        page.Text(sheet.Left + 1, y + (Leading * 0.75), mark, Face.Text, Size, Palette.Ink);
                        slice.Draw(page, y);
                    },
                };
            }
        }
    }

    public static IEnumerable<Slice> Notice(NoticeBlock block, Sheet sheet, PdfElement parent)
    {
        const double Pad = 9, NoticeSize = 9.2, NoticeLeading = 12.6;
        var note = parent.Add("Note");
        var inner = sheet.Width - (2 * Pad) - 4;
        var texts = block.Lines.Select(line => RichText.Lines(RichText.Parse(line, Face.Text, Face.TextBold), sheet.Fonts, NoticeSize, inner)).ToList();
        var height = (2 * Pad) + (block.Title.Length > 0 ? 14 : 0) + texts.Sum(lines => (lines.Count * NoticeLeading) + 2) - 4;
        yield return new Slice
        {
            Height = height + 4,
            SpaceBefore = 8,
            Draw = (page, y) =>
            {
                page.Begin(null);
                page.Rectangle(sheet.Left, y, sheet.Width, height, Palette.Board);
                page.Rectangle(sheet.Left, y, 4, height, Palette.Plate);
                var at = y + Pad;
                if (block.Title.Length > 0)
                {
                    page.Begin(note.Add("P"));
                    page.Text(sheet.Left + 4 + Pad, at + 8.5, block.Title, Face.NarrowBold, 10.4, Palette.Ink);
                    at += 14;
                }

                foreach (var lines in texts)
                {
                    page.Begin(note.Add("P"));
                    for (var index = 0; index < lines.Count; index++)
                    {
                        Write(page, sheet, index < lines.Count - 1 ? Continued(lines[index]) : lines[index], sheet.Left + 4 + Pad, at + 9, NoticeSize, Palette.Ink);
                        at += NoticeLeading;
                    }

                    at += 2;
                }

                page.End();
            },
        };
    }

    public static IEnumerable<Slice> Signature(SignatureBlock block, Sheet sheet, PdfElement parent)
    {
        foreach (var slice in block.Statement.Length == 0 ? [] : Paragraph(new ParagraphBlock(block.Statement), sheet, parent))
        {
            slice.KeepsWithNext = true;
            yield return slice;
        }

        for (var index = 0; index < block.Signers.Length; index++)
        {
            var signer = block.Signers[index];
            var element = parent.Add("P");
            yield return new Slice
            {
                Height = 62,
                SpaceBefore = 7,
                KeepsWithNext = index < block.Signers.Length - 1,
                Draw = (page, y) =>
                {
                    page.Begin(element);
                    page.Text(sheet.Left, y + 10, signer.Role, Face.NarrowBold, 10, Palette.Ink);
                    var column = (sheet.Width - 32) / 3;
                    (string Label, string Value)[] lines = [(signer.Labels.Signature, ""), (signer.Labels.Name, signer.Name), (signer.Labels.Date, "")];
                    for (var line = 0; line < 3; line++)
                    {
                        var x = sheet.Left + (line * (column + 16));
                        page.Begin(null);
                        page.Line(x, y + 48, x + column, y + 48, Palette.Ink, 0.7);
                        page.Begin(element);
                        if (lines[line].Value.Length > 0) page.Text(x, y + 44, lines[line].Value, Face.Text, Size, Palette.Ink);
                        page.Text(x, y + 58, lines[line].Label, Face.Narrow, 8.2, Palette.Soft);
                    }

                    page.End();
                },
            };
        }
    }

    /// <summary>Writes a line of spans.</summary>
    public static void Write(PdfPage page, Sheet sheet, ImmutableArray<Span> line, double x, double baseline, double size, Colour colour)
    {
        foreach (var span in line)
        {
            page.Text(x, baseline, span.Text, span.Face, size, colour);
            x += sheet.Fonts.Width(span.Text, span.Face, size);
        }
    }
}
