using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Load;

/// <summary>A stretch of the week that has a name: a tariff period, the opening hours.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Days">Days of the week on which it holds.</param>
/// <param name="IsOnHolidays">True when it holds on the calendar's holidays; on holidays no other period holds.</param>
/// <param name="From">Time of day at which it begins.</param>
/// <param name="To">Time of day at which it ends; 24:00 for midnight. Before <paramref name="From"/>: it runs past midnight and belongs to the day of each hour.</param>
public sealed record TariffPeriod(string Name, ImmutableArray<DayOfWeek> Days, bool IsOnHolidays, TimeSpan From, TimeSpan To)
{
    /// <summary>First day of the season, month and day; null for the whole year.</summary>
    public (int Month, int Day)? SeasonFrom { get; init; }

    /// <summary>Last day of the season; may lie before the first: across the turn of the year.</summary>
    public (int Month, int Day)? SeasonTo { get; init; }

    internal bool Holds(DateTime time, bool isHoliday)
    {
        if (isHoliday ? !IsOnHolidays : !Days.Contains(time.DayOfWeek)) return false;
        if (SeasonFrom is { } first && SeasonTo is { } last)
        {
            var (day, from, to) = ((time.Month * 100) + time.Day, (first.Month * 100) + first.Day, (last.Month * 100) + last.Day);
            if (from <= to ? day < from || day > to : day < from && day > to) return false;
        }

        var at = time.TimeOfDay;
        return From <= To ? at >= From && at < To : at >= From || at < To;
    }
}
