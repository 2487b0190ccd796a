using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Leadwright.Documents.Drawings;
using Leadwright.Documents.Model;

namespace Leadwright.Documents.Html;

/// <summary>Writes a document as one page that needs no other file: drawings as SVG, tables with headings, a table of contents, made to be read aloud and printed.</summary>
public static class HtmlReport
{
    /// <summary>The page.</summary>
    /// <param name="document">The document.</param>
    public static string Write(ReportDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        var page = new StringBuilder(262144);
        var title = document.Subtitle.Length > 0 ? $"{document.Title}: {document.Subtitle}" : document.Title;
        page.Append(CultureInfo.InvariantCulture, $"<!DOCTYPE html>\n<html lang=\"{E(document.Language)}\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{E(title)}</title>\n");
        page.Append(CultureInfo.InvariantCulture, $"<meta name=\"generator\" content=\"{E(document.Producer)}\">\n{(document.Date == default ? "" : $"<meta name=\"date\" content=\"{document.Date:yyyy-MM-dd}\">\n")}<style>\n{HtmlStyle.Text}</style>\n</head>\n<body>\n");
        page.Append(CultureInfo.InvariantCulture, $"<a class=\"skip\" href=\"#main\">{E(document.Words.Skip)}</a>\n");
        AppendHead(page, document);
        page.Append(CultureInfo.InvariantCulture, $"<nav aria-labelledby=\"contents\"><h2 id=\"contents\">{E(document.Words.Contents)}</h2><ol>\n");
        foreach (var part in document.Parts) page.Append(CultureInfo.InvariantCulture, $"<li><a href=\"#{part.Id}\">{E(part.Title)}</a></li>\n");
        page.Append("</ol></nav>\n<main id=\"main\">\n");
        var count = new HtmlCount();
        foreach (var part in document.Parts)
        {
            page.Append(CultureInfo.InvariantCulture, $"<section id=\"{part.Id}\" aria-labelledby=\"{part.Id}-h\"><h2 id=\"{part.Id}-h\">{E(part.Title)}</h2>\n");
            foreach (var block in part.Blocks) Append(page, block, document, count);
            page.Append("</section>\n");
        }

        page.Append(CultureInfo.InvariantCulture, $"</main>\n<footer><p>{E(document.Letterhead.Number)} {Convert.ToHexStringLower([.. document.Identity])[..12]} · {E(document.Producer)}</p></footer>\n</body>\n</html>\n");
        return page.ToString();
    }

    private static void AppendHead(StringBuilder page, ReportDocument document)
    {
        var letterhead = document.Letterhead;
        page.Append("<header>\n");
        if (!letterhead.Logo.IsEmpty)
        {
            var kind = letterhead.Logo.Span[0] == 0xFF ? "jpeg" : "png";
            page.Append(CultureInfo.InvariantCulture, $"<img class=\"logo\" alt=\"{E(letterhead.Name)}\" src=\"data:image/{kind};base64,{Convert.ToBase64String(letterhead.Logo.Span)}\">\n");
        }

        if (letterhead.Name.Length > 0) page.Append(CultureInfo.InvariantCulture, $"<p class=\"firm\"><strong>{E(letterhead.Name)}</strong>{string.Concat(letterhead.Lines.Select(line => $"<br>{E(line)}"))}</p>\n");
        page.Append(CultureInfo.InvariantCulture, $"<div class=\"plate\"><h1>{E(document.Title)}</h1><p>{E(document.Subtitle)}</p></div>\n<table class=\"facts\"><tbody>\n");
        foreach (var (label, value) in document.Facts.Where(fact => fact.Value.Length > 0)) page.Append(CultureInfo.InvariantCulture, $"<tr><th scope=\"row\">{E(label)}</th><td>{E(value)}</td></tr>\n");
        page.Append("</tbody></table>\n</header>\n");
    }

    private static void Append(StringBuilder page, Block block, ReportDocument document, HtmlCount count)
    {
        switch (block)
        {
            case HeadingBlock heading:
                page.Append(CultureInfo.InvariantCulture, $"<h3>{E(heading.Text)}</h3>\n");
                break;
            case ParagraphBlock paragraph:
                page.Append(CultureInfo.InvariantCulture, $"<p{paragraph.Style switch { ParagraphStyle.Lead => " class=\"lead\"", ParagraphStyle.Small => " class=\"small\"", _ => "" }}>{Rich(paragraph.Text)}</p>\n");
                break;
            case ListBlock list:
                var tag = list.IsNumbered ? "ol" : "ul";
                page.Append(CultureInfo.InvariantCulture, $"<{tag}>{string.Concat(list.Items.Select(item => $"<li>{Rich(item)}</li>\n"))}</{tag}>\n");
                break;
            case NoticeBlock notice:
                page.Append(CultureInfo.InvariantCulture, $"<div class=\"notice\" role=\"note\">{(notice.Title.Length > 0 ? $"<p><strong>{E(notice.Title)}</strong></p>" : "")}{string.Concat(notice.Lines.Select(line => $"<p>{Rich(line)}</p>"))}</div>\n");
                break;
            case KeyFiguresBlock key:
                page.Append("<dl class=\"key\">\n");
                foreach (var figure in key.Figures)
                    page.Append(CultureInfo.InvariantCulture, $"<div><dt>{E(figure.Label)}</dt><dd><span class=\"value\">{E(figure.Value)}</span> {E(figure.Unit)}<br><span class=\"small\">{E(figure.Note)}</span></dd></div>\n");
                page.Append("</dl>\n");
                break;
            case AnswersBlock answers:
                page.Append("<dl class=\"answers\">\n");
                foreach (var answer in answers.Answers)
                    page.Append(CultureInfo.InvariantCulture, $"<div><dt>{E(answer.Question)}</dt><dd>{Sign(answer.Mood)}<span>{(answer.Short.Length > 0 ? $"<strong>{E(answer.Short)}</strong> " : "")}{Rich(answer.Text)}</span></dd></div>\n");
                page.Append("</dl>\n");
                break;
            case FigureBlock figure:
                Append(page, figure, document, count);
                break;
            case FigurePairBlock pair:
                page.Append("<div class=\"pair\">\n");
                Append(page, pair.Left, document, count);
                Append(page, pair.Right, document, count);
                page.Append("</div>\n");
                break;
            case TableBlock table:
                Append(page, table, document, count);
                break;
            case TicksBlock ticks:
                page.Append("<ul class=\"ticks\">\n");
                foreach (var item in ticks.Items)
                    page.Append(CultureInfo.InvariantCulture, $"<li><span class=\"box\" role=\"img\" aria-label=\"{E(item.IsDone is null ? document.Words.Box : item.IsDone.Value ? document.Words.Done : document.Words.NotDone)}\">{(item.IsDone == true ? "✓" : "")}</span>{E(item.Text)}{(item.Note.Length > 0 ? $" <strong>{E(item.Note)}</strong>" : "")}</li>\n");
                page.Append("</ul>\n");
                break;
            case ColumnsBlock columns:
                page.Append("<div class=\"pair\">\n");
                foreach (var side in (ImmutableArray<Block>[])[columns.Left, columns.Right])
                {
                    page.Append("<div>\n");
                    foreach (var inner in side) Append(page, inner, document, count);
                    page.Append("</div>\n");
                }

                page.Append("</div>\n");
                break;
            case RuledBlock ruled:
                page.Append(CultureInfo.InvariantCulture, $"<p class=\"small\">{E(ruled.Label)}</p>{string.Concat(Enumerable.Repeat("<div class=\"ruled\"></div>", ruled.Count))}\n");
                break;
            case SignatureBlock signature:
                if (signature.Statement.Length > 0) page.Append(CultureInfo.InvariantCulture, $"<p>{Rich(signature.Statement)}</p>\n");
                foreach (var signer in signature.Signers)
                    page.Append(CultureInfo.InvariantCulture, $"<div class=\"sign\"><p><strong>{E(signer.Role)}</strong></p><p><span></span>{E(signer.Labels.Signature)}</p><p><span>{E(signer.Name)}</span>{E(signer.Labels.Name)}</p><p><span></span>{E(signer.Labels.Date)}</p></div>\n");
                break;
        }
    }

    private static void Append(StringBuilder page, FigureBlock figure, ReportDocument document, HtmlCount count)
    {
        var label = figure.IsOptional ? "" : $"<strong>{E(document.Words.Figure.Replace("{number}", $"{++count.Figures}", StringComparison.Ordinal))}</strong> ";
        if (!figure.Beside.IsEmpty) page.Append(CultureInfo.InvariantCulture, $"<ul>{string.Concat(figure.Beside.Select(text => $"<li>{Rich(text)}</li>"))}</ul>\n");
        page.Append(CultureInfo.InvariantCulture, $"<figure{(figure.WidthShare < 1 ? " class=\"narrow\"" : "")}>{SvgText.Write(figure.Drawing, $"g{++count.Drawings}")}<figcaption>{label}{Rich(figure.Caption)}</figcaption></figure>\n");
    }

    private static void Append(StringBuilder page, TableBlock table, ReportDocument document, HtmlCount count)
    {
        if (table.Rows.IsEmpty) return;
        page.Append(CultureInfo.InvariantCulture, $"<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"{E(table.Caption.Length > 0 ? table.Caption : table.Name)}\"><table{(table.IsFacts ? " class=\"facts\"" : table.IsForm ? " class=\"form\"" : "")}>");
        if (table.Caption.Length > 0) page.Append(CultureInfo.InvariantCulture, $"<caption><strong>{E(document.Words.Table.Replace("{number}", $"{++count.Tables}", StringComparison.Ordinal))}</strong> {Rich(table.Caption)}</caption>");
        if (!table.IsFacts)
        {
            page.Append("<thead><tr>");
            foreach (var column in table.Columns)
                page.Append(CultureInfo.InvariantCulture, $"<th scope=\"col\"{(column.IsNumber ? " class=\"n\"" : "")}>{E(column.Heading)}{(column.Unit.Length > 0 ? $"<br><span class=\"unit\">{E(column.Unit)}</span>" : "")}</th>");
            page.Append("</tr></thead>");
        }

        page.Append("<tbody>\n");
        foreach (var row in table.Rows)
        {
            page.Append("<tr>");
            for (var index = 0; index < row.Cells.Length; index++)
            {
                var cell = row.Cells[index];
                var text = cell.IsStrong ? $"<strong>{E(cell.Text)}</strong>" : E(cell.Text);
                if (row.IsGroup) page.Append(CultureInfo.InvariantCulture, $"<th scope=\"rowgroup\" colspan=\"{table.Columns.Length}\">{text}</th>");
                else if (index == 0 && !table.Columns[0].IsNumber) page.Append(CultureInfo.InvariantCulture, $"<th scope=\"row\">{text}</th>");
                else page.Append(CultureInfo.InvariantCulture, $"<td{(table.Columns[index].IsNumber ? " class=\"n\"" : "")}>{text}</td>");
            }

            page.Append("</tr>\n");
        }

        page.Append("</tbody></table></div>\n");
        if (table.Note.Length > 0) page.Append(CultureInfo.InvariantCulture, $"<p class=\"small\">{Rich(table.Note)}</p>\n");
    }

    private static string Sign(AnswerMood mood) => mood switch
    {
        AnswerMood.Good => "<svg class=\"sign-mark\" viewBox=\"0 0 10 10\" aria-hidden=\"true\"><circle cx=\"5\" cy=\"5\" r=\"4\"/></svg>",
        AnswerMood.Partly => "<svg class=\"sign-mark\" viewBox=\"0 0 10 10\" aria-hidden=\"true\"><circle cx=\"5\" cy=\"5\" r=\"4\" fill=\"none\" stroke=\"currentColor\"/><path d=\"M5 1A4 4 0 0 0 5 9Z\"/></svg>",
        AnswerMood.Bad => "<svg class=\"sign-mark\" viewBox=\"0 0 10 10\" aria-hidden=\"true\"><path d=\"M5 .6L9.6 9H.4Z\" fill=\"#9c4a12\"/></svg>",
        AnswerMood.Open => "<svg class=\"sign-mark\" viewBox=\"0 0 10 10\" aria-hidden=\"true\"><circle cx=\"5\" cy=\"5\" r=\"4\" fill=\"none\" stroke=\"currentColor\"/></svg>",
        _ => "<span class=\"sign-mark\"></span>",
    };

    private static string Rich(string text)
    {
        var parts = E(text).Split("**");
        return string.Concat(parts.Select((part, index) => index % 2 == 1 && index < parts.Length - 1 ? $"<strong>{part}</strong>" : part));
    }

    private static string E(string text) => SvgText.Escaped(text);

    private sealed class HtmlCount
    {
        public int Figures { get; set; }

        public int Drawings { get; set; }

        public int Tables { get; set; }
    }
}
