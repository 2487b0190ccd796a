using System.Globalization;
using System.Text;

namespace Leadwright.Formats.Text;

/// <summary>Shows a piece of input in a message.</summary>
internal static class Quoted
{
    private const int MostCharacters = 60;

    /// <summary>The text in double quotes, cut to 60 characters, control characters as their code; or <c>nothing</c>.</summary>
    public static string Of(string? text)
    {
        if (string.IsNullOrEmpty(text)) return "nothing";
        var quoted = new StringBuilder("\"");
        foreach (var character in text.AsSpan(0, Math.Min(text.Length, MostCharacters)))
        {
            if (char.IsControl(character)) quoted.Append(CultureInfo.InvariantCulture, $"\\x{(int)character:X2}");
            else quoted.Append(character);
        }

        return quoted.Append(text.Length > MostCharacters ? "…\"" : "\"").ToString();
    }
}
