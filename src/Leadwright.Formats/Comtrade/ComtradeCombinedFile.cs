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

    /// <summary>Finds the sections, in whatever order they stand.</summary>
    public static ComtradeCombinedFile Split(ReadOnlySpan<byte> bytes, string name, List<ReadWarning> warnings)
    {
        SourceText.RefuseUtf16(bytes, name);
        var found = new Dictionary<string, Section>(StringComparer.Ordinal);
        ComtradeDataType? dataType = null;
        string? open = null;
        var (openStart, openLine) = (0, 0);
        var (position, line) = (SourceText.MarkLength(bytes), 1);
        while (position < bytes.Length)
        {
            var length = SourceText.LengthOfLine(bytes[position..], out var ending);
            var next = position + length + ending;
            if (length < 200 && Opening().Match(Encoding.Latin1.GetString(bytes.Slice(position, length))) is { Success: true } match)
            {
                if (open is not null) found.TryAdd(open, new Section(openStart, position, openLine));
                open = match.Groups["kind"].Value.ToUpperInvariant();
                (openStart, openLine) = (next, line + 1);
                if (open == "DAT")
                {
                    dataType = ComtradeConfigurationReader.TryDataType(match.Groups["type"].Value);
                    if (dataType is not ComtradeDataType.Ascii && (dataType is not null || match.Groups["count"].Success))
                    {
                        // Line ends in binary data mean nothing: step over it by its stated length.
                        next = EndOfBinary(bytes.Length, openStart, match.Groups["count"].Value, name, line, warnings);
                        found.TryAdd(open, new Section(openStart, next, openLine));
                        open = null;
                    }
                }
            }

            position = next;
            line++;
        }

        if (open is not null) found.TryAdd(open, new Section(openStart, bytes.Length, openLine));
        return new ComtradeCombinedFile
        {
            Cfg = Required(found, "CFG", name),
            Dat = Required(found, "DAT", name),
            Hdr = found.TryGetValue("HDR", out var header) ? header : null,
            Inf = found.TryGetValue("INF", out var information) ? information : null,
            DataType = dataType,
        };
    }

    private static int EndOfBinary(
        int length, int start, string countText, string name, int line, List<ReadWarning> warnings)
    {
        if (!int.TryParse(countText, NumberStyles.None, CultureInfo.InvariantCulture, out var count))
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
    internal readonly record struct Section(int Start, int End, int FirstLine)
    {
        public ReadOnlySpan<byte> Of(ReadOnlySpan<byte> bytes) => bytes[Math.Min(Start, bytes.Length)..Math.Min(End, bytes.Length)];
    }
}
