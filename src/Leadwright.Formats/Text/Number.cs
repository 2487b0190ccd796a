using System.Globalization;

namespace Leadwright.Formats.Text;

/// <summary>Numbers in the invariant culture.</summary>
internal static class Number
{
    /// <summary>Reads a finite number with optional sign, point and exponent; blanks around it do not count.</summary>
    public static bool TryParse(string text, out double value) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);

    // Powers of ten that double precision holds exactly.
    private static readonly double[] s_powers =
        [1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

    /// <summary>Reads a finite number from text in ASCII bytes; plain decimals of up to fifteen digits take a short way.</summary>
    /// <remarks>Fifteen digits and the power of ten below them are exact in double precision, so that one division rounds as reading the
    /// text does (W. D. Clinger, How to read floating point numbers accurately, PLDI 1990).</remarks>
    public static bool TryParse(ReadOnlySpan<byte> text, out double value)
    {
        text = text.Trim(" \t"u8);
        var digits = text.Length > 0 && text[0] is (byte)'-' or (byte)'+' ? text[1..] : text;
        if (digits.Length is > 0 and <= 16)
        {
            long whole = 0;
            var (count, point) = (0, -1);
            foreach (var character in digits)
            {
                var digit = character - '0';
                if ((uint)digit <= 9)
                {
                    whole = (whole * 10) + digit;
                    count++;
                }
                else if (character == '.' && point < 0) point = count;
                else
                {
                    count = 99;
                    break;
                }
            }

            if (count is > 0 and <= 15)
            {
                value = point < 0 ? whole : whole / s_powers[count - point];
                if (text[0] == '-') value = -value;
                return true;
            }
        }

        return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
    }

    /// <summary>A number in the invariant culture, shortest form that reads back the same.</summary>
    public static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
