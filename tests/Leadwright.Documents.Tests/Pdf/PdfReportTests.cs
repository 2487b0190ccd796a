using System.Text;
using System.Text.RegularExpressions;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Model;
using Leadwright.Documents.Pdf;
using Leadwright.Documents.Reports;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Outline;

namespace Leadwright.Documents.Tests.Pdf;

/// <summary>What a reader that nobody here wrote (PdfPig) finds in the files.</summary>
public sealed partial class PdfReportTests
{
    private static readonly Lazy<(ReportDocument Document, byte[] Bytes)> s_week = new(() =>
    {
        var document = ReportBuilder.Build(TestSurvey.Week(), TestSurvey.Settings());
        return (document, PdfReport.Write(document, PaperSize.A4));
    });

    [Fact]
    public void Text_comes_out_in_the_order_of_reading()
    {
        using var pdf = PdfDocument.Open(s_week.Value.Bytes);
        var text = string.Concat(pdf.GetPages().Skip(1).Select(page => page.Text));
        var at = 0;
        foreach (var part in s_week.Value.Document.Parts)
        {
            foreach (var words in (string[])[part.Title, .. part.Blocks.OfType<HeadingBlock>().Select(heading => heading.Text)])
            {
                var found = text.IndexOf(words, at, StringComparison.Ordinal);
                Assert.True(found >= at, $"'{words}' does not follow what stands before it.");
                at = found;
            }
        }
    }

    [Fact]
    public void Sentences_keep_their_spaces_where_a_line_ends()
    {
        using var pdf = PdfDocument.Open(s_week.Value.Bytes);
        var text = string.Concat(pdf.GetPages().Select(page => page.Text));
        foreach (var paragraph in s_week.Value.Document.Parts.SelectMany(part => part.Blocks).OfType<ParagraphBlock>().Where(block => block.Text.Length < 160))
            Assert.Contains(paragraph.Text.Replace("**", "", StringComparison.Ordinal).Replace('\u00a0', ' '), text, StringComparison.Ordinal);
    }

    [Fact]
    public void Bookmarks_are_the_parts_with_their_headings_and_lead_to_their_pages()
    {
        using var pdf = PdfDocument.Open(s_week.Value.Bytes);
        Assert.True(pdf.TryGetBookmarks(out var bookmarks));
        var document = s_week.Value.Document;
        Assert.Equal(document.Parts.Select(part => part.Title), bookmarks.Roots.Select(root => root.Title));
        Assert.Equal(document.Parts[2].Blocks.OfType<HeadingBlock>().Select(heading => heading.Text), bookmarks.Roots[2].Children.Select(child => child.Title));
        foreach (var node in bookmarks.GetNodes().OfType<DocumentBookmarkNode>()) Assert.Contains(node.Title, pdf.GetPage(node.PageNumber).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Contents_give_the_page_on_which_a_part_begins()
    {
        using var pdf = PdfDocument.Open(s_week.Value.Bytes);
        Assert.True(pdf.TryGetBookmarks(out var bookmarks));
        var first = pdf.GetPage(1).Text;
        foreach (var root in bookmarks.Roots.OfType<DocumentBookmarkNode>()) Assert.Contains($"{root.Title} {root.PageNumber}", first, StringComparison.Ordinal);
        Assert.NotEmpty(pdf.GetPage(1).GetAnnotations());
    }

    [Fact]
    public void Every_font_is_embedded_as_a_subset()
    {
        var text = Encoding.Latin1.GetString(s_week.Value.Bytes);
        Assert.NotEmpty(Descriptors().Matches(text));
        Assert.All(Descriptors().Matches(text), match => Assert.Contains("/FontFile2 ", match.Value, StringComparison.Ordinal));
        using var pdf = PdfDocument.Open(s_week.Value.Bytes);
        foreach (var letter in pdf.GetPages().SelectMany(page => page.Letters)) Assert.Matches("^[A-Z]{6}\\+(Barlow|IBMPlexSans)", letter.FontName);
    }

    [Fact]
    public void Nothing_runs_over_the_margins()
    {
        foreach (var paper in (PaperSize[])[PaperSize.A4, PaperSize.Letter])
        {
            using var pdf = PdfDocument.Open(PdfReport.Write(s_week.Value.Document, paper));
            foreach (var page in pdf.GetPages())
            {
                Assert.InRange(page.Width, paper.Width - 0.01, paper.Width + 0.01);
                Assert.All(page.Letters.Where(letter => letter.Value.Trim().Length > 0), letter =>
                {
                    Assert.InRange(letter.StartBaseLine.X, 55, paper.Width - 50);
                    Assert.InRange(letter.EndBaseLine.X, 55, paper.Width - 50);
                    Assert.InRange(letter.StartBaseLine.Y, 30, paper.Height - 30);
                });
            }
        }
    }

    [Fact]
    public void No_heading_is_the_last_thing_on_its_page()
    {
        using var pdf = PdfDocument.Open(s_week.Value.Bytes);
        foreach (var page in pdf.GetPages().Skip(1))
        {
            // Headings are set bold and larger than tables; the foot of the page is below 50.
            var body = page.Letters.Where(letter => letter.StartBaseLine.Y is > 50 and < 790 && letter.Value.Trim().Length > 0).ToList();
            if (body.Count == 0) continue;
            var lowest = body.Min(letter => letter.StartBaseLine.Y);
            Assert.DoesNotContain(body, letter => letter.StartBaseLine.Y < lowest + 1 && letter.FontName!.EndsWith("SemiCondensed-Bold", StringComparison.Ordinal) && letter.PointSize > 11);
        }
    }

    [Fact]
    public void The_file_says_what_it_is_and_never_when_it_was_made()
    {
        using var pdf = PdfDocument.Open(s_week.Value.Bytes);
        Assert.Equal("Electrical survey report: Invented Bakery, board MDB-1", pdf.Information.Title);
        Assert.Equal("A. Sample", pdf.Information.Author);
        Assert.Equal("D:20260309000000Z", pdf.Information.CreationDate);
        var text = Encoding.Latin1.GetString(s_week.Value.Bytes);
        Assert.Contains("/MarkInfo<</Marked true>>", text, StringComparison.Ordinal);
        Assert.Contains("/Lang(en)", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_drawing_has_words_for_those_who_cannot_see_it()
    {
        var text = Encoding.Latin1.GetString(s_week.Value.Bytes);
        var figures = Figures().Matches(text);
        Assert.NotEmpty(figures);
        Assert.All(figures, match => Assert.Contains("/Alt", match.Value, StringComparison.Ordinal));
    }

    [Fact]
    public void The_same_subject_gives_the_same_bytes() =>
        Assert.Equal(s_week.Value.Bytes, PdfReport.Write(ReportBuilder.Build(TestSurvey.WeekAnew(), TestSurvey.Settings()), PaperSize.A4));

    [Fact]
    public void Names_in_other_letters_come_out_as_they_were_typed()
    {
        var settings = TestSurvey.Settings();
        var document = ReportBuilder.Build(TestSurvey.Week(), settings with { Parts = ["site"], Letterhead = settings.Letterhead with { Site = "Ελληνικός Φούρνος", Panel = "щит № 1", Author = "Ł. Ğöß" } });
        using var pdf = PdfDocument.Open(PdfReport.Write(document, PaperSize.A4));
        var text = string.Concat(pdf.GetPages().Select(page => page.Text));
        Assert.Contains("Ελληνικός Φούρνος", text, StringComparison.Ordinal);
        Assert.Contains("щит № 1", text, StringComparison.Ordinal);
        Assert.Contains("Ł. Ğöß", text, StringComparison.Ordinal);
        Assert.Equal("Ł. Ğöß", pdf.Information.Author);
    }

    [Fact]
    public void A_logo_stands_on_the_first_page_and_no_other()
    {
        var settings = TestSurvey.Settings();
        var document = ReportBuilder.Build(TestSurvey.Week(), settings with { Parts = ["cautions"], Letterhead = settings.Letterhead with { Logo = TestPicture.Png(8, 4) } });
        using var pdf = PdfDocument.Open(PdfReport.Write(document, PaperSize.A4));
        var image = Assert.Single(pdf.GetPage(1).GetImages());
        Assert.Equal((8, 4), (image.WidthInSamples, image.HeightInSamples));
        Assert.True(image.TryGetPng(out _) || image.TryGetBytesAsMemory(out _));
        Assert.Empty(pdf.GetPage(2).GetImages());
    }

    [Fact]
    public void A_logo_that_is_no_picture_is_refused() =>
        Assert.Contains("no PNG and no JPEG", Assert.Throws<FormatException>(() => PdfImage.Read([.. Enumerable.Repeat((byte)7, 64)])).Message, StringComparison.Ordinal);

    [GeneratedRegex("<</Type/FontDescriptor.*?>>")]
    private static partial Regex Descriptors();

    [GeneratedRegex("<</Type/StructElem/S/Figure/.*")]
    private static partial Regex Figures();
}
