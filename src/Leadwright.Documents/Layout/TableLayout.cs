using System.Collections.Immutable;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Fonts;
using Leadwright.Documents.Model;
using Leadwright.Documents.Pdf;

namespace Leadwright.Documents.Layout;

/// <summary>Lays out tables: widths by content, rows that are not broken, headings again on each page.</summary>
internal static class TableLayout
{
    private const double Size = 8.5, Leading = 11.1, Pad = 3.2, Gap = 9;

    // Room to write in by hand: 6 mm high, 20 mm wide.
    private const double FormRow = 17, FormBox = 57;

    // A table of few rows is not broken.
    private const int FewRows = 9;

    public static IEnumerable<Slice> Table(TableBlock block, Sheet sheet, PdfElement parent, int number)
    {
        if (block.Rows.IsEmpty) yield break;
        var table = new PdfElement("Table");
        var widths = Widths(block, sheet);
        var lefts = new double[widths.Length];
        for (var column = 0; column < widths.Length; column++) lefts[column] = column == 0 ? sheet.Left : lefts[column - 1] + widths[column - 1] + Gap;
        if (block.Caption.Length > 0)
        {
            var caption = parent.Add("P");
            var label = sheet.Words.Table.Replace("{number}", $"{number}", StringComparison.Ordinal);
            foreach (var slice in TextBlocks.Lines(
                [new Span(label + " ", Face.NarrowBold), .. RichText.Parse(" " + block.Caption, Face.Narrow, Face.NarrowBold)], sheet, caption, sheet.Left, sheet.Width, 8.8, 11.6, Palette.Ink, 10, 3))
            {
                slice.KeepsWithNext = true;
                yield return slice;
            }
        }

        parent.Add(table);
        Slice? head = null;
        if (!block.IsFacts)
        {
            yield return Head(block, sheet, widths, lefts, table);
            head = Head(block, sheet, widths, lefts, null, number > 0 ? $"{sheet.Words.Table.Replace("{number}", $"{number}", StringComparison.Ordinal)} {sheet.Words.Continued}" : sheet.Words.Continued);
        }

        for (var row = 0; row < block.Rows.Length; row++)
        {
            // The rows under the head of a group stay with it.
            var isGrouped = block.IsFacts && row + 1 < block.Rows.Length && !block.Rows[row + 1].IsGroup && block.Rows.Any(one => one.IsGroup);
            var isKept = isGrouped || row == block.Rows.Length - 2 || (row == 0 && block.Rows.Length > 2) || block.Rows[row].IsGroup || (block.Rows.Length <= FewRows && !block.Rows.Any(one => one.IsGroup));
            yield return Row(block, block.Rows[row], sheet, widths, lefts, table, head, (isKept && row < block.Rows.Length - 1) || (block.Note.Length > 0 && row == block.Rows.Length - 1), row == 0 && block.IsFacts, row == block.Rows.Length - 1);
        }

        if (block.Note.Length == 0) yield break;
        foreach (var slice in TextBlocks.Paragraph(new ParagraphBlock(block.Note, ParagraphStyle.Small), sheet, parent)) yield return slice;
    }

    private static Slice Head(TableBlock block, Sheet sheet, double[] widths, double[] lefts, PdfElement? table, string continued = "")
    {
        var row = table?.Add("TR");
        var cells = block.Columns.Select((column, index) => (
            Lines: RichText.Lines([new Span(column.Heading, Face.NarrowBold)], sheet.Fonts, Size, widths[index]), column.Unit, column.IsNumber,
            Element: row?.Add(new PdfElement("TH") { Scope = "Column" }))).ToList();
        var lineCount = cells.Max(cell => cell.Lines.Count);
        var hasUnit = cells.Exists(cell => cell.Unit.Length > 0);
        var above = continued.Length > 0 ? 13 : 0;
        var height = (lineCount * Leading) + (hasUnit ? 10 : 0) + 6 + above;
        return new Slice
        {
            Height = height,
            SpaceBefore = block.Caption.Length > 0 ? 0 : 8,
            KeepsWithNext = true,
            Draw = (page, y) =>
            {
                if (above > 0)
                {
                    page.Begin(null);
                    page.Text(sheet.Left, y + 8, continued, Face.NarrowBold, 8.4, Palette.Soft);
                }

                for (var column = 0; column < cells.Count; column++)
                {
                    var (lines, unit, isNumber, element) = cells[column];
                    page.Begin(element);
                    var at = y + above + 8 + ((lineCount - lines.Count) * Leading);
                    foreach (var line in lines)
                    {
                        Write(page, sheet, line, lefts[column], widths[column], isNumber, at, Palette.Ink);
                        at += Leading;
                    }

                    if (unit.Length > 0) Write(page, sheet, [new Span(unit, Face.Narrow)], lefts[column], widths[column], isNumber, y + above + 8 + (lineCount * Leading) - 1, Palette.Soft);
                }

                page.Begin(null);
                page.Line(sheet.Left, y + height - 1.5, lefts[^1] + widths[^1], y + height - 1.5, Palette.Ink, 0.9);
                page.End();
            },
        };
    }

    private static Slice Row(TableBlock block, TableRow row, Sheet sheet, double[] widths, double[] lefts, PdfElement table, Slice? head, bool isKept, bool isFirstFact, bool isLast)
    {
        var element = table.Add("TR");
        var cells = row.Cells.Select((cell, index) =>
        {
            var isBold = cell.IsStrong || row.IsGroup || (block.IsFacts && index == 0);
            var width = row.IsGroup ? sheet.Width : widths[index];
            var isHead = row.IsGroup || (index == 0 && !block.Columns[0].IsNumber);
            return (
                Lines: RichText.Lines([new Span(cell.Text, isBold ? Face.NarrowBold : Face.Narrow)], sheet.Fonts, Size, width), Width: width,
                Element: element.Add(new PdfElement(isHead ? "TH" : "TD") { Scope = isHead ? "Row" : null, Span = row.IsGroup ? block.Columns.Length : 1 }));
        }).ToList();
        var height = (Math.Max(cells.Max(cell => cell.Lines.Count), 1) * Leading) + (2 * Pad) + (row.IsGroup ? 3 : 0);
        if (block.IsForm) height = Math.Max(height, FormRow);
        return new Slice
        {
            Height = height + (isLast ? 3 : 0),
            SpaceBefore = isFirstFact && block.Caption.Length == 0 ? 8 : 0,
            KeepsWithNext = isKept,
            Head = head,
            Draw = (page, y) =>
            {
                if (isFirstFact)
                {
                    page.Begin(null);
                    page.Line(sheet.Left, y, lefts[^1] + widths[^1], y, Palette.Ink, 0.9);
                }

                for (var column = 0; column < cells.Count; column++)
                {
                    var (lines, width, cell) = cells[column];
                    page.Begin(cell);
                    var at = y + Pad + 8 + (row.IsGroup ? 3 : 0);
                    if (block.IsForm) at = y + ((height - (lines.Count * Leading)) / 2) + 8;
                    for (var line = 0; line < lines.Count; line++)
                    {
                        var text = line < lines.Count - 1 && lines[line].Length > 0 ? lines[line].SetItem(lines[line].Length - 1, lines[line][^1] with { Text = lines[line][^1].Text + " " }) : lines[line];
                        Write(page, sheet, text, lefts[column], width, !row.IsGroup && block.Columns[column].IsNumber, at, Palette.Ink);
                        at += Leading;
                    }
                }

                page.Begin(null);
                page.Line(sheet.Left, y + height, lefts[^1] + widths[^1], y + height, isLast ? Palette.Ink : block.IsForm ? Palette.Grey : Palette.Faint, isLast ? 0.7 : 0.5);
                // Upright lines bound the boxes to write in.
                for (var column = 0; block.IsForm && column <= cells.Count; column++)
                {
                    var x = column == cells.Count ? lefts[^1] + widths[^1] : column == 0 ? sheet.Left : lefts[column] - (Gap / 2);
                    if (column > 0) page.Line(x, y, x, y + height, Palette.Grey, 0.5);
                }

                page.End();
            },
        };
    }

    private static void Write(PdfPage page, Sheet sheet, ImmutableArray<Span> line, double left, double width, bool isNumber, double baseline, Colour colour)
    {
        var own = line.Sum(span => sheet.Fonts.Width(span.Text.TrimEnd(), span.Face, Size));
        TextBlocks.Write(page, sheet, line, isNumber ? left + width - own : left, baseline, Size, colour);
    }

    private static double[] Widths(TableBlock block, Sheet sheet)
    {
        var count = block.Columns.Length;
        var room = sheet.Width - (Gap * (count - 1));
        var (least, wanted) = (new double[count], new double[count]);
        for (var column = 0; column < count; column++)
        {
            if (!block.IsFacts) Take(block.Columns[column].Heading, Face.NarrowBold, column);
            if (!block.IsFacts) Take(block.Columns[column].Unit, Face.Narrow, column);
            foreach (var row in block.Rows)
            {
                if (!row.IsGroup) Take(row.Cells[column].Text, row.Cells[column].IsStrong || (block.IsFacts && column == 0) ? Face.NarrowBold : Face.Narrow, column);
            }
        }

        // Columns of a form without a text are there to be written in.
        int[] boxes = [.. Enumerable.Range(0, count).Where(column => block.IsForm && block.Rows.All(row => row.Cells[column].Text.Length == 0))];
        // A long heading may wrap: it does not make its column wide.
        for (var column = 0; column < count && !block.IsFacts; column++)
        {
            var cells = block.Rows.Where(row => !row.IsGroup).Select(row => sheet.Fonts.Width(row.Cells[column].Text, Face.NarrowBold, Size)).DefaultIfEmpty(0).Max();
            wanted[column] = Math.Max(Math.Max(cells, least[column]), Math.Min(wanted[column], 70));
        }

        foreach (var column in boxes) wanted[column] = least[column] = Math.Max(FormBox, least[column]);
        var sum = wanted.Sum();
        if (sum <= room)
        {
            // Words take what is left over; figures and times are read down their column and stay close.
            int[] growing = [.. Enumerable.Range(0, count).Where(column => !block.Columns[column].IsNumber && !block.Rows.All(row => row.IsGroup || row.Cells[column].Time is not null))];
            if (growing.Length == 0) growing = [.. Enumerable.Range(0, count)];
            if (block.IsFacts) growing = [count - 1];
            if (boxes.Length > 0) growing = boxes;
            // A table does not spread much beyond what it needs: its rows could not be followed.
            if (!block.IsFacts && !block.IsForm) room = Math.Min(room, Math.Max(sum + (10 * count), 0.5 * room));
            var share = (room - sum) / growing.Sum(column => wanted[column] + 1);
            foreach (var column in growing) wanted[column] += share * (wanted[column] + 1);
            return wanted;
        }

        for (var column = 0; column < count; column++) least[column] = Math.Min(least[column], 0.4 * room);
        var spare = Math.Max(room - least.Sum(), 0);
        // Columns that need little have it all; the long ones share the rest.
        var given = least.ToArray();
        int[] open = [.. Enumerable.Range(0, count)];
        while (open.Length > 0 && spare > 0.01)
        {
            var each = spare / open.Length;
            int[] content = [.. open.Where(column => wanted[column] - given[column] <= each)];
            if (content.Length == 0)
            {
                // By the root of what they lack: a column of remarks does not leave the short names beside it in single words.
                var total = open.Sum(column => Math.Sqrt(wanted[column] - given[column]));
                foreach (var column in open) given[column] += spare * Math.Sqrt(wanted[column] - given[column]) / total;
                break;
            }

            foreach (var column in content)
            {
                spare -= Math.Max(wanted[column] - given[column], 0);
                given[column] = Math.Max(wanted[column], given[column]);
            }

            open = [.. open.Except(content)];
        }

        var tooWide = given.Sum() / room;
        return tooWide > 1 ? [.. given.Select(width => width / tooWide)] : given;

        void Take(string text, Face face, int column)
        {
            if (text.Length == 0) return;
            wanted[column] = Math.Max(wanted[column], sheet.Fonts.Width(text, face, Size) + 0.5);
            foreach (var word in text.Split(' ')) least[column] = Math.Max(least[column], sheet.Fonts.Width(word, face, Size) + 0.5);
        }
    }
}
