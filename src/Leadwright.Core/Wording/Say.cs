using System.Globalization;

namespace Leadwright.Core.Wording;

/// <summary>The sentences that checks, guard, mending and studies speak: each is a template under a key, which a file of words may say otherwise.</summary>
/// <remarks>The English stands where it is spoken, and once more in the shipped file of words; a test holds the two together. Which words are in force follows
/// the call, threads and tasks included, as the culture does; nothing else of the program depends on it.</remarks>
public static class Say
{
    private static readonly AsyncLocal<SpokenWords?> s_inForce = new();

    /// <summary>The words in force here; null for the program's own English.</summary>
    public static SpokenWords? InForce => s_inForce.Value;

    /// <summary>Speaks by these words until the answer is disposed of.</summary>
    /// <param name="words">The words; null for the program's own English.</param>
    public static IDisposable By(SpokenWords? words)
    {
        var before = new Restoring(s_inForce.Value);
        s_inForce.Value = words;
        return before;
    }

    /// <summary>A sentence or a part of one.</summary>
    /// <param name="key">The key of its template.</param>
    /// <param name="english">The template in English, with places such as <c>{clamps}</c>.</param>
    /// <param name="values">What stands in the places: name and value.</param>
    public static string Of(string key, string english, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        var text = s_inForce.Value is { } words && words.Templates.TryGetValue(key, out var said) ? said : english;
        foreach (var (name, value) in values)
        {
            // What is put in is not looked through again: a value may hold braces of its own.
            text = text.Replace($"{{{name}}}", Convert.ToString(value, CultureInfo.InvariantCulture)?.Replace('{', '\u0001'), StringComparison.Ordinal);
        }

        return text?.Replace('\u0001', '{') ?? "";
    }

    /// <summary>A number in a .NET format, with the decimal mark of the words in force.</summary>
    /// <param name="value">The number.</param>
    /// <param name="format">The format.</param>
    public static string Number(double value, string format)
    {
        var text = value.ToString(format, CultureInfo.InvariantCulture);
        return s_inForce.Value is { DecimalMark: not "." } words ? text.Replace(".", words.DecimalMark, StringComparison.Ordinal) : text;
    }

    private sealed class Restoring(SpokenWords? before) : IDisposable
    {
        public void Dispose() => s_inForce.Value = before;
    }
}
