using System.Buffers;
using System.Globalization;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Logs;

/// <summary>What a number's marks say of the whole table's decimal mark.</summary>
internal enum MarkUse : byte
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>The point is the decimal mark.</summary>
    Point,

    /// <summary>The comma is the decimal mark.</summary>
    Comma,

    /// <summary>One point with three digits after it: a decimal mark or thousands.</summary>
    PointOrGroups,

    /// <summary>One comma with three digits after it: a decimal mark or thousands.</summary>
    CommaOrGroups,
}

/// <summary>Reads numbers as recorders and spreadsheets write them.</summary>
internal static class CellNumber
{
    private const int MostCharacters = 64;
    private static readonly SearchValues<char> s_dashes = SearchValues.Create("-–—.*?_~/ ");

    /// <summary>Reads a cell: sign, digits in groups or not, decimal mark, exponent, and a unit after it.</summary>
    /// <param name="cell">The cell without blanks around it.</param>
    /// <param name="mark">The decimal mark; the null character where it is not known yet: then either will do.</param>
    /// <param name="value">The number, in the base unit where a unit stands after it.</param>
    /// <param name="use">What its marks say.</param>
    /// <param name="unit">The base unit that stood after it; empty when none.</param>
    public static bool TryRead(ReadOnlySpan<char> cell, char mark, out double value, out MarkUse use, out string unit)
    {
        (value, use, unit) = (double.NaN, MarkUse.None, "");
        if (cell.IsEmpty || cell.Length > MostCharacters) return false;
        if (mark == '.' && cell.IndexOf(',') < 0 && IsPlainEnd(cell[^1]) && double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out value))
            return double.IsFinite(value);
        Span<char> digits = stackalloc char[MostCharacters + 2];
        if (!Normalise(cell, mark, digits, out var length, out var used, out use)) return false;
        if (!double.TryParse(digits[..length], NumberStyles.Float, CultureInfo.InvariantCulture, out value) || !double.IsFinite(value)) return false;
        var rest = cell[used..].Trim();
        if (rest.IsEmpty) return true;
        var parsed = UnitText.Parse(rest.ToString());
        if (!parsed.IsKnown) return false;
        unit = parsed.Base;
        value *= parsed.Factor;
        return true;
    }

    /// <summary>True for what stands where a value is missing.</summary>
    /// <param name="cell">The cell without blanks around it.</param>
    /// <param name="isOverRange">True when it says that the value was beyond the range.</param>
    public static bool IsMissing(ReadOnlySpan<char> cell, out bool isOverRange)
    {
        isOverRange = false;
        if (cell.IsEmpty || !cell.ContainsAnyExcept(s_dashes)) return true;
        if (cell.Length > 14) return false;
        Span<char> lower = stackalloc char[14];
        var length = cell.ToLowerInvariant(lower);
        ReadOnlySpan<char> text = lower[..length];
        isOverRange = text is "ol" or "o.l." or "o.l" or "over" or "overflow" or "overrange" or "over range" or "ovfl" or "ovf" or "o.f." or "inf" or "+inf" or "-inf"
            or "infinity" or "∞" or "1.#inf";
        return isOverRange || text is "nan" or "na" or "n/a" or "n.a." or "#n/a" or "n/d" or "nd" or "null" or "none" or "nil" or "missing" or "void" or "invalid"
            or "inval" or "err" or "error" or "#value!" or "#div/0!" or "#num!" or "#ref!" or "bad" or "no data" or "k.a." or "1.#qnan" or "-1.#ind" or "(null)" or "s/d" or "fehlt";
    }

    private static bool IsPlainEnd(char last) => char.IsAsciiDigit(last) || last == '.';

    private static bool Normalise(ReadOnlySpan<char> cell, char mark, Span<char> digits, out int length, out int used, out MarkUse use)
    {
        (length, used, use) = (0, 0, MarkUse.None);
        var at = 0;
        if (cell[0] is '-' or '+' or '\u2212')
        {
            if (cell[0] != '+') digits[length++] = '-';
            at++;
            while (at < cell.Length && cell[at] == ' ') at++;
        }

        // The stretch of digits and marks.
        var start = at;
        while (at < cell.Length && (char.IsAsciiDigit(cell[at]) || IsMark(cell, at))) at++;
        var body = cell[start..at];
        if (!TryDecimal(body, mark, out var decimalAt, out use)) return false;
        for (var index = 0; index < body.Length; index++)
        {
            if (char.IsAsciiDigit(body[index])) digits[length++] = body[index];
            else if (index == decimalAt) digits[length++] = '.';
        }

        if (at + 1 < cell.Length && cell[at] is 'e' or 'E')
        {
            var exponent = at + 1;
            if (cell[exponent] is '-' or '+') exponent++;
            if (exponent < cell.Length && char.IsAsciiDigit(cell[exponent]))
            {
                while (exponent < cell.Length && char.IsAsciiDigit(cell[exponent])) exponent++;
                cell[at..exponent].CopyTo(digits[length..]);
                length += exponent - at;
                at = exponent;
            }
        }

        used = at;
        return true;
    }

    private static bool IsMark(ReadOnlySpan<char> cell, int at) => cell[at] switch
    {
        '.' or ',' => true,
        // Blanks and apostrophes only between groups of three.
        ' ' or '\u00A0' or '\u202F' or '\'' or '\u2019' => at > 0 && at + 3 < cell.Length
            && char.IsAsciiDigit(cell[at - 1]) && char.IsAsciiDigit(cell[at + 1]) && char.IsAsciiDigit(cell[at + 2]) && char.IsAsciiDigit(cell[at + 3])
            && (at + 4 >= cell.Length || !char.IsAsciiDigit(cell[at + 4])),
        _ => false,
    };

    private static bool TryDecimal(ReadOnlySpan<char> body, char mark, out int decimalAt, out MarkUse use)
    {
        (decimalAt, use) = (-1, MarkUse.None);
        if (body.IndexOfAnyInRange('0', '9') < 0) return false;
        int points = body.Count('.'), commas = body.Count(',');
        if (points == 0 && commas == 0) return true;
        int lastPoint = body.LastIndexOf('.'), lastComma = body.LastIndexOf(',');
        if (points > 0 && commas > 0)
        {
            decimalAt = Math.Max(lastPoint, lastComma);
            use = lastPoint > lastComma ? MarkUse.Point : MarkUse.Comma;
            var isSound = (use == MarkUse.Point ? points : commas) == 1 && AreGroups(body[..decimalAt], use == MarkUse.Point ? ',' : '.');
            return isSound && Agrees(mark, use);
        }

        var character = points > 0 ? '.' : ',';
        var own = points > 0 ? MarkUse.Point : MarkUse.Comma;
        if (points + commas > 1)
        {
            // Several of one kind part thousands, so the other kind is the decimal mark.
            use = points > 0 ? MarkUse.Comma : MarkUse.Point;
            return AreGroups(body, character) && Agrees(mark, use);
        }

        var at = Math.Max(lastPoint, lastComma);
        if (body.Length - at - 1 != 3 || at is 0 or > 3 || body[0] == '0')
        {
            (decimalAt, use) = (at, own);
            return Agrees(mark, own);
        }

        use = points > 0 ? MarkUse.PointOrGroups : MarkUse.CommaOrGroups;
        if (mark == '\0' || mark == character) decimalAt = at;
        return true;
    }

    private static bool Agrees(char mark, MarkUse use) => mark == '\0' || mark == (use == MarkUse.Comma ? ',' : '.');

    private static bool AreGroups(ReadOnlySpan<char> body, char separator)
    {
        var first = true;
        foreach (var range in body.Split(separator))
        {
            var group = body[range];
            if (group.IndexOfAnyExceptInRange('0', '9') >= 0) return false;
            if (first ? group.Length is 0 or > 3 : group.Length != 3) return false;
            first = false;
        }

        return true;
    }
}
