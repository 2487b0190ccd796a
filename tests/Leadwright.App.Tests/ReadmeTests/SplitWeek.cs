using System.Globalization;
using System.IO.Compression;
using System.Text;

namespace Leadwright.App.Tests.ReadmeTests;

/// <summary>A workbook (ECMA-376) of logged values such as a recorder exports, of a single-phase three-wire service: written part by part, so that no program's own habits are in it.</summary>
internal static class SplitWeek
{
    private const int RowCount = 288;

    public static async Task WriteAsync(string path, CancellationToken cancellation)
    {
        await using var zip = await ZipArchive.CreateAsync(File.Create(path), ZipArchiveMode.Create, leaveOpen: false, null, cancellation);
        await PartAsync(zip, "[Content_Types].xml", """<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>""", cancellation);
        await PartAsync(zip, "_rels/.rels", """<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>""", cancellation);
        await PartAsync(zip, "xl/workbook.xml", """<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Log" sheetId="1" r:id="r1"/></sheets></workbook>""", cancellation);
        await PartAsync(zip, "xl/_rels/workbook.xml.rels", """<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>""", cancellation);
        await PartAsync(zip, "xl/worksheets/sheet1.xml", $"""<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>{Rows()}</sheetData></worksheet>""", cancellation);
    }

    private static string Rows()
    {
        var rows = new StringBuilder("<row>").AppendJoin("", ((string[])["Time", "V1 rms (V)", "V2 rms (V)", "I1 rms (A)", "I2 rms (A)", "P1 (W)", "P2 (W)"]).Select(Text)).Append("</row>");
        var start = new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Unspecified);
        for (var row = 0; row < RowCount; row++)
        {
            var load = 12 + (8 * Math.Sin(2 * Math.PI * row / 144)) + (row % 7);
            var (volts1, volts2) = (120 - (0.03 * load), 120.4 - (0.02 * load));
            rows.Append("<row>").Append(Text(start.AddMinutes(10 * row).ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture)));
            foreach (var value in (double[])[volts1, volts2, load, 0.7 * load, 0.95 * volts1 * load, 0.95 * volts2 * 0.7 * load]) rows.Append(CultureInfo.InvariantCulture, $"<c><v>{value:0.###}</v></c>");
            rows.Append("</row>");
        }

        return rows.ToString();
    }

    private static string Text(string text) => $"<c t=\"inlineStr\"><is><t>{text}</t></is></c>";

    private static async Task PartAsync(ZipArchive zip, string name, string text, CancellationToken cancellation)
    {
        await using var part = await zip.CreateEntry(name).OpenAsync(cancellation);
        await part.WriteAsync(Encoding.UTF8.GetBytes(text), cancellation);
    }
}
