using System.Globalization;

namespace Leadwright.Formats.Comtrade;

/// <summary>Reads the two date lines of a configuration.</summary>
internal static class ComtradeDateText
{
    /// <summary>Reads <c>dd/mm/yyyy,hh:mm:ss.ffffff</c> or, month first, <c>mm/dd/yy,…</c>.</summary>
    /// <param name="date">The date field.</param>
    /// <param name="time">The time field; up to nine decimals.</param>
    /// <param name="isMonthFirst">True for the order of the 1991 revision.</param>
    /// <returns>Null when the fields are no date and time in this order.</returns>
    public static ComtradeTime? TryParse(string date, string time, bool isMonthFirst)
    {
        var parts = date.Trim().Split(['/', '-', '.']);
        if (parts.Length != 3
            || !TryWhole(parts[isMonthFirst ? 1 : 0], out var day)
            || !TryWhole(parts[isMonthFirst ? 0 : 1], out var month)
            || !TryWhole(parts[2], out var year))
            return null;
        // Years of two digits: 1991 came out in that year, so 70 to 99 are the last century's.
        if (year < 100) year += year < 70 ? 2000 : 1900;
        if (year is < 1 or > 9998 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(year, month)) return null;

        var clock = time.Trim().Split(':');
        if (clock.Length != 3 || !TryWhole(clock[0], out var hour) || !TryWhole(clock[1], out var minute)) return null;
        var seconds = clock[2].Split('.');
        if (seconds.Length > 2 || !TryWhole(seconds[0], out var second)) return null;
        var decimals = seconds.Length == 2 ? seconds[1] : "";
        // 60 is a leap second and runs over into the next minute.
        if (hour > 23 || minute > 59 || second > 60 || decimals.Length > 9 || !decimals.All(char.IsAsciiDigit)) return null;

        var nanoseconds = int.Parse("0" + decimals.PadRight(9, '0'), CultureInfo.InvariantCulture);
        var value = new DateTime(year, month, day, hour, minute, 0, DateTimeKind.Unspecified)
            .AddTicks((second * TimeSpan.TicksPerSecond) + (nanoseconds / 100));
        return new ComtradeTime(value, nanoseconds % 100, decimals.Length > 6);
    }

    private static bool TryWhole(string text, out int value) =>
        int.TryParse(text, NumberStyles.None | NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite,
            CultureInfo.InvariantCulture, out value) && value <= 9999;
}
