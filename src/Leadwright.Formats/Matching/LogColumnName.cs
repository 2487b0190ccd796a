using System.Globalization;
using System.Text.RegularExpressions;
using Leadwright.Core.Logs;

namespace Leadwright.Formats.Matching;

/// <summary>What the heading of a column of logged values says.</summary>
/// <param name="Words">The meanings of its words together.</param>
/// <param name="Place">The place it names; <see cref="LogPlace.Whole"/> when none.</param>
/// <param name="IsPlaced">True when it names a place.</param>
/// <param name="Order">Order of a harmonic it names; 0 when none.</param>
/// <param name="Unknown">Words that mean nothing here.</param>
internal sealed partial record LogColumnName(LogWord Words, LogPlace Place, bool IsPlaced, int Order, List<string> Unknown)
{
    /// <summary>How the headings of one table name phases.</summary>
    /// <param name="UsesRst">True when they speak of R, S, T: then T is the third phase, no total.</param>
    /// <param name="UsesVab">True when they hold VB or VC: then VA is the voltage of phase A, no volt-amperes.</param>
    public readonly record struct Naming(bool UsesRst, bool UsesVab)
    {
        /// <summary>Finds it from all headings.</summary>
        public static Naming Of(IEnumerable<string> names)
        {
            var all = names.ToList();
            return new(all.Exists(name => HasR().IsMatch(name)), all.Exists(name => HasVb().IsMatch(name)));
        }
    }

    /// <summary>Reads a heading without its unit.</summary>
    public static LogColumnName Read(string name, Naming naming)
    {
        var reader = new Reader(naming);
        var text = EastAsian().Replace(name.Replace("cos φ", "cosφ", StringComparison.Ordinal), " ");
        // 'A L1' beside 'V L1': a unit ahead of its phase is no phase of its own.
        if (UnitAhead().Match(text) is { Success: true } unit) text = $"{(unit.Groups["unit"].Value is "A" ? "I" : "P")} {text[unit.Length..]}";
        foreach (Match chunk in Chunk().Matches(text)) reader.Take(chunk.Value);
        return reader.Finish();
    }

    /// <summary>True for a name that says the neutral's current, or the neutral and no quantity.</summary>
    public static bool IsOfNeutralCurrent(string name) => Read(name, default) is { Place: LogPlace.Neutral } read && (read.Words & ~(LogWord.Current | LogWord.Phase | LogWord.Filler | LogWord.Minimum | LogWord.Maximum | LogWord.Mean | LogWord.Instant)) == LogWord.Neutral;

    /// <summary>True for the name of a fourth current beside three of the phases.</summary>
    public bool IsFourthCurrent => !IsPlaced && Unknown is [var only] && (only is "I4" or "i4" || (only == "4" && Words.HasFlag(LogWord.Current)));

    /// <summary>The place of conductors' letters or numbers, as <see cref="ChannelName"/> reads them; null when they name none.</summary>
    internal static LogPlace? PlaceOf(char from, char to) => (from, to) switch
    {
        ('1', '\0') => LogPlace.Phase1,
        ('2', '\0') => LogPlace.Phase2,
        ('3', '\0') => LogPlace.Phase3,
        ('N', '\0') => LogPlace.Neutral,
        ('1', '2') or ('2', '1') => LogPlace.Pair12,
        ('2', '3') or ('3', '2') => LogPlace.Pair23,
        ('3', '1') or ('1', '3') => LogPlace.Pair31,
        _ => null,
    };

    private const RegexOptions Options = RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture;

    [GeneratedRegex(@"[\p{L}\p{M}0-9]+", Options)]
    private static partial Regex Chunk();

    // Where letters of East Asia and others meet.
    [GeneratedRegex(@"(?<=[\u2E80-\uFFDC])(?=[A-Za-z0-9])|(?<=[A-Za-z0-9])(?=[\u2E80-\uFFDC])", RegexOptions.CultureInvariant)]
    private static partial Regex EastAsian();

    [GeneratedRegex(@"^\s*(?<unit>A|W)(?=[\s_\-\.]+(L[123N]|[123N])\b)", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture)]
    private static partial Regex UnitAhead();

    // A symbol with its place and statistic: V1, UL12, Pavg, PFb, THDU1, kWhL1, Vrms, I1max.
    [GeneratedRegex(
        @"^(?<kind>thdu|thdv|thdi|uthd|vthd|ithd|thd|cosphi|cosfi|cosφ|cosϕ|cos|dpf|tpf|pf|fp|lf|vrms|urms|irms|vln|uln|vll|ull|kwh|kvarh|kvah|wh|varh|kw|kvar|kva|var|pst|plt|ep|eq|wp|wq|u|v|i|p|q|s|e)(?<place>l?[123](n|l?[123])?|[abc](n|[abc])?|[rst](n|[rst])?|neutral|n|0|tot|total|sum|ges|sys)?(?<stat>min|max|avg|mean|med|moy|inst)?$",
        Options)]
    private static partial Regex Symbol();

    [GeneratedRegex(@"^(l(?<from>[123])(n|l?(?<to>[123]))?|(?<from>[123])(?<to>[123])?|(?<from>[abc])(n|(?<to>[abc]))?|(?<from>[rst])(n|(?<to>[rst]))?)$", Options)]
    private static partial Regex PlaceOnly();

    [GeneratedRegex(@"^(?<word>\p{L}{2,}?)0*(?<number>[0-9]{1,2})$", Options)]
    private static partial Regex WordWithNumber();

    [GeneratedRegex(@"^(h|hd|hu|hi|hv)0*(?<order>[0-9]{1,2})$|^(?<order>[0-9]{1,2})(st|nd|rd|th)$", Options)]
    private static partial Regex OrderOnly();

    // IEEE 1459's non-active, non-fundamental and distortion powers.
    [GeneratedRegex(@"^(n|sn|di)[0-9]$|^(sen|sa|su)$", Options)]
    private static partial Regex NonActive();

    [GeneratedRegex(@"(?<=\p{Ll})(?=\p{Lu})|(?<=\p{Lu})(?=\p{Lu}\p{Ll})", RegexOptions.CultureInvariant)]
    private static partial Regex Camel();

    [GeneratedRegex(@"(?<![\p{L}])([vuipqs]|pf|phase|fase|phase)?[\s_\-]*[r](?![\p{L}])", Options)]
    private static partial Regex HasR();

    [GeneratedRegex(@"(?<![\p{L}])(v|u)[\s_\-]?(b|c)n?(?![\p{L}])", Options)]
    private static partial Regex HasVb();

    private sealed class Reader(Naming naming)
    {
        private readonly List<string> _unknown = [];
        private LogWord _words;
        private LogWord _last;
        private char _from;
        private char _to;
        private int _order;

        public void Take(string chunk)
        {
            if (TryTake(chunk)) return;
            var parts = Camel().Split(chunk);
            if (parts.Length == 1 || !parts.Any(part => LogWords.IsKnown(part)))
            {
                _unknown.Add(chunk);
                _last = LogWord.None;
                return;
            }

            foreach (var part in parts)
            {
                if (!TryTake(part)) _unknown.Add(part);
            }
        }

        public LogColumnName Finish()
        {
            var place = _from == '\0' ? null : PlaceOf(_from, _to);
            if (place is null && _words.HasFlag(LogWord.Neutral)) place = LogPlace.Neutral;
            return new(_words, place ?? LogPlace.Whole, place is not null, _order, _unknown);
        }

        private bool TryTake(string chunk)
        {
            var plain = LogWords.Plain(chunk);
            if (plain.Length == 1 && TryLetter(plain[0])) return true;
            // IN is the neutral's current where a heading begins with it, not the word in.
            if (chunk is "IN" or "In" or "iN" && _words == LogWord.None) return Add(LogWord.Current | LogWord.Neutral);
            if (NonActive().IsMatch(plain)) return Add(LogWord.Derived);
            if (plain is "va" && naming.UsesVab) return Add(LogWord.Voltage) && TakePlace("a", "");
            if (plain is "va") return Add(LogWord.Power | LogWord.Apparent);
            if (LogWords.Of(plain) is var meaning and not LogWord.None) return Add(meaning);
            if (OrderOnly().Match(plain) is { Success: true } order) return TakeOrder(order.Groups["order"].Value) && Add(LogWord.Harmonic);
            if (PlaceOnly().Match(plain) is { Success: true } place) return TakePlaceOrOrder(place);
            if (Symbol().Match(plain) is { Success: true } symbol) return TakeSymbol(symbol);
            if (WordWithNumber().Match(plain) is { Success: true } word && LogWords.Of(word.Groups["word"].Value) is var stem and not LogWord.None)
            {
                Add(stem);
                return PlaceOnly().Match(word.Groups["number"].Value) is { Success: true } number ? TakePlaceOrOrder(number) : TakeOrder(word.Groups["number"].Value);
            }

            return _last.HasFlag(LogWord.Harmonic) && plain.Length <= 2 && plain.All(char.IsAsciiDigit) && TakeOrder(plain);
        }

        // s and t are phases after a symbol or the word phase; else apparent power and nothing.
        private bool TryLetter(char letter)
        {
            var follows = (_last & (LogWord.Voltage | LogWord.Current | LogWord.Power | LogWord.Phase | LogWord.Factor | LogWord.Energy | LogWord.Distortion)) != 0;
            if (letter == 's' && !(follows && naming.UsesRst)) return Add(LogWord.Power | LogWord.Apparent);
            if (letter == 't') return naming.UsesRst ? TakePlace("t", "") : Add(LogWord.Total);
            if (letter is 'a' or 'b' or 'c' or 'r' or 's') return TakePlace(letter.ToString(), "");
            if (letter == 'n') return _from != '\0' || Add(LogWord.Neutral);
            return false;
        }

        private bool TakeSymbol(Match symbol)
        {
            var kind = symbol.Groups["kind"].Value;
            var place = symbol.Groups["place"].Value;
            Add(kind is "s" ? LogWord.Power | LogWord.Apparent : LogWords.Of(kind));
            if (symbol.Groups["stat"] is { Success: true } stat) _words |= LogWords.Of(stat.Value);
            if (place is "tot" or "total" or "sum" or "ges" or "sys" || (place == "t" && !naming.UsesRst)) return Add(LogWord.Total);
            if (place is "n" or "neutral") return Add(LogWord.Neutral);
            if (place == "0") return Add(LogWord.Zero);
            return place.Length == 0 || (PlaceOnly().Match(place) is { Success: true } match && TakePlace(match.Groups["from"].Value, match.Groups["to"].Value));
        }

        private bool TakePlaceOrOrder(Match place)
        {
            var from = place.Groups["from"].Value;
            if (_last.HasFlag(LogWord.Harmonic) && char.IsAsciiDigit(from[0])) return TakeOrder(place.Value);
            return TakePlace(from, place.Groups["to"].Value);
        }

        private bool TakePlace(string from, string to)
        {
            var (first, second) = (ChannelName.PlaceOf(from), to.Length == 0 ? '\0' : ChannelName.PlaceOf(to));
            if (_from == '\0') (_from, _to) = (first, second);
            else if (_to == '\0' && second == '\0' && first != _from) _to = first;
            _last = LogWord.None;
            return true;
        }

        private bool TakeOrder(string number)
        {
            _order = int.Parse(number, NumberStyles.None, CultureInfo.InvariantCulture);
            return true;
        }

        private bool Add(LogWord meaning)
        {
            _words |= meaning;
            _last = meaning;
            return true;
        }
    }
}
