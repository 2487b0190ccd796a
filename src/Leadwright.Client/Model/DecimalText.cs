using System.Globalization;

namespace Leadwright.Client.Model;

/// <summary>Numbers as people type them: with a decimal point or a decimal comma, whatever the device's language.</summary>
public static class DecimalText
{
    /// <summary>What to tell a person whose text is not a number.</summary>
    public const string Expected = "a number such as 230.4 or 230,4, without thousands marks";

    /// <summary>Reads a number.</summary>
    /// <param name="text">The text; spaces around it and a typographic minus sign are accepted.</param>
    /// <param name="value">Receives the number.</param>
    /// <returns>False when the text is empty, is no finite number, or holds both a point and a comma: then nobody can say
    /// which of them is the decimal mark.</returns>
    public static bool TryRead(string? text, out double value)
    {
        value = 0;
        if (string.IsNullOrWhiteSpace(text)) return false;
        var plain = text.Trim().Replace('\u2212', '-').Replace("\u00a0", "", StringComparison.Ordinal);
        if (plain.Contains('.', StringComparison.Ordinal) && plain.Contains(',', StringComparison.Ordinal)) return false;
        return double.TryParse(
                plain.Replace(',', '.'), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out value)
            && double.IsFinite(value);
    }

    /// <summary>The number as text that <see cref="TryRead"/> reads back to the same value.</summary>
    public static string Of(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    /// <summary>The text with its sign changed: a minus in front, or none; an empty text becomes a lone minus, ready to type on.</summary>
    public static string WithOtherSign(string? text)
    {
        var plain = (text ?? "").Trim().Replace('\u2212', '-');
        if (plain.StartsWith('-')) return plain[1..];
        return "-" + (plain.StartsWith('+') ? plain[1..] : plain);
    }
}
