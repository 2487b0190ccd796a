using System.Globalization;

namespace Leadwright.Core.Logs;

/// <summary>How a time of a recording is written. A recording whose start nobody knows counts its times from the first of January of the year 1: such a time is no date, and is
/// written as the time since the start of the recording, everywhere.</summary>
public static class RecordTime
{
    /// <summary>True for a time by a calendar; false for one that counts from the start of a recording without a date.</summary>
    /// <param name="time">The time.</param>
    public static bool IsDated(DateTime time) => time.Year > 1;

    /// <summary>A time for people.</summary>
    /// <param name="time">The time.</param>
    /// <param name="format">How a date is written.</param>
    /// <returns>The date in that form, or <c>+0:00:12.5</c>: hours, minutes, seconds since the start.</returns>
    public static string Text(DateTime time, string format) => IsDated(time) ? time.ToString(format, CultureInfo.InvariantCulture) : SinceStart(time.Ticks);

    /// <summary>A day for people.</summary>
    /// <param name="day">The day.</param>
    /// <param name="format">How a date is written.</param>
    public static string Text(DateOnly day, string format) => Text(day.ToDateTime(default), format);

    /// <summary>A day for programs, by ISO 8601.</summary>
    /// <param name="day">The day.</param>
    /// <param name="format">How a date is written.</param>
    public static string Iso(DateOnly day, string format) => Iso(day.ToDateTime(default), format);

    /// <summary>A time for programs, by ISO 8601.</summary>
    /// <param name="time">The time.</param>
    /// <param name="format">How a date is written.</param>
    /// <returns>The date in that form, or <c>PT12.5S</c>: the duration since the start.</returns>
    public static string Iso(DateTime time, string format) => IsDated(time)
        ? time.ToString(format, CultureInfo.InvariantCulture)
        : string.Create(CultureInfo.InvariantCulture, $"PT{(decimal)time.Ticks / TimeSpan.TicksPerSecond:0.#######}S");

    /// <summary>Reads what <see cref="Iso(DateTime, string)"/> writes.</summary>
    /// <param name="text">The text.</param>
    /// <param name="time">Receives the time.</param>
    public static bool TryReadIso(string? text, out DateTime time)
    {
        time = default;
        if (text is not ['P', 'T', .., 'S']) return DateTime.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.None, out time);
        if (!decimal.TryParse(text.AsSpan(2, text.Length - 3), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var seconds) || seconds >= 366 * 86400) return false;
        time = new DateTime((long)(seconds * TimeSpan.TicksPerSecond));
        return true;
    }

    private static string SinceStart(long ticks)
    {
        // To the millisecond, and rounded so that 0.9999 s is one.
        var milliseconds = (ticks + (TimeSpan.TicksPerMillisecond / 2)) / TimeSpan.TicksPerMillisecond;
        var (hours, minutes, seconds, rest) = (milliseconds / 3_600_000, milliseconds / 60_000 % 60, milliseconds / 1000 % 60, milliseconds % 1000);
        return string.Create(CultureInfo.InvariantCulture, $"+{hours}:{minutes:00}:{seconds:00}{(rest == 0 ? "" : (rest / 1000.0).ToString(".###", CultureInfo.InvariantCulture))}");
    }
}
