using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.RegularExpressions;
using Leadwright.Documents.Model;
using SpreadCheetah;
using SpreadCheetah.Metadata;
using SpreadCheetah.Styling;
using SpreadCheetah.Worksheets;

namespace Leadwright.Documents.Workbooks;

/// <summary>Writes the tables of a document as a workbook (Office Open XML, ISO/IEC 29500): numbers as numbers with their unit in the heading, times as times, headings that stay in sight.</summary>
public static partial class WorkbookReport
{
    private const int MostName = 31;

    /// <summary>The workbook.</summary>
    /// <param name="document">The document.</param>
    /// <param name="cancellation">Ends it early.</param>
    /// <returns>Its bytes; the same document gives the same.</returns>
    public static async Task<byte[]> WriteAsync(ReportDocument document, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(document);
        using var stream = new MemoryStream();
        await using (var workbook = await Spreadsheet.CreateNewAsync(stream, new SpreadCheetahOptions
        {
            CompressionLevel = SpreadCheetahCompressionLevel.Optimal,
            DocumentProperties = new DocumentProperties { Title = $"{document.Title}: {document.Subtitle}".TrimEnd(':', ' '), Author = document.Letterhead.Author },
        }, cancellation))
        {
            var strong = workbook.AddStyle(new Style { Font = { Bold = true } });
            var names = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
            await WriteSummaryAsync(workbook, document, strong, names, cancellation);
            foreach (var table in document.Parts.SelectMany(part => part.Blocks).OfType<TableBlock>().Concat(document.LongTables).Where(table => !table.Rows.IsEmpty))
                await WriteTableAsync(workbook, table, strong, names, cancellation);
            await workbook.FinishAsync(cancellation);
        }

        return WithoutClock(stream, document.Date);
    }

    // The questions and answers, and what the workbook is of.
    private static async Task WriteSummaryAsync(Spreadsheet workbook, ReportDocument document, StyleId strong, HashSet<string> names, CancellationToken cancellation)
    {
        var options = new WorksheetOptions { FrozenRows = 1 };
        options.Column(1).Width = 34;
        options.Column(2).Width = 24;
        options.Column(3).Width = 90;
        await workbook.StartWorksheetAsync(NameOf(document.Parts.Length > 0 ? document.Parts[0].Title : document.Title, names), options, cancellation);
        await workbook.AddRowAsync([new StyledCell(document.Title, strong), new StyledCell("", strong), new StyledCell(document.Subtitle, strong)], cancellation);
        foreach (var (label, value) in document.Facts.Where(fact => fact.Value.Length > 0))
            await workbook.AddRowAsync([new StyledCell(label, null), new StyledCell("", null), new StyledCell(value, null)], cancellation);
        foreach (var block in document.Parts.SelectMany(part => part.Blocks))
        {
            foreach (var answer in (block as AnswersBlock)?.Answers ?? [])
                await workbook.AddRowAsync([new StyledCell(answer.Question, strong), new StyledCell(answer.Short, null), new StyledCell(answer.Text.Replace("**", "", StringComparison.Ordinal), null)], cancellation);
        }
    }

    private static async Task WriteTableAsync(Spreadsheet workbook, TableBlock table, StyleId strong, HashSet<string> names, CancellationToken cancellation)
    {
        var options = new WorksheetOptions { FrozenRows = 1 };
        for (var column = 0; column < table.Columns.Length; column++)
        {
            var longest = table.Rows.Take(200).Where(row => !row.IsGroup).Select(row => row.Cells[column].Text.Length).Append(table.Columns[column].Heading.Length + table.Columns[column].Unit.Length + 3).Max();
            options.Column(column + 1).Width = Math.Clamp(longest * 1.1, 9, 70);
        }

        await workbook.StartWorksheetAsync(NameOf(table.Name, names), options, cancellation);
        await workbook.AddRowAsync(
            [.. table.Columns.Select(column => new StyledCell(column.Unit.Length > 0 ? $"{column.Heading} ({column.Unit})" : column.Heading, strong))], cancellation);
        foreach (var row in table.Rows) await workbook.AddRowAsync([.. row.Cells.Select(cell => CellOf(cell, row.IsGroup ? strong : null))], cancellation);
    }

    private static StyledCell CellOf(TableCell cell, StyleId? style) =>
        cell.Time is { Year: > 1 } time ? new StyledCell(time, style)
        : double.IsFinite(cell.Number) ? new StyledCell(cell.Number, style)
        : cell.Text is "–" or "" ? new StyledCell((string?)null, style)
        : new StyledCell(cell.Text, style);

    private static string NameOf(string wanted, HashSet<string> names)
    {
        var plain = new string([.. wanted.Where(letter => letter is not ('[' or ']' or '*' or '?' or '/' or '\\' or ':'))]);
        if (plain.Length > MostName) plain = plain[..MostName].TrimEnd();
        var name = plain;
        for (var number = 2; !names.Add(name); number++) name = $"{plain[..Math.Min(plain.Length, MostName - 3)]} {number}";
        return name;
    }

    [GeneratedRegex(@"\d{4}-\d\d-\d\dT[\d:.]+Z?")]
    private static partial Regex Created();

    // The container notes when each of its entries was written: and the properties when it was made: both get the document's own date instead.
    private static byte[] WithoutClock(MemoryStream written, DateTime date)
    {
        var stamp = new DateTimeOffset(date.Year is < 1980 or > 2107 ? new DateTime(1980, 1, 1) : new DateTime(date.Year, date.Month, date.Day), TimeSpan.Zero);
        written.Position = 0;
        using var result = new MemoryStream();
        using (var source = new ZipArchive(written, ZipArchiveMode.Read, leaveOpen: true))
        using (var target = new ZipArchive(result, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var entry in source.Entries)
            {
                var copy = target.CreateEntry(entry.FullName, CompressionLevel.Optimal);
                copy.LastWriteTime = stamp;
                using var from = entry.Open();
                using var to = copy.Open();
                if (entry.FullName == "docProps/core.xml")
                {
                    using var reader = new StreamReader(from, Encoding.UTF8);
                    to.Write(Encoding.UTF8.GetBytes(Created().Replace(reader.ReadToEnd(), stamp.ToString("yyyy-MM-dd'T'00:00:00'Z'", CultureInfo.InvariantCulture))));
                }
                else
                {
                    from.CopyTo(to);
                }
            }
        }

        return result.ToArray();
    }
}
