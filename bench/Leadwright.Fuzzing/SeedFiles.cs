using System.Globalization;
using System.IO.Compression;
using System.Text;
using Leadwright.Core.Hookups.Priors;
using Leadwright.Core.Logs;
using Leadwright.Core.Signals;
using Leadwright.Formats;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Formats.Pqdif;
using Leadwright.Formats.Priors;
using Leadwright.Formats.Tables;

namespace Leadwright.Fuzzing;

/// <summary>Small sound files to begin from: invented, or cut from the open data of the tests.</summary>
internal static class SeedFiles
{
    /// <summary>An invented log of some rows.</summary>
    public static IntervalLog Log(int rows = 24)
    {
        var chance = new Random(1);
        LogColumn[] columns =
        [
            new("V1", LogQuantity.Voltage, LogPlace.Phase1), new("I1", LogQuantity.Current, LogPlace.Phase1), new("P1", LogQuantity.ActivePower, LogPlace.Phase1), new("PF1", LogQuantity.PowerFactor, LogPlace.Phase1),
        ];
        var starts = Enumerable.Range(0, rows).Select(row => new DateTime(2026, 3, 2).AddMinutes(15 * row).Ticks).ToArray();
        var values = columns.Select((_, column) => Enumerable.Range(0, rows).Select(_ => Math.Round(column switch { 0 => 230 + chance.NextDouble(), 1 => 40 + chance.NextDouble(), 2 => 9000 + chance.NextDouble(), _ => 0.9 }, 2)).ToArray()).ToArray();
        return new IntervalLog([.. columns], starts, values, 900);
    }

    /// <summary>Logs as tables of text: cut from open data, and of other shapes.</summary>
    public static byte[][] LogTables(byte[][] open, int rows = 24)
    {
        var tables = open.Select(table => Head(table, rows)).ToList();
        tables.Add(Encoding.UTF8.GetBytes("Recorder;board\n;\nDatum;Uhrzeit;Spannung L1 (V);Strom L1 (A)\n" + string.Concat(
            Enumerable.Range(0, rows - 4).Select(row => string.Create(CultureInfo.InvariantCulture, $"{2 + (row / 96):00}.03.2026;{row / 4 % 24:00}:{row % 4 * 15:00};230,{row};4{row % 10},5\n")))));
        tables.Add(Encoding.UTF8.GetBytes("Date,Time,V1 rms (V),I1 (A),P1 (kW),PF1\n" + string.Concat(
            Enumerable.Range(0, Math.Min(rows - 4, 44)).Select(row => string.Create(CultureInfo.InvariantCulture, $"10/25/2026,{(row / 4) + 1:0}:{row % 4 * 15:00} AM,23{row % 10}.5,41.{row},9.{row},0.95\n")))));
        using var written = new MemoryStream();
        LogWriter.WriteCsvAsync(Log(rows), written).GetAwaiter().GetResult();
        tables.Add(written.ToArray());
        return [.. tables];
    }

    /// <summary>Tables of samples.</summary>
    public static byte[][] SampleTables(byte[][] open) =>
    [
        .. open.Select(table => Head(table, 60)),
        Encoding.UTF8.GetBytes("# rate_hz: 5000\n# line_hz: 50\nV1 (V);I1 (A)\n" + string.Concat(Enumerable.Range(0, 60).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row}.5;{row % 7}\n")))),
        Encoding.UTF8.GetBytes("time (s),VA (kV),IA\n" + string.Concat(Enumerable.Range(0, 60).Select(row => string.Create(CultureInfo.InvariantCulture, $"{row * 0.0002:0.0000},0.{row:00},{row % 7}\n")))),
    ];

    /// <summary>PQDIF files: a recording and a log, packed and not.</summary>
    public static byte[][] Pqdif()
    {
        var wave = new SampledRecording(
            [new("VA", "A", "V", Sine(300)), new("IA", "A", "A", Sine(300))], [new(0, 200, 5000, 0), new(200, 100, 5000, 10)], 50, new DateTime(2026, 3, 2, 8, 0, 0));
        return [.. ((IEnumerable<bool>)[true, false]).SelectMany(isPacked => new[] { Written(stream => PqdifWriter.Write(stream, wave, new() { IsPacked = isPacked })), Written(stream => PqdifWriter.Write(stream, Log(), new() { IsPacked = isPacked })) })];
    }

    /// <summary>A log in Parquet.</summary>
    public static byte[] Parquet()
    {
        using var stream = new MemoryStream();
        LogWriter.WriteParquetAsync(Log(12), stream).GetAwaiter().GetResult();
        return stream.ToArray();
    }

    /// <summary>Samples in Parquet.</summary>
    public static byte[] SampleParquet()
    {
        using var stream = new MemoryStream();
        var writer = new ParquetTableWriter(stream, [new("time (s)", TableColumnKind.Number), new("V1 (V)", TableColumnKind.Number)], new Dictionary<string, string>());
        for (var row = 0; row < 24; row++)
        {
            writer.Set(0, row * 0.0002);
            writer.Set(1, Math.Round(325 * Math.Sin(2 * Math.PI * row / 100), 1));
            writer.EndRowAsync().AsTask().GetAwaiter().GetResult();
        }

        writer.CompleteAsync().AsTask().GetAwaiter().GetResult();
        writer.DisposeAsync().AsTask().GetAwaiter().GetResult();
        return stream.ToArray();
    }

    /// <summary>A row of samples in a workbook: its time is a number.</summary>
    /// <param name="row">The row, from 0.</param>
    public static string Waveform(int row) => string.Create(
        CultureInfo.InvariantCulture, $"""<c r="A{row + 2}"><v>{row * 0.0002:0.0000}</v></c><c r="B{row + 2}"><v>{325 * Math.Sin(2 * Math.PI * row / 100):0.0}</v></c>""");

    /// <summary>How columns of a log were confirmed.</summary>
    public static byte[] Columns() => ColumnProfileWriter.Write(ColumnProfile.Of(LogReader.Read(new InputFile("f.csv", LogTables([])[0]))));

    /// <summary>Priors of a check.</summary>
    public static byte[] Priors() => PriorsWriter.Write(CheckPriors.Default);

    /// <summary>A workbook laid out by hand from ECMA-376: one sheet of inline texts and numbers.</summary>
    /// <param name="cells">The cells of a row of samples under 'time (s)' and 'V1 (V)'; null for a log.</param>
    public static byte[] Workbook(Func<int, string>? cells = null)
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            Add("[Content_Types].xml", """<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>""");
            Add("_rels/.rels", """<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>""");
            Add("xl/workbook.xml", """<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Values" sheetId="1" r:id="rId1"/></sheets></workbook>""");
            Add("xl/_rels/workbook.xml.rels", """<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>""");
            var rows = string.Concat(Enumerable.Range(0, 20).Select(row => cells is not null ? $"<row r=\"{row + 2}\">{cells(row)}</row>" : string.Create(CultureInfo.InvariantCulture,
                $"""<row r="{row + 2}"><c r="A{row + 2}" t="inlineStr"><is><t>2026-03-02 {row / 4:00}:{row % 4 * 15:00}</t></is></c><c r="B{row + 2}"><v>23{row % 10}.5</v></c><c r="C{row + 2}"><v>4{row % 10}</v></c></row>""")));
            (string First, string Second, string Third) names = cells is null ? ("Time", "V1 (V)", """<c r="C1" t="inlineStr"><is><t>I1 (A)</t></is></c>""") : ("time (s)", "V1 (V)", "");
            Add("xl/worksheets/sheet1.xml", $"""<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>{names.First}</t></is></c><c r="B1" t="inlineStr"><is><t>{names.Second}</t></is></c>{names.Third}</row>{rows}</sheetData></worksheet>""");

            void Add(string name, string text)
            {
                using var entry = zip.CreateEntry(name, CompressionLevel.Fastest).Open();
                entry.Write(Encoding.UTF8.GetBytes(text));
            }
        }

        return stream.ToArray();
    }

    private static byte[] Head(byte[] table, int lines)
    {
        var at = 0;
        for (; lines > 0 && at < table.Length; lines--) at += table.AsSpan(at).IndexOf((byte)'\n') + 1;
        return table[..at];
    }

    private static double[] Sine(int count) => [.. Enumerable.Range(0, count).Select(index => Math.Round(325 * Math.Sin(2 * Math.PI * 50 * index / 5000), 1))];

    private static byte[] Written(Action<Stream> write)
    {
        using var stream = new MemoryStream();
        write(stream);
        return stream.ToArray();
    }
}
