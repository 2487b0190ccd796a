using System.Globalization;

namespace Leadwright.Surveys;

/// <summary>The layout of a survey folder, by version.</summary>
public static class SurveySchema
{
    /// <summary>What every version's name starts with.</summary>
    public const string Prefix = "leadwright.survey/";

    /// <summary>The version that this program writes.</summary>
    public const int Version = 1;

    /// <summary>The name that this program writes into <c>survey.json</c> and into the first line of the journal.</summary>
    public static string Name { get; } = string.Create(CultureInfo.InvariantCulture, $"{Prefix}{Version}");

    /// <summary>The version that a name states.</summary>
    /// <param name="name">As found in a document.</param>
    /// <returns>The version; null when the name is no survey's.</returns>
    public static int? VersionOf(string? name) =>
        name is not null && name.StartsWith(Prefix, StringComparison.Ordinal)
        && int.TryParse(name.AsSpan(Prefix.Length), NumberStyles.None, CultureInfo.InvariantCulture, out var version) ? version : null;
}
