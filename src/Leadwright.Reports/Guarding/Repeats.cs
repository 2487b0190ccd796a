using System.Globalization;

namespace Leadwright.Reports.Guarding;

/// <summary>What came again and again, as the end of a range at every large load, told once for people. JSON and tables hold each.</summary>
internal static class Repeats
{
    /// <summary>From how many on it is told once.</summary>
    public const int Least = 4;

    /// <summary>From the first to the last, how many times, and how long together.</summary>
    /// <param name="stretches">The stretches, in the order of time.</param>
    /// <param name="time">How a time is written.</param>
    public static string When(IReadOnlyList<(DateTime From, DateTime To)> stretches, Func<DateTime, string> time)
    {
        var together = SpanWording.Length(stretches.Sum(stretch => (stretch.To - stretch.From).TotalSeconds));
        return string.Create(CultureInfo.InvariantCulture, $"{time(stretches[0].From)} to {time(stretches[^1].To)}, {stretches.Count} times, {together} together");
    }
}
