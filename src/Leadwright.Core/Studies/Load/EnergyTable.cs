using System.Collections.Immutable;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies.Load;

/// <summary>Energy by hour, day, month and tariff period.</summary>
/// <remarks>Energy is the sum of mean power times interval over the known intervals; nothing is added for what is missing. An interval belongs to the
/// stretch in which it starts.</remarks>
public static class EnergyTable
{
    /// <summary>Over everything.</summary>
    /// <param name="import">Power toward the load, W, not negative.</param>
    /// <param name="export">Power back, W, not negative; same intervals.</param>
    public static EnergyRow Total(StudySeries import, StudySeries export) =>
        By(import, export, _ => "total") is [var total] ? total : new EnergyRow("total", default, 0, 0, 0, 0, 0, Standing.Lost);

    /// <summary>By hour of the clock.</summary>
    /// <inheritdoc cref="Total"/>
    public static ImmutableArray<EnergyRow> ByHour(StudySeries import, StudySeries export) =>
        By(import, export, time => RecordTime.Iso(new DateTime(time.Ticks - (time.Ticks % TimeSpan.TicksPerHour)), "yyyy-MM-ddTHH:00"));

    /// <summary>By day.</summary>
    /// <inheritdoc cref="Total"/>
    public static ImmutableArray<EnergyRow> ByDay(StudySeries import, StudySeries export) =>
        By(import, export, time => RecordTime.Iso(time.Date, "yyyy-MM-dd"));

    /// <summary>By month.</summary>
    /// <inheritdoc cref="Total"/>
    public static ImmutableArray<EnergyRow> ByMonth(StudySeries import, StudySeries export) =>
        By(import, export, time => RecordTime.Iso(new DateTime(time.Year, time.Month, 1), "yyyy-MM"));

    /// <summary>By the periods of a calendar, in its order; those that never held are left out.</summary>
    /// <param name="import">Power toward the load, W.</param>
    /// <param name="export">Power back, W.</param>
    /// <param name="calendar">The calendar.</param>
    public static ImmutableArray<EnergyRow> ByPeriod(StudySeries import, StudySeries export, TariffCalendar calendar)
    {
        ArgumentNullException.ThrowIfNull(calendar);
        var rows = By(import, export, calendar.At).ToDictionary(row => row.Name);
        return [.. calendar.Names.Where(rows.ContainsKey).Select(name => rows[name])];
    }

    private static ImmutableArray<EnergyRow> By(StudySeries import, StudySeries export, Func<DateTime, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(import);
        ArgumentNullException.ThrowIfNull(export);
        var sums = new Dictionary<string, Sum>(StringComparer.Ordinal);
        var order = new List<string>();
        var seconds = import.IntervalSeconds;
        var starts = import.Starts.Span;
        // No stretch begins within a minute: its name is asked for once.
        var (minute, sum) = (long.MinValue, new Sum());
        for (var row = 0; row < import.Count; row++)
        {
            if (starts[row] / TimeSpan.TicksPerMinute != minute)
            {
                minute = starts[row] / TimeSpan.TicksPerMinute;
                var time = import.StartOf(row);
                var name = nameOf(time);
                if (!sums.TryGetValue(name, out sum!))
                {
                    sums[name] = sum = new Sum { From = time };
                    order.Add(name);
                }
            }

            sum.Seconds += seconds;
            if (!import.IsKnown(row) || !export.IsKnown(row)) continue;
            var standing = (Standing)Math.Max((byte)import.StandingOf(row), (byte)export.StandingOf(row));
            var wattHours = import.Values[row] * seconds / 3600;
            sum.Import += wattHours;
            sum.Export += export.Values[row] * seconds / 3600;
            sum.Known += seconds;
            if (standing == Standing.Modelled) sum.Modelled += wattHours;
            if (standing > sum.Weakest) sum.Weakest = standing;
        }

        return [.. order.Select(name => sums[name].ToRow(name))];
    }

    private sealed class Sum
    {
        public DateTime From;
        public double Import, Export, Seconds, Known, Modelled;
        public Standing Weakest;

        public EnergyRow ToRow(string name) => new(name, From, Import, Export, Seconds, Known, Modelled, Known > 0 ? Weakest : Standing.Lost);
    }
}
