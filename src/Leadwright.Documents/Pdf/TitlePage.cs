using System.Globalization;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Fonts;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Model;

namespace Leadwright.Documents.Pdf;

/// <summary>The first page: letterhead, an engraved plate with the title, the facts, the contents.</summary>
internal static class TitlePage
{
    public static List<Slice> Slices(ReportDocument document, Sheet sheet, PdfElement section, List<PdfBookmark> bookmarks, List<PdfImage> images)
    {
        var slices = new List<Slice> { Head(document, sheet, section, images), Plate(document, sheet, section) };
        var facts = new TableBlock("Facts", "", [new TableColumn(""), new TableColumn("")], [.. document.Facts.Where(fact => fact.Value.Length > 0).Select(fact => TableRow.Of(fact.Label, fact.Value))]) { IsFacts = true };
        slices.AddRange(TableLayout.Table(facts, sheet, section, 0));
        slices.AddRange(TextBlocks.Heading(document.Words.Contents, sheet, section, null));
        // Headings within parts stand in the contents while they fit on the page with the parts.
        var used = slices.Sum(slice => slice.Height + slice.SpaceBefore);
        var room = sheet.Bottom - Sheet.Top - used;
        var parts = bookmarks.Where(bookmark => bookmark.Level == 1).ToList();
        var shown = (bookmarks.Count * 13.2) + (parts.Count * 4) <= room ? bookmarks : parts;
        var contents = section.Add("TOC");
        foreach (var bookmark in shown) slices.Add(Entry(bookmark, sheet, contents));
        return slices;
    }

    /// <summary>The title of a paper without a first page of its own: a low plate.</summary>
    public static Slice Strip(ReportDocument document, Sheet sheet, PdfElement section)
    {
        var title = section.Add("Title");
        var subtitle = document.Subtitle;
        while (subtitle.Length > 1 && sheet.Fonts.Width(subtitle, Face.Narrow, 12) > sheet.Width - 60 - sheet.Fonts.Width(document.Title, Face.NarrowBold, 17)) subtitle = subtitle[..^2].TrimEnd() + "…";
        return new Slice
        {
            Height = 12,
            Draw = (page, y) =>
            {
                // It stands where other pages have their running head.
                const double Top = 34, High = 34;
                var board = new DrawingBoard(sheet.Width, High);
                board.Rectangle(0, 0, sheet.Width, High, new Ink { Fill = Palette.Plate }, 5);
                board.Rectangle(3, 3, sheet.Width - 6, High - 6, new Ink { Stroke = Palette.Rule, StrokeWidth = 0.7 }, 3);
                page.Begin(null);
                page.Draw(board.Finish("", ""), sheet.Left, y - Top, 1);
                page.Begin(title);
                page.Text(sheet.Left + 14, y - Top + 23, document.Title + " ", Face.NarrowBold, 17, Palette.Paper);
                page.Text(sheet.Right - 14 - sheet.Fonts.Width(subtitle, Face.Narrow, 12), y - Top + 22, subtitle, Face.Narrow, 12, Palette.Paper);
                page.End();
            },
        };
    }

    private static Slice Head(ReportDocument document, Sheet sheet, PdfElement section, List<PdfImage> images)
    {
        var letterhead = document.Letterhead;
        var element = section.Add("P");
        var logo = images.Count > 0 ? new PdfElement("Figure") { Alternative = letterhead.Name.Length > 0 ? letterhead.Name : "Logo" } : null;
        if (logo is not null) section.Add(logo);
        var hasHead = letterhead.Name.Length > 0 || letterhead.Lines.Length > 0 || logo is not null;
        return new Slice
        {
            Height = hasHead ? Math.Max(logo is null ? 0 : 46, 14 + (letterhead.Lines.Length * 11)) + 22 : 6,
            Draw = (page, y) =>
            {
                if (logo is not null)
                {
                    var scale = Math.Min(150.0 / images[0].Width, 44.0 / images[0].Height);
                    page.Begin(logo);
                    page.Image(0, sheet.Right - (scale * images[0].Width), y - 14, scale * images[0].Width, scale * images[0].Height);
                }

                if (letterhead.Name.Length > 0 || letterhead.Lines.Length > 0)
                {
                    page.Begin(element);
                    page.Text(sheet.Left, y, letterhead.Name, Face.NarrowBold, 12.5, Palette.Ink);
                    for (var line = 0; line < letterhead.Lines.Length; line++) page.Text(sheet.Left, y + 13 + (line * 11), letterhead.Lines[line], Face.Narrow, 8.6, Palette.Soft);
                }

                page.End();
            },
        };
    }

    private static Slice Plate(ReportDocument document, Sheet sheet, PdfElement section)
    {
        var title = new PdfElement("Title");
        section.Add(title);
        var titles = RichText.Lines([new Span(document.Title, Face.NarrowBold)], sheet.Fonts, 25, sheet.Width - 64);
        var subtitles = RichText.Lines([new Span(document.Subtitle, Face.Narrow)], sheet.Fonts, 13.5, sheet.Width - 64);
        var height = 36 + (titles.Count * 29) + (subtitles.Count * 17);
        return new Slice
        {
            Height = height + 8,
            SpaceBefore = 4,
            Draw = (page, y) =>
            {
                // A label plate as on a switchboard: dark, engraved, a screw at each end.
                var board = new DrawingBoard(sheet.Width, height);
                board.Rectangle(0, 0, sheet.Width, height, new Ink { Fill = Palette.Plate }, 6);
                board.Rectangle(4, 4, sheet.Width - 8, height - 8, new Ink { Stroke = Palette.Rule, StrokeWidth = 0.8 }, 4);
                foreach (var x in (double[])[17, sheet.Width - 17])
                {
                    board.Circle(x, height / 2, 4.6, new Ink { Stroke = Palette.Rule, StrokeWidth = 0.9 });
                    board.Line(x - 3.2, (height / 2) + 3.2, x + 3.2, (height / 2) - 3.2, Palette.Rule, 0.9);
                }

                page.Begin(null);
                page.Draw(board.Finish("", ""), sheet.Left, y, 1);
                page.Begin(title);
                var at = y + 41;
                foreach (var line in titles)
                {
                    TextBlocks.Write(page, sheet, line, sheet.Left + 32, at, 25, Palette.Paper);
                    at += 29;
                }

                at -= 8;
                foreach (var line in subtitles)
                {
                    TextBlocks.Write(page, sheet, line, sheet.Left + 32, at, 13.5, Palette.Paper);
                    at += 17;
                }

                page.End();
            },
        };
    }

    private static Slice Entry(PdfBookmark bookmark, Sheet sheet, PdfElement contents)
    {
        var entry = contents.Add("TOCI");
        var isPart = bookmark.Level == 1;
        var (face, size) = isPart ? (Face.NarrowBold, 9.8) : (Face.Narrow, 9.0);
        return new Slice
        {
            Height = 13.2,
            SpaceBefore = isPart ? 4 : 0,
            Draw = (page, y) =>
            {
                var link = entry.Add("Link");
                var left = sheet.Left + (isPart ? 0 : 12);
                var number = (bookmark.Target.Page + 1).ToString(CultureInfo.InvariantCulture);
                var text = bookmark.Title;
                while (sheet.Fonts.Width(text, face, size) > sheet.Right - left - 60) text = text[..^2] + "…";
                page.Begin(link);
                page.Text(left, y + 10, text + " ", face, size, Palette.Ink);
                page.Text(sheet.Right - sheet.Fonts.Width(number, face, size), y + 10, number, face, size, Palette.Ink);
                var place = new PdfLink(page.Number, left, y, sheet.Right - left, 13.2, bookmark.Target, "", bookmark.Title);
                page.Links.Add(place);
                link.Take(place);
                page.Begin(null);
                var from = left + sheet.Fonts.Width(text, face, size) + 6;
                for (var x = Math.Ceiling(from / 5) * 5; x < sheet.Right - 22; x += 5) page.Rectangle(x, y + 9.2, 0.8, 0.8, Palette.Grey);
                page.End();
            },
        };
    }
}
