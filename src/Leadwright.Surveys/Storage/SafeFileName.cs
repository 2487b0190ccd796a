using System.Globalization;
using System.Text;

namespace Leadwright.Surveys.Storage;

/// <summary>File names that every system takes.</summary>
internal static class SafeFileName
{
    private const int MostBytes = 120;
    private const string Forbidden = "<>:\"/\\|?*";

    // Names of devices on Windows, with any ending.
    private static readonly string[] s_devices =
        ["CON", "PRN", "AUX", "NUL", .. Enumerable.Range(0, 10).SelectMany(number => (string[])[$"COM{number}", $"LPT{number}"])];

    /// <summary>The name of a file without its folders, with a low line for every letter that some system does not take.</summary>
    /// <param name="name">A name or path of any system.</param>
    /// <returns>One that is safe; a safe one comes back as it is.</returns>
    public static string Of(string name)
    {
        var last = name[(name.AsSpan().LastIndexOfAny('/', '\\') + 1)..];
        var safe = new StringBuilder(last.Length);
        foreach (var rune in Whole(last).EnumerateRunes())
        {
            var isBad = rune.Value < ' ' || rune.Value == 0x7F || (rune.IsAscii && Forbidden.Contains((char)rune.Value, StringComparison.Ordinal))
                || Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.LineSeparator
                    or UnicodeCategory.ParagraphSeparator or UnicodeCategory.Surrogate or UnicodeCategory.PrivateUse;
            if (isBad) safe.Append('_');
            else safe.Append(rune.ToString());
        }

        var text = Shortened(safe.ToString().Trim(' ').TrimEnd('.', ' '));
        if (text.Length == 0) return "file";
        if (text[0] == '.') text = "_" + text[1..];
        var stem = text.Split('.')[0].TrimEnd(' ');
        return s_devices.Contains(stem, StringComparer.OrdinalIgnoreCase) ? Shortened("_" + text) : text;
    }

    /// <summary>A short name made of a file's, for a folder or a recording: its stem.</summary>
    public static string StemOf(string name)
    {
        var safe = Of(name);
        return safe.LastIndexOf('.') is var dot and > 0 ? Of(safe[..dot]) : safe;
    }

    /// <summary>The name itself, or with a number where it is taken already.</summary>
    public static string Free(string name, Func<string, bool> isTaken)
    {
        if (!isTaken(name)) return name;
        for (var number = 2; ; number++)
        {
            var numbered = string.Create(CultureInfo.InvariantCulture, $"{Cut(name, MostBytes - 12)}-{number}");
            if (!isTaken(numbered)) return numbered;
        }
    }

    // Letters in one spelling, where the system can tell; half a pair of surrogates becomes the replacement character.
    private static string Whole(string text)
    {
        try
        {
            return text.Normalize(NormalizationForm.FormC);
        }
        catch (ArgumentException)
        {
            return string.Concat(text.EnumerateRunes().Select(rune => rune.ToString()));
        }
    }

    private static string Shortened(string text)
    {
        if (Encoding.UTF8.GetByteCount(text) <= MostBytes) return text;
        var dot = text.LastIndexOf('.');
        var ending = dot > 0 && Encoding.UTF8.GetByteCount(text.AsSpan(dot)) <= 20 ? text[dot..] : "";
        var stem = Cut(text[..(text.Length - ending.Length)], MostBytes - Encoding.UTF8.GetByteCount(ending));
        return stem.TrimEnd('.', ' ') + ending;
    }

    private static string Cut(string text, int mostBytes)
    {
        var (bytes, length) = (0, 0);
        foreach (var rune in text.EnumerateRunes())
        {
            if (bytes + rune.Utf8SequenceLength > mostBytes) break;
            bytes += rune.Utf8SequenceLength;
            length += rune.Utf16SequenceLength;
        }

        return text[..length];
    }
}
