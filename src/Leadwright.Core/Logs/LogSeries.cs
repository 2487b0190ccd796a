namespace Leadwright.Core.Logs;

/// <summary>Series that a log holds in one form or another.</summary>
public static class LogSeries
{
    private const double SecondsPerHour = 3600;

    /// <summary>Mean active power of each interval, watts, positive toward the load.</summary>
    /// <param name="log">The log.</param>
    /// <param name="place">Which phase, or the whole.</param>
    /// <returns>One value a row, NaN where it is not known: from the power itself, else from the energy of the interval, else from a
    /// counter's steps. Null when the log has none of them.</returns>
    public static double[]? ActivePower(IntervalLog log, LogPlace place)
    {
        ArgumentNullException.ThrowIfNull(log);
        return Power(log, place, LogQuantity.ActivePower, LogQuantity.ActiveEnergy);
    }

    /// <summary>Mean reactive power of each interval, vars, positive for a lagging load; as <see cref="ActivePower"/>.</summary>
    /// <param name="log">The log.</param>
    /// <param name="place">Which phase, or the whole.</param>
    /// <returns>One value a row; null when the log has none.</returns>
    public static double[]? ReactivePower(IntervalLog log, LogPlace place)
    {
        ArgumentNullException.ThrowIfNull(log);
        return Power(log, place, LogQuantity.ReactivePower, LogQuantity.ReactiveEnergy);
    }

    private static double[]? Power(IntervalLog log, LogPlace place, LogQuantity power, LogQuantity energy)
    {
        if (log.IndexOf(power, place) is >= 0 and var direct) return log.Values(direct).ToArray();
        var imported = Energy(log, place, energy, false);
        var exported = Energy(log, place, energy, true);
        if (imported is null || exported is null) return imported;
        for (var row = 0; row < imported.Length; row++) imported[row] -= exported[row];
        return imported;
    }

    /// <summary>Energy of each interval over its length.</summary>
    private static double[]? Energy(IntervalLog log, LogPlace place, LogQuantity energy, bool isExport)
    {
        for (var index = 0; index < log.Columns.Length; index++)
        {
            var column = log.Columns[index];
            if (column.Quantity != energy || column.Place != place || column.IsExport != isExport) continue;
            var perHour = SecondsPerHour / log.IntervalSeconds;
            var values = log.Values(index);
            var power = new double[values.Length];
            var starts = log.Starts.Span;
            for (var row = 0; row < power.Length; row++)
            {
                if (column.Statistic == LogStatistic.Amount) power[row] = values[row] * perHour;
                else if (column.Statistic == LogStatistic.Counter)
                {
                    // Across a gap, or where the counter began anew, the step is not this interval's.
                    var follows = row > 0 && starts[row] - starts[row - 1] <= log.IntervalTicks * 3 / 2;
                    var amount = follows ? values[row] - values[row - 1] : double.NaN;
                    power[row] = amount >= 0 ? amount * perHour : double.NaN;
                }
                else return null;
            }

            return power;
        }

        return null;
    }
}
