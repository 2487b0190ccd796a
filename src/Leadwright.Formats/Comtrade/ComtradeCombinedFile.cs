using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Comtrade;

/// <summary>The sections of a .cff file.</summary>
/// <remarks>Each is opened by a line such as <c>--- file type: CFG ---</c> or <c>--- file type: DAT BINARY: 702 ---</c>,
/// where the number is the count of data bytes.</remarks>
internal sealed partial class ComtradeCombinedFile
{
    /// <summary>The configuration.</summary>
    public Section Cfg { get; private init; }

    /// <summary>The data.</summary>
    public Section Dat { get; private init; }

    /// <summary>The free text; null when there is none.</summary>
    public Section? Hdr { get; private init; }

    /// <summary>The information; null when there is none.</summary>
    public Section? Inf { get; private init; }

    /// <summary>The data type in the line that opens the data; null when it states none.</summary>
    public ComtradeDataType? DataType { get; private init; }

    /// <summary>Finds the sections, in whatever order they stand; what they hold is passed over at bounded memory.</summary>
    /// <param name="stream">The file, from its start.</param>
    /// <param name="name">Display name.</param>
    /// <param name="warnings">Receives what was put up with.</param>
    public static ComtradeCombinedFile Split(Stream stream, string name, List<ReadWarning> warnings)
    {
        var found = new Dictionary<string, Section>(StringComparer.Ordinal);
        ComtradeDataType? dataType = null;
        string? open = null;
        var (openStart, openLine) = (0L, 0);
        var length = stream.Length;
        var lines = new LineReader(stream, name);
        while (lines.Next(out var line))
        {
            if (line.Length >= 200 || !line.TrimStart(" \t"u8).StartsWith("---"u8)) continue;
            if (Opening().Match(Encoding.Latin1.GetString(line)) is not { Success: true } match) continue;
            if (open is not null) found.TryAdd(open, new Section(openStart, lines.Offset, openLine));
            open = match.Groups["kind"].Value.ToUpperInvariant();
            (openStart, openLine) = (lines.NextOffset, lines.Line + 1);
            if (open != "DAT") continue;
            dataType = ComtradeConfigurationReader.TryDataType(match.Groups["type"].Value);
            if (dataType is ComtradeDataType.Ascii || (dataType is null && !match.Groups["count"].Success)) continue;
            // Line ends in binary data mean nothing: step over it by its stated length.
            var next = EndOfBinary(length, openStart, match.Groups["count"].Value, name, lines.Line, warnings);
            found.TryAdd(open, new Section(openStart, next, openLine));
            open = null;
            if (next >= length) break;
            lines.Seek(next, openLine);
        }

        if (open is not null) found.TryAdd(open, new Section(openStart, length, openLine));
        return new ComtradeCombinedFile
        {
            Cfg = Required(found, "CFG", name),
            Dat = Required(found, "DAT", name),
            Hdr = found.TryGetValue("HDR", out var header) ? header : null,
            Inf = found.TryGetValue("INF", out var information) ? information : null,
            DataType = dataType,
        };
    }

    private static long EndOfBinary(
        long length, long start, string countText, string name, int line, List<ReadWarning> warnings)
    {
        if (!long.TryParse(countText, NumberStyles.None, CultureInfo.InvariantCulture, out var count))
        {
            warnings.Add(new ReadWarning("The DAT section states no byte count; all that follows is read as data.", line, start));
            return length;
        }

        if (count > length - start)
        {
            warnings.Add(new ReadWarning(string.Create(CultureInfo.InvariantCulture,
                $"The DAT section of '{name}' states {count} bytes of data, but {length - start} follow; these are read."), line, start));
            return length;
        }

        return start + count;
    }

    private static Section Required(Dictionary<string, Section> found, string kind, string name) =>
        found.TryGetValue(kind, out var section)
            ? section
            : throw new FormatReadException(
                name, $"a section '--- file type: {kind} ---'",
                found.Count == 0 ? "no section at all" : $"only {string.Join(", ", found.Keys.Order(StringComparer.Ordinal))}",
                "A .cff file holds at least the sections CFG and DAT: export the record again.");

    [GeneratedRegex(
        @"^\s*-{3}\s*file\s+type\s*:\s*(?<kind>CFG|INF|HDR|DAT)(\s+(?<type>[A-Z0-9]+))?\s*(:\s*(?<count>[0-9]+))?\s*-{3}",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture)]
    private static partial Regex Opening();

    /// <summary>A section's place in the file.</summary>
    /// <param name="Start">Offset of its first byte.</param>
    /// <param name="End">Offset after its last byte.</param>
    /// <param name="FirstLine">Number of its first line.</param>
    internal readonly record struct Section(long Start, long End, int FirstLine)
    {
        public ReadOnlySpan<byte> Of(ReadOnlySpan<byte> bytes) => bytes[(int)Math.Min(Start, bytes.Length)..(int)Math.Min(End, bytes.Length)];
    }
}
