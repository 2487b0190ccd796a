using System.Collections.Immutable;

namespace Leadwright.Core.Studies.Load;

/// <summary>Which period holds when, by the user's own data. The first period that fits holds.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Periods">The periods in order.</param>
/// <param name="Otherwise">Name of the rest of the time.</param>
/// <param name="Holidays">Days that count as holidays.</param>
public sealed record TariffCalendar(string Name, ImmutableArray<TariffPeriod> Periods, string Otherwise, ImmutableHashSet<DateOnly> Holidays)
{
    /// <summary>The name of the period at a time.</summary>
    /// <param name="time">Time of the recorder's clock.</param>
    public string At(DateTime time)
    {
        var isHoliday = Holidays.Contains(DateOnly.FromDateTime(time));
        foreach (var period in Periods)
        {
            if (period.Holds(time, isHoliday)) return period.Name;
        }

        return Otherwise;
    }

    /// <summary>All names, in order, each once.</summary>
    public ImmutableArray<string> Names => [.. Periods.Select(period => period.Name).Append(Otherwise).Distinct()];
}
