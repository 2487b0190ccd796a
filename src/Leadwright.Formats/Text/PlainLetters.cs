using System.Collections.Frozen;
using System.Text;

namespace Leadwright.Formats.Text;

/// <summary>Letters of Latin script without their marks, in small letters. By a table of our own: a program without the system's tables of languages normalises nothing.</summary>
public static class PlainLetters
{
    private static readonly FrozenDictionary<char, string> s_plain = Make();

    /// <summary>Small letters without marks: é is e, ü is u, ł is l, ß is ss, æ is ae. Other characters stay.</summary>
    /// <param name="text">The text; marks of their own (U+0300 to U+036F) are dropped.</param>
    public static string Of(ReadOnlySpan<char> text)
    {
        if (Ascii.IsValid(text)) return text.ToString().ToLowerInvariant();
        var plain = new StringBuilder(text.Length);
        foreach (var character in text)
        {
            if (character is >= '\u0300' and <= '\u036F') continue;
            if (s_plain.TryGetValue(char.ToLowerInvariant(character), out var letters)) plain.Append(letters);
            else plain.Append(char.ToLowerInvariant(character));
        }

        return plain.ToString();
    }

    private static FrozenDictionary<char, string> Make()
    {
        var plain = new Dictionary<char, string>();
        foreach (var (to, letters) in ((string, string)[])
            [
                ("a", "àáâãäåāăąǎ"), ("ae", "æ"), ("c", "çćĉċč"), ("d", "ďđð"), ("e", "èéêëēĕėęěẽ"), ("g", "ĝğġģ"), ("h", "ĥħ"), ("i", "ìíîïĩīĭįıǐ\u0130"), ("j", "ĵ"), ("k", "ķ"),
                ("l", "ĺļľŀł"), ("n", "ñńņňŋ"), ("o", "òóôõöøōŏőǒ"), ("oe", "œ"), ("r", "ŕŗř"), ("s", "śŝşšș"), ("ss", "ß"), ("t", "ţťŧțþ"), ("u", "ùúûüũūŭůűųǔ"), ("w", "ŵ"),
                ("y", "ýÿŷ"), ("z", "źżž"),
            ])
        {
            foreach (var letter in letters) plain[letter] = to;
        }

        return plain.ToFrozenDictionary();
    }
}
