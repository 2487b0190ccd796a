using Leadwright.Formats.Text;

namespace Leadwright.Formats.Logs.Times;

/// <summary>Names of months in English, German, French, Spanish, Portuguese, Italian and Dutch, by how they begin.</summary>
internal static class MonthNames
{
    // Longer beginnings first where one is the beginning of another.
    private static readonly (string Start, int Month)[] s_starts =
    [
        ("janv", 1), ("jan", 1), ("gen", 1), ("ene", 1), ("feb", 2), ("fev", 2), ("mar", 3), ("maa", 3), ("mae", 3), ("mrt", 3), ("mrz", 3),
        ("apr", 4), ("avr", 4), ("abr", 4), ("may", 5), ("mai", 5), ("mag", 5), ("mei", 5), ("juin", 6), ("jun", 6), ("giu", 6), ("juil", 7), ("jul", 7), ("lug", 7),
        ("aug", 8), ("aou", 8), ("ago", 8), ("sep", 9), ("set", 9), ("oct", 10), ("okt", 10), ("out", 10), ("ott", 10), ("nov", 11), ("dec", 12), ("dez", 12), ("dic", 12),
    ];

    private static readonly string[] s_weekdays =
    [
        "mo", "tu", "we", "th", "fr", "sa", "su", "di", "mi", "do", "so", "lu", "ma", "me", "je", "ve", "sa", "mi", "ju", "vi", "gi", "wo", "vr", "za", "zo", "seg",
        "ter", "qua", "qui", "sex", "sab", "dom",
    ];

    /// <summary>The month that a word names; 0 when none.</summary>
    public static int Of(ReadOnlySpan<char> word)
    {
        if (word.Length is < 3 or > 12) return 0;
        var plain = PlainLetters.Of(word);
        foreach (var (start, month) in s_starts)
        {
            if (plain.StartsWith(start, StringComparison.Ordinal)) return month;
        }

        return 0;
    }

    /// <summary>True for a name of a weekday.</summary>
    public static bool IsWeekday(ReadOnlySpan<char> word)
    {
        if (word.Length is < 2 or > 14) return false;
        var plain = PlainLetters.Of(word);
        return Array.Exists(s_weekdays, start => plain.StartsWith(start, StringComparison.Ordinal));
    }
}
