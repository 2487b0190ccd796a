using System.Collections.Immutable;
using System.Text;
using System.Text.RegularExpressions;
using Leadwright.Formats.Matching;

namespace Leadwright.Formats.Text;

/// <summary>How the letters of a text are written, where it is no UTF-8 and bears no mark.</summary>
/// <remarks>A text of a code page does not say which. It is settled by words of the trade: the one code page in which most of its words are known. Where no word settles it, the text
/// is read as Windows-1252, and that is said. Code pages other than Windows-1252 need the tables of <c>CodePagesEncodingProvider</c>, registered by the program; without them, as in a browser, they are
/// not known. Fields never shift: no code page here has a comma, a semicolon, a tab or a line end within a letter.</remarks>
public static partial class TextEncodings
{
    private const int MostHead = 1 << 16;
    private const int MostNamed = 4;

    private static readonly string[] s_pages = ["gb18030", "big5", "shift_jis", "euc-jp", "euc-kr", "windows-1250", "windows-1251", "windows-1253", "windows-1254", "windows-1257"];

    // Signs that stand in headings of any language: no-break blank, section, degree, plus-minus, powers, micro, dot, times, divided by.
    private static readonly byte[] s_signs = [0xA0, 0xA7, 0xB0, 0xB1, 0xB2, 0xB3, 0xB5, 0xB7, 0xB9, 0xD7, 0xF7];

    /// <summary>The names that can be stated.</summary>
    public static ImmutableArray<string> Names { get; } = ["utf-8", "utf-16", "utf-16be", "windows-1252", .. s_pages];

    /// <summary>The encoding of a name; null when it is not known here. Latin-1 stands for Windows-1252 in what reads logs.</summary>
    /// <param name="name">The name, as in <see cref="Names"/>.</param>
    public static Encoding? Find(string? name)
    {
        if (name is null || !Names.Contains(name, StringComparer.OrdinalIgnoreCase)) return null;
        if (name.Equals("windows-1252", StringComparison.OrdinalIgnoreCase)) return Encoding.Latin1;
        try
        {
            return Encoding.GetEncoding(name);
        }
        catch (ArgumentException)
        {
            return null;
        }
    }

    /// <summary>The name of an encoding as <see cref="Find"/> takes it; null for none.</summary>
    /// <param name="encoding">The encoding.</param>
    public static string? NameOf(Encoding? encoding) => encoding is null ? null : Names.FirstOrDefault(name => Find(name)?.CodePage == encoding.CodePage);

    /// <summary>The encoding of a text that is no UTF-8.</summary>
    /// <param name="head">Its start.</param>
    /// <param name="note">What is to be said of it; null for nothing.</param>
    internal static Encoding Of(ReadOnlySpan<byte> head, out string? note)
    {
        head = WholeLines(head[..Math.Min(head.Length, MostHead)]);
        var plain = WordsIn(Western(head));
        (string? Name, ImmutableArray<string> Known, double Score) best = (null, plain.Known, plain.Score);
        foreach (var page in s_pages)
        {
            if (Find(page) is not { } encoding || Decoded(encoding, head) is not { } text) continue;
            var (known, score) = WordsIn(text);
            if (!known.IsEmpty && score > best.Score) best = (page, known, score);
        }

        if (best.Name is { } name)
        {
            note = $"The text is no UTF-8 and does not say how its letters are written: it is read as {name}, in which its words are known ({string.Join(", ", best.Known.Take(MostNamed))}). State the encoding if it is another.";
            return Find(name)!;
        }

        note = best.Known.IsEmpty && head.IndexOfAnyInRange((byte)0x80, (byte)0xFF) >= 0 && HasLetters(head)
            ? "The text is no UTF-8 and does not say how its letters are written: Windows-1252 is taken. Where names look wrong, state the encoding." : null;
        return Encoding.Latin1;
    }

    private static bool HasLetters(ReadOnlySpan<byte> head)
    {
        foreach (var unit in head)
        {
            if (unit >= 0x80 && Array.IndexOf(s_signs, unit) < 0) return true;
        }

        return false;
    }

    private static ReadOnlySpan<byte> WholeLines(ReadOnlySpan<byte> head)
    {
        var end = head.LastIndexOfAny((byte)'\n', (byte)'\r');
        return end > 0 ? head[..end] : head;
    }

    private static string Western(ReadOnlySpan<byte> head)
    {
        var text = Encoding.Latin1.GetString(head).ToCharArray();
        Logs.Rows.TextDecoding.MendWindows1252(text);
        return new string(text);
    }

    private static string? Decoded(Encoding encoding, ReadOnlySpan<byte> head)
    {
        try
        {
            return Encoding.GetEncoding(encoding.CodePage, EncoderFallback.ExceptionFallback, DecoderFallback.ExceptionFallback).GetString(head);
        }
        catch (DecoderFallbackException)
        {
            return null;
        }
    }

    // Words with letters beyond ASCII: those of the trade speak for an encoding, others a little against it.
    private static (ImmutableArray<string> Known, double Score) WordsIn(string text)
    {
        var known = new List<string>();
        var unknown = new HashSet<string>(StringComparer.Ordinal);
        foreach (Match match in Words().Matches(text))
        {
            var word = match.Value;
            if (System.Text.Ascii.IsValid(word) || known.Contains(word) || unknown.Contains(word)) continue;
            // In small letters: noise of mixed case falls into pieces of a letter or two, each of which is a symbol of the trade.
            var name = LogColumnName.Read(word.ToLowerInvariant(), default);
            // Letters by themselves are quantities and phases, and stand in any noise.
            var isWord = word.Length >= (word[0] >= '\u2E80' ? 2 : 4);
            if (isWord && name.Words != LogWord.None && name.Unknown.Count == 0) known.Add(word);
            else unknown.Add(word);
            if (known.Count + unknown.Count > 200) break;
        }

        return ([.. known], known.Count - (0.1 * unknown.Count));
    }

    [GeneratedRegex(@"[\p{L}\p{M}]+", RegexOptions.CultureInvariant)]
    private static partial Regex Words();
}
