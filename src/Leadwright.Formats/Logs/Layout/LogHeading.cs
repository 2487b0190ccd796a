using System.Text.RegularExpressions;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Logs.Layout;

/// <summary>A heading of a column of logged values: its text, the name in it and the unit in it.</summary>
/// <param name="Text">As written; rows of headings are joined by blanks.</param>
/// <param name="Name">What is left without the unit.</param>
/// <param name="Unit">The unit; empty when none is written.</param>
internal sealed partial record LogHeading(string Text, string Name, string Unit)
{
    private static readonly string[] s_timeWords =
    [
        "time", "t", "timestamp", "seconds", "second", "secs", "sec", "elapsed", "datetime", "date", "epoch", "unix", "utc", "zeit", "uhrzeit", "datum", "zeitstempel", "temps", "heure",
        "horodatage", "tiempo", "hora", "fecha", "tempo", "data", "ora", "tijd", "tijdstip", "start", "end",
    ];

    private static readonly string[] s_endWords = ["end", "ende", "fin", "fine", "final", "fim", "eind", "einde", "to", "bis", "until", "till", "stop", "hasta", "ate", "ending", "tot"];

    private static readonly string[] s_startWords = ["start", "begin", "beginning", "beginn", "anfang", "debut", "inicio", "inizio", "from", "von", "ab", "depuis", "desde", "dal", "vanaf"];

    /// <summary>Reads a heading: the unit may stand in brackets of any kind, after <c>_</c>, <c>/</c>, <c>,</c> or a blank, or be the unit row's.</summary>
    /// <param name="text">The heading.</param>
    /// <param name="unitRow">What a row of units has for the column; empty when there is none.</param>
    public static LogHeading Parse(string text, string unitRow = "")
    {
        var heading = Blanks().Replace(text, " ").Trim().TrimStart('#').Trim();
        if (unitRow.Length > 0) return new(heading, heading, BareUnit(unitRow));
        foreach (Match match in Bracketed().Matches(heading))
        {
            if (match.Index == 0 && match.Length == heading.Length) continue;
            if (IsUnit(match.Groups[1].Value) || (match.Index + match.Length == heading.Length && LooksLikeUnit(match.Groups[1].Value)))
                return new(heading, heading.Remove(match.Index, match.Length).Insert(match.Index, " ").Trim(), match.Groups[1].Value.Trim());
        }

        var mark = heading.LastIndexOfAny(['_', '/', ',', ' ']);
        if (mark > 0 && mark < heading.Length - 1)
        {
            var (name, unit) = (heading[..mark].TrimEnd(' ', ',', '_', '/'), heading[(mark + 1)..]);
            // 'I_A' is the current of phase A, 'Voltage A' the voltage of phase A; 'I1_A' and 'IN_A' are in amperes.
            var isNeutral = unit is "A" or "a" && Matching.LogColumnName.IsOfNeutralCurrent(name);
            var isPhase = unit is "A" or "a" && !isNeutral && (name.Length == 1 || heading[mark] == ' ' || (!name.AsSpan().ContainsAnyInRange('0', '9') && !name.Contains('_', StringComparison.Ordinal)));
            var isSymbol = heading[mark] == ' ' && unit.Length == 1 && !isNeutral;
            if (IsUnit(unit) && !isPhase && !isSymbol && unit is not ("s" or "S"))
            {
                // ', in kW'
                if (name.EndsWith(" in", StringComparison.OrdinalIgnoreCase)) name = name[..^3].TrimEnd(' ', ',');
                return new(heading, name, unit);
            }

            if (unit is "s" or "ms" or "us" or "min" && heading[mark] != ' ' && Parse(name).IsTime) return new(heading, name, unit);
        }

        return new(heading, heading, "");
    }

    /// <summary>True when the table names the column by nothing, and its text was made up.</summary>
    public bool IsMadeUp { get; init; }

    /// <summary>True when the heading is one of a column of times.</summary>
    public bool IsTime => Words().Any(word => Array.IndexOf(s_timeWords, word) >= 0);

    /// <summary>True when the heading says the end of an interval.</summary>
    public bool IsEnd => Words().Any(word => Array.IndexOf(s_endWords, word) >= 0);

    /// <summary>True when the heading says the start of an interval.</summary>
    public bool IsStart => Words().Any(word => Array.IndexOf(s_startWords, word) >= 0);

    /// <summary>The order of dates that the heading states, as in <c>dd/mm/yyyy</c>; null when none.</summary>
    public DateOrder? StatedOrder
    {
        get
        {
            var match = DatePattern().Match(Text);
            if (!match.Success) return null;
            return char.ToLowerInvariant(match.Value[0]) switch
            {
                'y' or 'j' or 'a' => DateOrder.YearMonthDay,
                'm' => DateOrder.MonthDayYear,
                _ => DateOrder.DayMonthYear,
            };
        }
    }

    /// <summary>True for text that is a unit and nothing else.</summary>
    public static bool IsUnit(string text) => UnitText.Parse(BareUnit(text)).IsKnown;

    /// <summary>A unit without brackets around it.</summary>
    public static string BareUnit(string text) => text.Trim().Trim('[', ']', '(', ')', '{', '}', '<', '>').Trim();

    private IEnumerable<string> Words() =>
        Letters().Matches(Name).Select(match => Matching.LogWords.Plain(match.Value));

    private static bool LooksLikeUnit(string text) => text.Length is > 0 and <= 8 && text.AsSpan().IndexOfAny(' ', ',') < 0
        && !Matching.LogWords.IsKnown(text) && text.Any(char.IsLetter)
        && !PlaceWord().IsMatch(text);

    [GeneratedRegex(@"\s+", RegexOptions.CultureInvariant)]
    private static partial Regex Blanks();

    [GeneratedRegex(@"[\[\(\{<]([^\]\)\}>]*)[\]\)\}>]", RegexOptions.CultureInvariant)]
    private static partial Regex Bracketed();

    [GeneratedRegex(@"\p{L}+", RegexOptions.CultureInvariant)]
    private static partial Regex Letters();

    [GeneratedRegex(@"^(L?[123]|[ABCRSTN]|[ABCRST]{2})$", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex PlaceWord();

    [GeneratedRegex(@"(?<![A-Za-z])(d{1,2}[./\- ]m{1,3}[./\- ][yja]{2,4}|m{1,3}[./\- ]d{1,2}[./\- ][yja]{2,4}|[yja]{2,4}[./\- ]m{1,3}[./\- ]d{1,2}|t{2}[./\- ]m{2}[./\- ]j{2,4}|j{2}m{2}a{2,4})(?![A-Za-z])",
        RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex DatePattern();
}
