using System.Collections.Immutable;
using Leadwright.Documents.Fonts;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Model;

namespace Leadwright.Documents.Pdf;

/// <summary>Writes a document as a PDF file: ISO 32000-1, fonts embedded, text in the order of reading, with structure, bookmarks, contents and metadata.</summary>
/// <remarks>The same document gives the same bytes: nothing of the clock or of chance goes in.</remarks>
public static class PdfReport
{
    /// <summary>The file.</summary>
    /// <param name="document">The document.</param>
    /// <param name="paper">The paper.</param>
    /// <returns>Its bytes.</returns>
    /// <exception cref="FormatException">The letterhead's logo is of a kind that is not read.</exception>
    public static byte[] Write(ReportDocument document, PaperSize paper)
    {
        ArgumentNullException.ThrowIfNull(document);
        ArgumentNullException.ThrowIfNull(paper);
        var fonts = new FontShelf();
        var sheet = new Sheet(paper, fonts, document.Words);
        var root = new PdfElement("Document");
        var images = document.Letterhead.Logo.IsEmpty ? [] : new List<PdfImage> { PdfImage.Read(document.Letterhead.Logo.ToArray()) };
        var bookmarks = new List<PdfBookmark>();
        var parts = document.Parts.Select((part, index) => (Part: part, Target: new PdfTarget(), Headings: part.Blocks.OfType<HeadingBlock>().Select(heading => (heading.Text, Target: new PdfTarget())).ToImmutableArray())).ToList();
        foreach (var (part, target, headings) in parts)
        {
            bookmarks.Add(new PdfBookmark(part.Title, 1, target));
            bookmarks.AddRange(headings.Select(heading => new PdfBookmark(heading.Text, 2, heading.Target)));
        }

        var flow = new PageFlow(Sheet.Top, sheet.Bottom);
        if (document.HasTitlePage) flow.Place(TitlePage.Slices(document, sheet, root.Add("Sect"), bookmarks, images));
        else flow.Place([TitlePage.Strip(document, sheet, root.Add("Sect"))]);
        var layout = new BlockLayout();
        foreach (var (part, target, headings) in parts)
        {
            var section = root.Add("Sect");
            var slices = new List<Slice>();
            if (!document.HasTitlePage) slices.AddRange(TextBlocks.Heading(part.Title, sheet, section, target, "H1", part.IsOnNewPage));
            else slices.AddRange(TextBlocks.PartTitle(part.Title, sheet, section, target, part.IsOnNewPage || part == document.Parts[0]));
            slices.AddRange(layout.Slices(part.Blocks, sheet, section, [.. headings.Select(heading => heading.Target)]));
            if (slices.Count > 0) slices[^1].KeepsWithNext = false;
            flow.Place(slices);
        }

        var pages = Enumerable.Range(0, flow.PageCount).Select(number => new PdfPage(number, paper.Width, paper.Height, fonts)).ToList();
        foreach (var (page, y, slice) in flow.Placed) slice.Draw(pages[page], y);
        foreach (var page in pages) PageFrame.Draw(page, pages.Count, document, sheet);
        return new PdfAssembly(fonts, root)
        {
            Title = document.Subtitle.Length > 0 ? $"{document.Title}: {document.Subtitle}" : document.Title,
            Author = document.Letterhead.Author.Length > 0 ? document.Letterhead.Author : document.Letterhead.Name,
            Subject = string.Join("; ", document.Facts.Select(fact => $"{fact.Label} {fact.Value}")),
            Producer = document.Producer,
            Language = document.Language,
            Date = document.Date,
            Identity = [.. document.Identity],
        }.Write(pages, bookmarks, images);
    }
}
