using System.Globalization;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Fonts;
using Leadwright.Documents.Layout;
using Leadwright.Documents.Model;

namespace Leadwright.Documents.Pdf;

/// <summary>What stands at the head and foot of each page.</summary>
internal static class PageFrame
{
    public static void Draw(PdfPage page, int count, ReportDocument document, Sheet sheet)
    {
        page.Begin(null);
        if (page.Number > 0)
        {
            var subtitle = document.Subtitle.Length > 0 ? document.Subtitle : document.Letterhead.Name;
            page.Text(sheet.Left, 40, Fitted(subtitle, sheet, sheet.Width * 0.62), Face.NarrowBold, 8.4, Palette.Soft);
            Right(page, sheet, document.Title, 40);
            page.Line(sheet.Left, 46, sheet.Right, 46, Palette.Rule, 0.5);
        }

        var foot = sheet.Paper.Height - 34;
        page.Line(sheet.Left, foot - 12, sheet.Right, foot - 12, Palette.Rule, 0.5);
        var left = document.Letterhead.Number.Length > 0 ? document.Letterhead.Number : document.Letterhead.Name;
        var identity = $"{Convert.ToHexString([.. document.Identity])[..12].ToLowerInvariant()}";
        page.Text(sheet.Left, foot, left.Length > 0 ? $"{Fitted(left, sheet, sheet.Width * 0.5)}   {identity}" : identity, Face.Narrow, 8, Palette.Soft);
        Right(page, sheet, document.Words.Page
            .Replace("{page}", (page.Number + 1).ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal)
            .Replace("{pages}", count.ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal), foot);
        page.End();
    }

    private static void Right(PdfPage page, Sheet sheet, string text, double baseline) =>
        page.Text(sheet.Right - sheet.Fonts.Width(text, Face.Narrow, 8.4), baseline, text, Face.Narrow, 8.4, Palette.Soft);

    private static string Fitted(string text, Sheet sheet, double width)
    {
        if (sheet.Fonts.Width(text, Face.NarrowBold, 8.4) <= width) return text;
        while (text.Length > 1 && sheet.Fonts.Width(text + "…", Face.NarrowBold, 8.4) > width) text = text[..^1];
        return text.TrimEnd() + "…";
    }
}
