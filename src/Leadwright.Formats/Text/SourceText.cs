using System.Text;
using System.Text.Unicode;

namespace Leadwright.Formats.Text;

/// <summary>Turns bytes of unknown encoding into lines: UTF-8 when the whole text is valid UTF-8, else Latin-1.</summary>
/// <remarks>
/// Latin-1 gives every byte a character, so that names in any one-byte or GB code page pass through without failing, and no
/// byte of theirs is a comma or a line end (GBK's second bytes start at 0x40): fields never shift. Such names look odd,
/// numbers do not. Needs no code page tables, so it runs in the browser.
/// </remarks>
internal static class SourceText
{
    /// <summary>Length of a UTF-8 byte order mark at the start, 0 or 3.</summary>
    public static int MarkLength(ReadOnlySpan<byte> bytes) => bytes.StartsWith("\uFEFF"u8) ? 3 : 0;

    /// <summary>The encoding to use for the whole of a text.</summary>
    /// <param name="bytes">The text.</param>
    /// <param name="stated">What a person says; null to find it out.</param>
    /// <param name="warnings">Receives what was found; null to leave it unsaid.</param>
    public static Encoding EncodingOf(ReadOnlySpan<byte> bytes, Encoding? stated = null, List<ReadWarning>? warnings = null)
    {
        if (bytes.StartsWith("\uFEFF"u8)) return Encoding.UTF8;
        if (stated is not null) return stated;
        if (Utf8.IsValid(bytes)) return Encoding.UTF8;
        var encoding = TextEncodings.Of(bytes, out var note);
        if (note is not null) warnings?.Add(new ReadWarning(note));
        return encoding;
    }

    /// <summary>The length without the substitute (0x1A) and zero bytes that old programs write after the end.</summary>
    public static int LengthWithoutPadding(ReadOnlySpan<byte> bytes)
    {
        var length = bytes.Length;
        while (length > 0 && bytes[length - 1] is 0x1A or 0) length--;
        return length;
    }

    /// <summary>Splits a text into lines; ends may be LF, CR LF, CR CR LF or CR. The last line need not have one.</summary>
    /// <param name="bytes">The text; a byte order mark and padding after the end are left out.</param>
    /// <param name="source">Display name for the error.</param>
    /// <param name="firstLine">Number of the first line.</param>
    /// <param name="firstOffset">Byte offset of the first byte in the source.</param>
    /// <param name="stated">What a person says of its encoding; null to find it out.</param>
    /// <param name="warnings">Receives what was found of its encoding; null to leave it unsaid.</param>
    /// <exception cref="FormatReadException">The text is UTF-16.</exception>
    public static List<SourceLine> Lines(
        ReadOnlySpan<byte> bytes, string source, int firstLine = 1, long firstOffset = 0, Encoding? stated = null, List<ReadWarning>? warnings = null)
    {
        RefuseUtf16(bytes, source);
        var position = MarkLength(bytes);
        var end = LengthWithoutPadding(bytes);
        var encoding = EncodingOf(bytes[..end], stated, warnings);
        var lines = new List<SourceLine>();
        while (position < end)
        {
            var rest = bytes[position..end];
            var length = LengthOfLine(rest, out var ending);
            lines.Add(new SourceLine(firstLine + lines.Count, firstOffset + position, encoding.GetString(rest[..length])));
            position += length + ending;
        }

        return lines;
    }

    /// <summary>Length of the first line and, apart, of its ending (0 at the end of the text).</summary>
    public static int LengthOfLine(ReadOnlySpan<byte> rest, out int ending)
    {
        ending = 0;
        var length = rest.IndexOfAny((byte)'\n', (byte)'\r');
        if (length < 0) return rest.Length;
        var after = length;
        while (after < rest.Length && rest[after] == '\r') after++;
        ending = after < rest.Length && rest[after] == '\n' ? after + 1 - length : 1;
        return length;
    }

    /// <summary>Throws on a UTF-16 byte order mark.</summary>
    public static void RefuseUtf16(ReadOnlySpan<byte> bytes, string source)
    {
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || bytes.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]))
        {
            throw new FormatReadException(
                source, "UTF-8 or plain one-byte text", "UTF-16 text", "Save the file as UTF-8 and read it again.", byteOffset: 0);
        }
    }
}
