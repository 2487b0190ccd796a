namespace Leadwright.Formats.Logs.Times;

/// <summary>Reads dates and times of day as recorders write them.</summary>
internal static class StampText
{
    private const int MostCharacters = 48;

    /// <summary>Reads a cell: a date, a time of day, or both, in any order of the date's parts; ISO 8601 with offset; AM and PM; names of months.</summary>
    /// <param name="cell">The cell without blanks around it.</param>
    /// <param name="parts">What stands there.</param>
    public static bool TryRead(ReadOnlySpan<char> cell, out StampParts parts)
    {
        parts = default;
        if (cell.Length is < 4 or > MostCharacters) return false;
        var text = new Scan(cell);
        return TryCompact(cell, out parts) || text.TryRead(out parts);
    }

    /// <summary>Reads a time of day that is written without marks, in a column that is known for one: 0015 is a quarter past midnight, 2400 the end of the day,
    /// 101530 has seconds; a workbook drops the leading zeros.</summary>
    /// <param name="cell">The cell without blanks around it.</param>
    /// <param name="parts">What stands there.</param>
    public static bool TryReadPlainClock(ReadOnlySpan<char> cell, out StampParts parts)
    {
        parts = default;
        if (cell.Length is < 1 or > 6 || cell.IndexOfAnyExceptInRange('0', '9') >= 0) return false;
        var number = Whole(cell);
        var (hour, minute, second) = cell.Length > 4 ? (number / 10_000, number / 100 % 100, number % 100) : (number / 100, number % 100, 0);
        if (!TryTime(hour, minute, second, 0, out var ticks)) return false;
        parts = new StampParts { HasTime = true, TimeTicks = ticks, OffsetMinutes = StampParts.NoOffset };
        return true;
    }

    // 20260302, 202603021015, 20260302101500, with T between date and time.
    private static bool TryCompact(ReadOnlySpan<char> cell, out StampParts parts)
    {
        parts = default;
        var t = cell.IndexOf('T');
        if (t is not (-1 or 8) || cell.Length is not (8 or 12 or 13 or 14 or 15)) return false;
        var date = cell[..8];
        var time = t == 8 ? cell[9..] : cell[8..];
        if (time.Length is not (0 or 4 or 6) || date.IndexOfAnyExceptInRange('0', '9') >= 0 || time.IndexOfAnyExceptInRange('0', '9') >= 0) return false;
        var (year, month, day) = (Whole(date[..4]), Whole(date[4..6]), Whole(date[6..]));
        if (year is < 1970 or > 2099 || month is < 1 or > 12 || day is < 1 or > 31) return false;
        var ticks = 0L;
        if (time.Length > 0 && !TryTime(Whole(time[..2]), Whole(time[2..4]), time.Length == 6 ? Whole(time[4..]) : 0, 0, out ticks)) return false;
        parts = new StampParts
        {
            A = (short)year, B = (short)month, C = (short)day, HasDate = true, HasTime = time.Length > 0, IsOrdered = true, TimeTicks = ticks, OffsetMinutes = StampParts.NoOffset,
        };
        return true;
    }

    private static int Whole(ReadOnlySpan<char> digits)
    {
        var value = 0;
        foreach (var digit in digits) value = (value * 10) + (digit - '0');
        return value;
    }

    private static bool TryTime(int hour, int minute, int second, long fraction, out long ticks)
    {
        ticks = (((hour * 60L) + minute) * 60 + second) * TimeSpan.TicksPerSecond + fraction;
        return hour <= 24 && minute < 60 && second < 60 && ticks <= TimeSpan.TicksPerDay;
    }

    private ref struct Scan(ReadOnlySpan<char> cell)
    {
        private readonly ReadOnlySpan<char> _cell = cell;
        private int _at;
        private int _numbers;
        private short _first;
        private short _second;
        private short _third;
        private int _firstLength;
        private int _month;
        private int _monthAfter;
        private char _separator;
        private bool _hasTime;
        private long _ticks;
        private int _hour;
        private bool _hasHalf;
        private short _offset;
        private bool _isRange;
        private bool _isLocalHalf;
        private bool _isHalfAhead;
        private bool _isAfternoonAhead;

        public bool TryRead(out StampParts parts)
        {
            parts = default;
            _offset = StampParts.NoOffset;
            while (_at < _cell.Length)
            {
                var character = _cell[_at];
                if (char.IsAsciiDigit(character))
                {
                    if (!TakeNumber()) return false;
                }
                else if (char.IsLetter(character))
                {
                    if (!TakeWord()) return false;
                }
                else if (_hasTime && character is '-' or '\u2013' && IsTimeAfter(_at + 1))
                {
                    _isRange = true;
                    break;
                }
                else if (character is '+' or '-' && _hasTime)
                {
                    if (!TakeOffset(character == '-' ? -1 : 1)) return false;
                }
                else if (character is '/' or '-' or '.' or ' ' or ',' or '\u00A0' or '\u202F' or '\'' or '(' or ')' or '\n')
                {
                    if (character is '/' or '-' or '.' && _numbers == 1 && _separator == '\0') _separator = character;
                    _at++;
                }
                else return false;
            }

            return Finish(out parts);
        }

        // 00:00-00:15 names the interval from its start to its end; +01:00 and -03:30 are offsets.
        private readonly bool IsTimeAfter(int start)
        {
            var rest = _cell[start..].TrimStart();
            var colon = rest.IndexOf(':');
            if (colon is not (1 or 2) || rest[..colon].IndexOfAnyExceptInRange('0', '9') >= 0) return false;
            return _numbers + (_month > 0 ? 1 : 0) < 3 || rest.Length < _cell.Length - start || !(rest.Length == 5 && rest[3..] is "00" or "30" or "45");
        }

        private bool TakeNumber()
        {
            var start = _at;
            while (_at < _cell.Length && char.IsAsciiDigit(_cell[_at])) _at++;
            var length = _at - start;
            if (length > 4) return false;
            var value = (short)Whole(_cell[start.._at]);
            var next = _at < _cell.Length ? _cell[_at] : '\0';
            var isClock = next is ':' || (next is 'h' or 'H' && length <= 2);
            // After a whole date points may part the time too: 02.03.2026 10.15.00.
            if (!isClock && next == '.' && !_hasTime && _numbers + (_month > 0 ? 1 : 0) == 3 && length <= 2) isClock = true;
            if (isClock && !_hasTime) return length <= 2 && TakeTime(value, next);
            if (_hasTime && _numbers + (_month > 0 ? 1 : 0) == 3) return false;
            switch (_numbers++)
            {
                case 0: (_first, _firstLength) = (value, length); break;
                case 1: _second = value; break;
                case 2: _third = value; break;
                default: return false;
            }

            return true;
        }

        private bool TakeTime(int hour, char mark)
        {
            _at++;
            var minute = Two();
            if (minute < 0) return mark is 'h' or 'H' && SetTime(hour, 0, 0, 0);
            int second = 0;
            long fraction = 0;
            if (_at < _cell.Length && (_cell[_at] == ':' || _cell[_at] == mark || _cell[_at] is 'm' && mark is 'h'))
            {
                _at++;
                second = Two();
                if (second < 0) return false;
                if (_at + 1 < _cell.Length && _cell[_at] is '.' or ',' or ':' && char.IsAsciiDigit(_cell[_at + 1]))
                {
                    _at++;
                    var unit = TimeSpan.TicksPerSecond / 10;
                    for (; _at < _cell.Length && char.IsAsciiDigit(_cell[_at]); _at++, unit /= 10) fraction += (_cell[_at] - '0') * unit;
                }
            }

            return SetTime(hour, minute, second, fraction);
        }

        private bool SetTime(int hour, int minute, int second, long fraction)
        {
            (_hasTime, _hour) = (true, hour);
            return TryTime(hour, minute, second, fraction, out _ticks) && (!_isHalfAhead || SetHalf(_isAfternoonAhead));
        }

        private int Two()
        {
            if (_at >= _cell.Length || !char.IsAsciiDigit(_cell[_at])) return -1;
            var value = _cell[_at++] - '0';
            if (_at < _cell.Length && char.IsAsciiDigit(_cell[_at])) value = (value * 10) + (_cell[_at++] - '0');
            return _at < _cell.Length && char.IsAsciiDigit(_cell[_at]) ? -1 : value;
        }

        private bool TakeWord()
        {
            var start = _at;
            while (_at < _cell.Length && char.IsLetter(_cell[_at])) _at++;
            var word = _cell[start.._at];
            // Before the time of day, or after it.
            if (word is "午前" or "上午" or "오전" or "午後" or "下午" or "오후") return SetHalfAround(word is "午後" or "下午" or "오후");
            // ÖÖ and ÖS, πμ and μμ, de. and du., f.m. and e.m.
            if (_hasTime && HalfOf(word) is { } half) return SetHalf(half) && (_isLocalHalf = true);
            if (_hasTime && word.Length <= 2 && word[0] is 'a' or 'A' or 'p' or 'P')
            {
                // am, a.m., a m.
                if (word.Length == 1)
                {
                    while (_at < _cell.Length && _cell[_at] is '.' or ' ' or '\u00A0' or '\u202F') _at++;
                    if (_at < _cell.Length && _cell[_at] is 'm' or 'M') _at++;
                }
                else if (word[1] is not ('m' or 'M')) return false;

                return SetHalf(word[0] is 'p' or 'P');
            }

            if (word is "T" or "t") return _numbers >= 3;
            if (_hasTime && (word is "Z" or "z" || word.Equals("UTC", StringComparison.OrdinalIgnoreCase) || word.Equals("GMT", StringComparison.OrdinalIgnoreCase)))
            {
                _offset = 0;
                return true;
            }

            if (word.Equals("uhr", StringComparison.OrdinalIgnoreCase) || word is "h" or "H") return _hasTime;
            if (word.Equals("de", StringComparison.OrdinalIgnoreCase) || word is "st" or "nd" or "rd" or "th") return _numbers > 0;
            if (_month == 0 && MonthNames.Of(word) is var month and > 0 && !(_numbers == 0 && word.Length <= 3 && LooksLikeThreeNumbers()))
            {
                (_month, _monthAfter) = (month, _numbers);
                return true;
            }

            return MonthNames.IsWeekday(word);
        }

        // Turkish, Greek, Hungarian, Swedish, Albanian (from memory).
        private bool? HalfOf(ReadOnlySpan<char> word)
        {
            if (word is "ÖÖ" or "öö" or "πμ" or "ΠΜ") return false;
            if (word is "ÖS" or "ös" or "μμ" or "ΜΜ") return true;
            if (word is "de" or "du" && _numbers is 0 or 3) return word is "du";
            if (word.Length != 1 || word[0] is not ('f' or 'e' or 'π' or 'μ' or 'd')) return null;
            var rest = _cell[_at..];
            if (!(rest.StartsWith(".") || rest.StartsWith(" "))) return null;
            var at = rest.IndexOfAnyExcept(". \u00A0\u202F");
            if (at < 0 || at + 1 < rest.Length && char.IsLetter(rest[at + 1])) return null;
            bool? isAfternoon = (word[0], rest[at]) switch { ('f', 'm') => false, ('e', 'm') => true, ('π', 'μ') => false, ('μ', 'μ') => true, ('d', 'e') => false, ('d', 'u') => true, _ => null };
            if (isAfternoon is not null) _at += at + 1;
            return isAfternoon;
        }

        private bool SetHalfAround(bool isAfternoon)
        {
            if (_hasTime) return SetHalf(isAfternoon);
            (_isHalfAhead, _isAfternoonAhead) = (true, isAfternoon);
            return true;
        }

        // 'mar 03/03/2026': three numbers follow, so the word is a weekday.
        private readonly bool LooksLikeThreeNumbers()
        {
            var rest = _cell[_at..];
            return rest.Count('/') >= 2 || rest.Count('.') >= 2 || rest.Count('-') >= 2;
        }

        private bool SetHalf(bool isAfternoon)
        {
            if (_hasHalf || _hour > 12) return !_hasHalf && _hour <= 24 && (_hasHalf = true);
            _hasHalf = true;
            if (_hour == 12) _ticks -= 12 * TimeSpan.TicksPerHour;
            if (isAfternoon) _ticks += 12 * TimeSpan.TicksPerHour;
            return true;
        }

        private bool TakeOffset(int sign)
        {
            _at++;
            var start = _at;
            while (_at < _cell.Length && char.IsAsciiDigit(_cell[_at])) _at++;
            var digits = _cell[start.._at];
            int hours, minutes = 0;
            if (digits.Length is 1 or 2)
            {
                hours = Whole(digits);
                if (_at < _cell.Length && _cell[_at] == ':')
                {
                    _at++;
                    minutes = Two();
                }
            }
            else if (digits.Length == 4) (hours, minutes) = (Whole(digits[..2]), Whole(digits[2..]));
            else return false;
            if (hours > 14 || minutes is < 0 or > 59) return false;
            _offset = (short)(sign * ((hours * 60) + minutes));
            return true;
        }

        private readonly bool Finish(out StampParts parts)
        {
            parts = default;
            var count = _numbers + (_month > 0 ? 1 : 0);
            if (count is not (0 or 3) || (count == 0 && !_hasTime)) return false;
            if (count == 3 && _separator == '\0' && _month == 0) return false;
            short a = _first, b = _second, c = _third;
            bool isOrdered = false, isNamed = _month > 0;
            if (isNamed)
            {
                // Day and year around the month, or after it; a year has four digits or is too large for a day.
                var isYearFirst = _monthAfter == 1 && (_firstLength == 4 || _first > 31);
                (a, b, c) = isYearFirst ? (_first, (short)_month, _second) : (_first, (short)_month, _second);
                isOrdered = isYearFirst;
            }
            else if (count == 3 && _firstLength == 4)
            {
                isOrdered = _second <= 12;
                if (!isOrdered) (b, c, isOrdered) = (_third, _second, true);
            }

            parts = new StampParts
            {
                A = a, B = b, C = c, HasDate = count == 3, HasTime = _hasTime, IsOrdered = isOrdered && count == 3, IsNamed = isNamed && !isOrdered, HasHalf = _hasHalf && !_isLocalHalf,
                HasPoints = _separator == '.', TimeTicks = _ticks, OffsetMinutes = _offset, IsRange = _isRange,
            };
            return count == 0 || parts.Ticks(DateOrder.DayMonthYear) is not null || parts.Ticks(DateOrder.MonthDayYear) is not null || parts.Ticks(DateOrder.YearMonthDay) is not null;
        }
    }
}
