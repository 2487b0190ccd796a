using System.Text;
using System.Text.Unicode;

namespace Leadwright.Formats.Logs.Rows;

/// <summary>Finds out how a text is encoded: by its byte order mark, by its zero bytes, by being valid UTF-8 or not.</summary>
internal static class TextDecoding
{
    private const int HeadLength = 4096;
    private const int BlockLength = 1 << 16;

    // What Windows-1252 has at 0x80 to 0x9F, where Latin-1 has controls nobody uses. From memory.
    private const string Windows1252 =
        "\u20AC\u0081\u201A\u0192\u201E\u2026\u2020\u2021\u02C6\u2030\u0160\u2039\u0152\u008D\u017D\u008F\u0090\u2018\u2019\u201C\u201D\u2022\u2013\u2014\u02DC\u2122\u0161\u203A\u0153\u009D\u017E\u0178";

    /// <summary>The encoding of a whole text; Latin-1 stands for Windows-1252.</summary>
    /// <param name="stream">The text; read from where it stands and put back there.</param>
    /// <param name="stated">What a person says; null to find it out. A mark of the text itself wins.</param>
    /// <param name="note">What is to be said of it; null for nothing.</param>
    public static Encoding Of(Stream stream, Encoding? stated, out string? note)
    {
        note = null;
        var start = stream.Position;
        try
        {
            var block = new byte[BlockLength];
            var length = stream.ReadAtLeast(block, BlockLength, throwOnEndOfStream: false);
            if (ByMark(block.AsSpan(0, length)) is { } marked) return marked;
            if (stated is not null) return stated;
            if (ByZeros(block.AsSpan(0, Math.Min(length, HeadLength))) is { } wide) return wide;
            var head = block[..length];
            return IsUtf8(stream, block, length) ? Encoding.UTF8 : Text.TextEncodings.Of(head, out note);
        }
        finally
        {
            stream.Position = start;
        }
    }

    /// <summary>Turns the controls of Latin-1 into what Windows-1252 has there.</summary>
    public static void MendWindows1252(Span<char> text)
    {
        foreach (ref var character in text)
        {
            if (character is >= '\u0080' and <= '\u009F') character = Windows1252[character - 0x80];
        }
    }

    private static UnicodeEncoding? Wide(bool isBigEndian) => new(isBigEndian, byteOrderMark: true);

    private static Encoding? ByMark(ReadOnlySpan<byte> head)
    {
        if (head.StartsWith("\uFEFF"u8)) return Encoding.UTF8;
        if (head.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE])) return Wide(false);
        return head.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]) ? Wide(true) : null;
    }

    // Digits and separators in UTF-16 have a zero for every other byte.
    private static UnicodeEncoding? ByZeros(ReadOnlySpan<byte> head)
    {
        int even = 0, odd = 0;
        for (var index = 0; index < head.Length; index++)
        {
            if (head[index] != 0) continue;
            if (index % 2 == 0) even++;
            else odd++;
        }

        var most = head.Length / 2;
        if (most < 4) return null;
        if (odd > 0.7 * most && even < 0.1 * most) return Wide(false);
        return even > 0.7 * most && odd < 0.1 * most ? Wide(true) : null;
    }

    private static bool IsUtf8(Stream stream, byte[] block, int length)
    {
        var kept = 0;
        while (true)
        {
            var text = block.AsSpan(0, kept + length);
            // A character may be cut at the end of a block: at most three of its bytes wait for the next.
            var end = length == 0 ? text.Length : text.Length - TailOf(text);
            if (!Utf8.IsValid(text[..end])) return false;
            if (length == 0) return true;
            kept = text.Length - end;
            text[end..].CopyTo(block);
            length = stream.Read(block, kept, block.Length - kept);
        }
    }

    private static int TailOf(ReadOnlySpan<byte> text)
    {
        for (var back = 1; back <= Math.Min(3, text.Length); back++)
        {
            var unit = text[^back];
            if (unit < 0x80) return 0;
            if (unit >= 0xC0) return (unit >= 0xF0 ? 4 : unit >= 0xE0 ? 3 : 2) > back ? back : 0;
        }

        return 0;
    }
}
