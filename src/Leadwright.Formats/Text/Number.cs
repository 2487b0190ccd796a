using System.Globalization;

namespace Leadwright.Formats.Text;

/// <summary>Numbers in the invariant culture.</summary>
internal static class Number
{
    /// <summary>Reads a finite number with optional sign, point and exponent; blanks around it do not count.</summary>
    public static bool TryParse(string text, out double value) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);

    /// <summary>Reads a finite number from text in ASCII bytes; whole numbers take a short way.</summary>
    public static bool TryParse(ReadOnlySpan<byte> text, out double value)
    {
        text = text.Trim(" \t"u8);
        var digits = text.Length > 0 && text[0] is (byte)'-' or (byte)'+' ? text[1..] : text;
        if (digits.Length is > 0 and <= 15)
        {
            long whole = 0;
            foreach (var character in digits)
            {
                var digit = character - '0';
                if ((uint)digit > 9)
                {
                    whole = -1;
                    break;
                }

                whole = (whole * 10) + digit;
            }

            if (whole >= 0)
            {
                value = text[0] == '-' ? -whole : whole;
                return true;
            }
        }

        return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
    }

    /// <summary>A number in the invariant culture, shortest form that reads back the same.</summary>
    public static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
