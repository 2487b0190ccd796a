using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Leadwright.Formats.Text;

namespace Leadwright.Surveys;

/// <summary>Names of surveys among all surveys: they name the folders of tables, so that thousands of surveys can lie side by side.</summary>
public static class SurveyId
{
    private const int MostLetters = 64;
    private const int MostOfTitle = 32;

    /// <summary>True for small letters, digits and single hyphens, 64 at most.</summary>
    /// <param name="id">The name.</param>
    public static bool IsValid(string? id) =>
        id is { Length: > 0 and <= MostLetters } && id.All(letter => letter is (>= 'a' and <= 'z') or (>= '0' and <= '9') or '-')
        && id[0] != '-' && id[^1] != '-' && !id.Contains("--", StringComparison.Ordinal);

    /// <summary>A name that nobody else has: day, title, and eight digits by chance.</summary>
    /// <param name="title">The survey's title.</param>
    /// <param name="day">The day it is made.</param>
    public static string New(string title, DateTimeOffset day)
    {
        ArgumentNullException.ThrowIfNull(title);
        var chance = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(4));
        var slug = SlugOf(title);
        return string.Create(CultureInfo.InvariantCulture, $"{day.UtcDateTime:yyyyMMdd}-{(slug.Length > 0 ? slug + "-" : "")}{chance}");
    }

    internal static void Require(string id)
    {
        if (!IsValid(id))
            throw new SurveyException(SurveyProblem.Refused, $"'{id}' is no name for a survey: small letters, digits and single hyphens, {MostLetters} at most.");
    }

    /// <summary>A title in small letters, digits and hyphens; empty when it has none of them.</summary>
    internal static string SlugOf(string title)
    {
        var slug = new StringBuilder();
        foreach (var letter in PlainLetters.Of(title))
        {
            if (letter is (>= 'a' and <= 'z') or (>= '0' and <= '9')) slug.Append(letter);
            else if (slug.Length > 0 && slug[^1] != '-') slug.Append('-');
            if (slug.Length >= MostOfTitle) break;
        }

        return slug.ToString().Trim('-');
    }
}
