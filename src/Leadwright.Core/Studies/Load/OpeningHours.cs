namespace Leadwright.Core.Studies.Load;

/// <summary>What flows while nobody is there.</summary>
/// <param name="OpenWattHours">Energy toward the load within the opening hours, Wh.</param>
/// <param name="ClosedWattHours">Energy toward the load outside them, Wh.</param>
/// <param name="OpenWatts">Mean power within them, W.</param>
/// <param name="ClosedWatts">Mean power outside them, W.</param>
public sealed record OpeningHours(double OpenWattHours, double ClosedWattHours, double OpenWatts, double ClosedWatts)
{
    /// <summary>Share of the energy that flows outside the opening hours.</summary>
    public double ClosedShare => ClosedWattHours / (OpenWattHours + ClosedWattHours);

    /// <summary>Splits the energy.</summary>
    /// <param name="import">Power toward the load, W.</param>
    /// <param name="calendar">A calendar with the opening hours as its periods; the rest of the time is closed.</param>
    public static OpeningHours Of(StudySeries import, TariffCalendar calendar)
    {
        ArgumentNullException.ThrowIfNull(import);
        ArgumentNullException.ThrowIfNull(calendar);
        var (open, closed, openHours, closedHours) = (0.0, 0.0, 0.0, 0.0);
        var hours = import.IntervalSeconds / 3600;
        for (var row = 0; row < import.Count; row++)
        {
            if (!import.IsKnown(row)) continue;
            if (calendar.At(import.StartOf(row)) == calendar.Otherwise)
            {
                closed += import.Values[row] * hours;
                closedHours += hours;
            }
            else
            {
                open += import.Values[row] * hours;
                openHours += hours;
            }
        }

        return new OpeningHours(open, closed, open / openHours, closed / closedHours);
    }
}
