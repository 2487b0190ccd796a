using System.CommandLine;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Leadwright.App.Verbs;

/// <summary>Refuses what an option that takes a number was given and is none, in words a person can act on.</summary>
/// <remarks>The parser by itself takes a comma for a mark between thousands: 60,5 would become 605.</remarks>
internal static partial class NumberOptions
{
    private static readonly Type[] s_whole = [typeof(int), typeof(long), typeof(ulong)];

    /// <summary>Looks at the numbers of a command and of all below it before their own checks do.</summary>
    /// <param name="command">The command, with all its options.</param>
    public static void Guard(Command command)
    {
        foreach (var option in command.Options)
        {
            var type = Nullable.GetUnderlyingType(option.ValueType) ?? option.ValueType;
            if (type != typeof(double) && !s_whole.Contains(type)) continue;
            var own = option.Validators.ToArray();
            option.Validators.Clear();
            option.Validators.Add(result =>
            {
                if (result.Tokens.FirstOrDefault(token => !IsNumber(token.Value, type)) is { } wrong) result.AddError(Says(option.Name, wrong.Value, type));
                else foreach (var check in own) check(result);
            });
        }

        foreach (var child in command.Subcommands) Guard(child);
    }

    /// <summary>A number as a person typed it on a screen, its decimal comma made a point; a comma before three digits may part thousands and is left, to be refused.</summary>
    /// <param name="command">The command with the option.</param>
    /// <param name="name">The option.</param>
    /// <param name="text">What was typed.</param>
    public static string WithPoint(Command command, string name, string text) =>
        command.Options.FirstOrDefault(option => option.Name == name) is { } found && (Nullable.GetUnderlyingType(found.ValueType) ?? found.ValueType) == typeof(double)
        && DecimalComma().IsMatch(text) ? text.Replace(',', '.') : text;

    private static bool IsNumber(string word, Type type) => type == typeof(double)
        ? double.TryParse(word, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value)
        : type == typeof(int) ? int.TryParse(word, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out _)
        : type == typeof(long) ? long.TryParse(word, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out _)
        : ulong.TryParse(word, NumberStyles.None, CultureInfo.InvariantCulture, out _);

    private static string Says(string name, string word, Type type)
    {
        if (type != typeof(double)) return $"{name}: '{word}' is no whole number.";
        if (word.Contains(',', StringComparison.Ordinal))
            return $"{name}: '{word}' has a comma. Write numbers with a point as decimal mark and nothing between thousands, such as 60.5.";
        return Leading().Match(word) is { Success: true } number && IsNumber(number.Value, type)
            ? $"{name}: '{word}' is no number. Write it without its unit: {number.Value}." : $"{name}: '{word}' is no number.";
    }

    [GeneratedRegex(@"^\s*-?\d*,(\d{1,2}|\d{4,})\s*$")]
    private static partial Regex DecimalComma();

    [GeneratedRegex(@"^-?\d+(\.\d+)?")]
    private static partial Regex Leading();
}
