using System.Globalization;
using Leadwright.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>The number that a device gave to something it made, as the journal keeps it: what is sent twice is taken once.</summary>
internal static class DeviceMark
{
    private const int Length = 32;

    /// <summary>The reason that stands with an entry; empty where there is no number.</summary>
    /// <param name="id">The number.</param>
    /// <param name="made">When the thing was made, by the device's clock.</param>
    public static string Of(string id, DateTimeOffset? made) => !IsNumber(id) ? ""
        : made is { } at ? string.Create(CultureInfo.InvariantCulture, $"Made on a device at {at.UtcDateTime:yyyy-MM-dd HH:mm} UTC, number {id}.") : $"Made on a device, number {id}.";

    /// <summary>True when the journal has an entry with that number.</summary>
    public static bool IsThere(SurveyFolder survey, string id) =>
        IsNumber(id) && survey.Entries.Any(entry => entry.Why.EndsWith($"number {id}.", StringComparison.Ordinal));

    private static bool IsNumber(string id) => id.Length == Length && id.All(char.IsAsciiHexDigitLower);
}
