using System.Globalization;

namespace Leadwright.Documents.Drawings;

/// <summary>A colour of ink or paper, sRGB.</summary>
/// <param name="Red">0 to 255.</param>
/// <param name="Green">0 to 255.</param>
/// <param name="Blue">0 to 255.</param>
public readonly record struct Colour(byte Red, byte Green, byte Blue)
{
    /// <summary>Reads <c>#rgb</c> or <c>#rrggbb</c>.</summary>
    /// <param name="text">The text.</param>
    /// <exception cref="FormatException">It is neither.</exception>
    public static Colour Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var digits = text.StartsWith('#') ? text[1..] : text;
        if (digits.Length == 3) digits = string.Concat(digits.Select(digit => new string(digit, 2)));
        if (digits.Length != 6 || !int.TryParse(digits, NumberStyles.HexNumber, CultureInfo.InvariantCulture, out var value))
            throw new FormatException($"'{text}' is no colour such as #1f2326.");
        return new Colour((byte)(value >> 16), (byte)(value >> 8), (byte)value);
    }

    /// <inheritdoc/>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"#{Red:x2}{Green:x2}{Blue:x2}");
}
