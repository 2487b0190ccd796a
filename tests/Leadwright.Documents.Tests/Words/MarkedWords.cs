using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace Leadwright.Documents.Tests.Words;

/// <summary>A file of words in which every word is written in letters of another script, and what of a page is not.</summary>
internal static partial class MarkedWords
{
    // What is no word of the program: names and figures of the data, of standards, units.
    private static readonly HashSet<string> s_data = new(StringComparer.Ordinal)
    {
        "Leadwright", "kWh", "kvarh", "kvar", "min", "SHA", "FIPS", "IEC", "IEEE", "NFPA", "NEC", "JCGM", "CBEMA", "ITI", "SEMI", "ANSI", "NEMA", "UTC", "csv",
    };

    /// <summary>The words of a shipped file.</summary>
    public static Dictionary<string, string> Read(ReadOnlyMemory<byte> shipped)
    {
        using var document = JsonDocument.Parse(shipped, new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip });
        return document.RootElement.EnumerateObject().ToDictionary(word => word.Name, word => word.Value.GetString()!);
    }

    /// <summary>A shipped file with every word marked.</summary>
    public static byte[] Of(ReadOnlyMemory<byte> shipped)
    {
        var marked = Read(shipped).ToDictionary(word => word.Key, word => word.Key is "language" or "schema" ? word.Value : word.Key == "decimal-mark" ? "," : MarkedText(word.Value));
        return JsonSerializer.SerializeToUtf8Bytes(marked);
    }

    /// <summary>The texts of a page in which a word is not marked.</summary>
    /// <param name="page">The page, HTML.</param>
    /// <param name="data">Words that come from the data and from people.</param>
    public static List<string> LeftIn(string page, params string[] data)
    {
        page = Regex.Replace(page, "<style>.*?</style>|<script.*?</script>", " ", RegexOptions.Singleline);
        return
        [
            .. Texts().Matches(page).Select(match => WebUtility.HtmlDecode(match.Groups["text"].Value))
                .Where(text => Words().Matches(text).Any(word => !s_data.Contains(word.Value) && !data.Contains(word.Value))).Distinct(),
        ];
    }

    private static string MarkedText(string text) => Letters().Replace(text, run => run.Groups["place"].Success || s_data.Contains(run.Value)
        ? run.Value : string.Concat(run.Value.Select(letter => (char)((char.IsAsciiLetterUpper(letter) ? '\u0410' - 'A' : '\u0430' - 'a') + letter))));

    [GeneratedRegex(@"(?<place>\{[^}]*\})|[A-Za-z]{2,}")]
    private static partial Regex Letters();

    // Hexadecimal digests and names of channels hold no such run.
    [GeneratedRegex(@"(?<![A-Za-z0-9_])[A-Za-z]{3,}(?![A-Za-z0-9_])")]
    private static partial Regex Words();

    [GeneratedRegex("(?:alt|aria-label|title)=\"(?<text>[^\"]*)\"|>(?<text>[^<]+)<")]
    private static partial Regex Texts();
}
