using System.Text;
using System.Text.RegularExpressions;
using Leadwright.Formats.Logs;
using Leadwright.Formats.Logs.Rows;
using Leadwright.Formats.Pqdif;
using Leadwright.Formats.Text;

namespace Leadwright.Formats;

/// <summary>Tells what a file is.</summary>
public static partial class InputSniffer
{
    private const int HeadLength = 4096;

    /// <summary>True for a table of values logged by interval, whatever its format.</summary>
    /// <param name="kind">What a file is.</param>
    public static bool IsLog(InputKind kind) => kind is InputKind.LogTable or InputKind.Workbook or InputKind.Parquet;

    /// <summary>Tells what a file is from the start of its content; from its ending where the content leaves it open.</summary>
    public static InputKind KindOf(InputFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        var bytes = file.Bytes.Span;
        if (PqdifReader.IsPqdif(bytes)) return InputKind.Pqdif;
        var start = SourceText.MarkLength(bytes);
        var head = Encoding.Latin1.GetString(bytes[start..Math.Min(bytes.Length, start + HeadLength)]);
        if (Combined().IsMatch(head)) return InputKind.ComtradeCombined;
        switch (file.Ending)
        {
            case ".cfg": return InputKind.ComtradeConfiguration;
            case ".dat": return InputKind.ComtradeData;
            case ".cff": return InputKind.ComtradeCombined;
            case ".hdr": return InputKind.ComtradeHeader;
            case ".inf": return InputKind.ComtradeInformation;
            case ".pqd" or ".pqdif": return InputKind.Pqdif;
        }

        if (TableMagic.IsParquet(bytes)) return InputKind.Parquet;
        if (TableMagic.IsWorkbook(bytes)) return InputKind.Workbook;
        if (Configuration().IsMatch(head)) return InputKind.ComtradeConfiguration;
        if (IsObject(head)) return InputKind.Readings;
        if (file.Ending is ".json") return InputKind.Readings;
        if (file.Ending is ".csv" or ".tsv" or ".txt" || IsTable(head) || IsWide(bytes))
        {
            // Half a second or more from row to row is no waveform.
            if (!StatesRate().IsMatch(head) && LogReader.IsLog(file)) return InputKind.LogTable;
        }

        return file.Ending is ".csv" or ".tsv" || IsTable(head) ? InputKind.Table : InputKind.Unknown;
    }

    private static bool IsObject(string head)
    {
        var text = head.AsSpan().TrimStart();
        return text.StartsWith("{") || text.StartsWith("//") || text.StartsWith("/*");
    }

    private static bool IsTable(string head)
    {
        if (head.AsSpan().ContainsAnyInRange('\0', '\u0008')) return false;
        var line = head.Split('\n').FirstOrDefault(text => text.Trim().Length > 0 && !text.TrimStart().StartsWith('#'));
        return line is not null && line.AsSpan().ContainsAny(',', ';', '\t');
    }

    private static bool IsWide(ReadOnlySpan<byte> bytes) =>
        bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || bytes.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]);

    [GeneratedRegex(@"^\s*#\s*rate_hz\s*:", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.Multiline)]
    private static partial Regex StatesRate();

    [GeneratedRegex(@"\A\s*-{3}\s*file\s+type\s*:", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Combined();

    // The second line of a configuration: 8,4A,4D.
    [GeneratedRegex(@"\A[^\r\n]*[\r\n]+\s*[0-9]+\s*,\s*[0-9]+\s*A\s*,\s*[0-9]+\s*D", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Configuration();
}
