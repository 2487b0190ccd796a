using System.Globalization;
using Leadwright.Core.Wording;

namespace Leadwright.Reports.Hookups;

/// <summary>Small turns of phrase that all wordings share.</summary>
internal static class Phrases
{
    private const int InWords = 10;

    /// <summary><c>V1</c>, <c>V1 and V2</c>, <c>V1, V2 and V3</c>.</summary>
    public static string Join<T>(IEnumerable<T> items, string? last = null)
    {
        last ??= Say.Of("phrase.and", "and");
        var words = items.Select(item => string.Create(CultureInfo.InvariantCulture, $"{item}")).ToArray();
        return words.Length < 2 ? string.Concat(words) : $"{string.Join(", ", words[..^1])} {last} {words[^1]}";
    }

    /// <summary><c>clamp I1</c>, <c>clamps I1 and I2</c>; the noun is <c>lead</c> or <c>clamp</c>.</summary>
    public static string Join<T>(string noun, IReadOnlyCollection<T> items) =>
        (noun, items.Count == 1) switch
        {
            ("lead", true) => Say.Of("phrase.lead", "lead {names}", ("names", Join(items))),
            ("lead", false) => Say.Of("phrase.leads", "leads {names}", ("names", Join(items))),
            (_, true) => Say.Of("phrase.clamp", "clamp {names}", ("names", Join(items))),
            _ => Say.Of("phrase.clamps", "clamps {names}", ("names", Join(items))),
        };

    /// <summary>A count in words up to nine, in digits from ten.</summary>
    public static string Count(int count) =>
        count is >= 0 and < InWords && Say.Of("phrase.numbers", "no one two three four five six seven eight nine").Split(' ') is { Length: InWords } words
            ? words[count] : count.ToString(CultureInfo.InvariantCulture);

    /// <summary>The clause with a capital letter and a full stop.</summary>
    public static string Sentence(string clause) =>
        clause.Length == 0 ? clause : $"{char.ToUpperInvariant(clause[0])}{clause[1..]}{(clause[^1] is '.' or '?' ? "" : ".")}";

    /// <summary>The words with a capital letter; what begins with a name of a lead or clamp stays as it is.</summary>
    public static string Capital(string words) => words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];

    /// <summary>What a reading is against the truth: <c>ten times too much</c>, <c>a tenth of the true current</c>.</summary>
    public static string Ratio(double scale)
    {
        if (Math.Abs(scale - 10) < 0.05) return Say.Of("phrase.ten-times-too-much", "ten times too much");
        if (Math.Abs(scale - 0.1) < 0.0005) return Say.Of("phrase.a-tenth-of-the-true", "a tenth of the true current");
        if (Math.Abs(scale - 2) < 0.01) return Say.Of("phrase.twice-the-true", "twice the true current");
        if (Math.Abs(scale - 0.5) < 0.0025) return Say.Of("phrase.half-of-the-true", "half of the true current");
        return scale > 1
            ? Say.Of("phrase.times-too-much", "{scale} times too much", ("scale", Say.Number(scale, "0.##")))
            : Say.Of("phrase.one-part-in-of-the", "one part in {scale} of the true current", ("scale", Say.Number(1 / scale, "0.##")));
    }

    /// <summary>A size to three significant digits with its unit, such as <c>231 V</c>.</summary>
    public static string Size(double value, string unit) => $"{ThreeDigits(value)} {unit}";

    /// <summary>A number to three significant digits, never in exponent form.</summary>
    public static string ThreeDigits(double value)
    {
        var size = Math.Abs(value);
        var format = size >= 99.95 ? "0" : size >= 9.995 ? "0.0" : size >= 0.9995 ? "0.00" : "0.000";
        return Say.Number(value, format);
    }

    /// <summary>Whole degrees with sign, such as <c>−120°</c>; never minus zero.</summary>
    public static string Degrees(double degrees)
    {
        var whole = (int)Math.Round(degrees);
        return string.Create(CultureInfo.InvariantCulture, $"{(whole < 0 ? "−" : "")}{Math.Abs(whole)}°");
    }
}
