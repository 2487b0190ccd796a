namespace Leadwright.Core.Logs;

/// <summary>Series that a log holds in one form or another.</summary>
public static class LogSeries
{
    private const double SecondsPerHour = 3600;
    private const double NearOne = 0.9;
    private const int MostChanges = 8;

    /// <summary>Mean active power of each interval, watts, positive toward the load.</summary>
    /// <param name="log">The log.</param>
    /// <param name="place">Which phase, or the whole.</param>
    /// <returns>One value a row, NaN where it is not known: from the power itself, else from the energy of the interval, else from a
    /// counter's steps, else from voltage, current and power factor (<see cref="ActivePowerByFactor"/>). Null when the log has none of them.</returns>
    public static double[]? ActivePower(IntervalLog log, LogPlace place)
    {
        ArgumentNullException.ThrowIfNull(log);
        return Power(log, place, LogQuantity.ActivePower, LogQuantity.ActiveEnergy) ?? ActivePowerByFactor(log, place);
    }

    /// <summary>Mean active power of each interval by its power factor, P = λ · U · I (IEC 60050-131, 131-11-46: the power factor is active over apparent power), watts.</summary>
    /// <remarks>
    /// Some recorders write the factor's sign for the direction of the power, some for a leading load. A load that leads and lags changes it time and again where the factor is near one; a log in which it does so is not
    /// read. Voltage and current are means (rms) of the interval, so that what they do within it is not in the product.
    /// </remarks>
    /// <param name="log">The log.</param>
    /// <param name="place">Which phase, or the whole of a single-phase service.</param>
    /// <returns>One value a row, NaN where one of the three is missing; null when the log has not all of them, or the sign's meaning is open.</returns>
    public static double[]? ActivePowerByFactor(IntervalLog log, LogPlace place)
    {
        ArgumentNullException.ThrowIfNull(log);
        if (place is not (LogPlace.Phase1 or LogPlace.Phase2 or LogPlace.Phase3 or LogPlace.Whole)) return null;
        var (volts, amperes, factor) = (log.IndexOf(LogQuantity.Voltage, place), log.IndexOf(LogQuantity.Current, place), log.IndexOf(LogQuantity.PowerFactor, place));
        if (volts < 0 || amperes < 0 || factor < 0 || IsSignOfLeading(log.Values(factor))) return null;
        ReadOnlySpan<double> u = log.Values(volts), i = log.Values(amperes), share = log.Values(factor);
        var watts = new double[u.Length];
        for (var row = 0; row < watts.Length; row++) watts[row] = share[row] * u[row] * i[row];
        return watts;
    }

    /// <summary>True when the sign changes often while the factor is near one on both sides.</summary>
    private static bool IsSignOfLeading(ReadOnlySpan<double> factors)
    {
        var changes = 0;
        for (var row = 1; row < factors.Length; row++)
        {
            double then = factors[row - 1], now = factors[row];
            if (then * now < 0 && Math.Min(Math.Abs(then), Math.Abs(now)) > NearOne) changes++;
        }

        return changes >= MostChanges;
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
