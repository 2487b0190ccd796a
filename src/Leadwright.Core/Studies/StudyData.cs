using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies;

/// <summary>What is studied: a log of intervals with the standings of its values, and what is known of the service.</summary>
/// <param name="Log">The values.</param>
public sealed record StudyData(IntervalLog Log)
{
    private static readonly ImmutableArray<LogPlace> s_phases = [LogPlace.Phase1, LogPlace.Phase2, LogPlace.Phase3];

    /// <summary>Standings by the index of their column; a column without is measured.</summary>
    public ImmutableDictionary<int, ReadOnlyMemory<Standing>> Standings { get; init; } = ImmutableDictionary<int, ReadOnlyMemory<Standing>>.Empty;

    /// <summary>Intervals in which a dip, swell or interruption lasted (IEC 61000-4-30 clause 4.7); empty when nothing is known of it.</summary>
    public ReadOnlyMemory<bool> Flagged { get; init; }

    /// <summary>The service.</summary>
    public ServiceKind Service { get; init; } = ServiceKind.Wye;

    /// <summary>Nominal voltage; null when not known.</summary>
    public NominalVoltage? Nominal { get; init; }

    /// <summary>Nominal frequency, hertz; 0 when not known.</summary>
    public double NominalHertz { get; init; }

    /// <summary>Logs of the same recording with intervals of other lengths: frequency over ten seconds, flicker over ten minutes.</summary>
    public ImmutableArray<StudyData> Others { get; init; } = [];

    /// <summary>The phases.</summary>
    public static ImmutableArray<LogPlace> Phases => s_phases;

    /// <summary>A column as a series.</summary>
    /// <param name="quantity">What it holds.</param>
    /// <param name="place">Which lead, clamp or phase.</param>
    /// <param name="statistic">What it says of the interval.</param>
    /// <returns>Null when there is none.</returns>
    public StudySeries? Series(LogQuantity quantity, LogPlace place, LogStatistic statistic = LogStatistic.Mean)
    {
        var column = Log.IndexOf(quantity, place, statistic);
        return column < 0 ? null : Series(column);
    }

    /// <summary>A column as a series.</summary>
    /// <param name="column">Its place among the columns.</param>
    public StudySeries Series(int column) =>
        new(Log.Starts, Log.IntervalSeconds, Log.ArrayOf(column), Standings.GetValueOrDefault(column));

    /// <summary>Mean active power, watts, positive toward the load: the total, else the sum of the phases that have one.</summary>
    /// <param name="place">Which phase, or the whole.</param>
    /// <returns>Null when the log has no power and no energy.</returns>
    public StudySeries? ActivePower(LogPlace place) => Power(place, LogSeries.ActivePower, LogQuantity.ActivePower, LogQuantity.ActiveEnergy);

    /// <summary>Mean reactive power, vars, positive for a lagging load; as <see cref="ActivePower"/>.</summary>
    /// <param name="place">Which phase, or the whole.</param>
    /// <returns>Null when the log has none.</returns>
    public StudySeries? ReactivePower(LogPlace place) => Power(place, LogSeries.ReactivePower, LogQuantity.ReactivePower, LogQuantity.ReactiveEnergy);

    /// <summary>Power that flowed toward the load and back within each interval, watts, both positive.</summary>
    /// <returns>By separate columns of energy where the log has them; else by the sign of the mean. Null without power.</returns>
    public (StudySeries Import, StudySeries Export)? Directions() => Directions(LogQuantity.ActiveEnergy, data => data.ActivePower(LogPlace.Whole));

    /// <summary>Reactive power while the load lags and while it leads, vars, both positive; as <see cref="Directions()"/>.</summary>
    /// <returns>Null without reactive power.</returns>
    public (StudySeries Lagging, StudySeries Leading)? ReactiveDirections() => Directions(LogQuantity.ReactiveEnergy, data => data.ReactivePower(LogPlace.Whole));

    private (StudySeries Import, StudySeries Export)? Directions(LogQuantity energy, Func<StudyData, StudySeries?> read)
    {
        if (Log.Columns.Any(column => column.Quantity == energy && column is { Place: LogPlace.Whole, IsExport: true }))
        {
            var imported = read(Only(energy, false));
            var exported = read(Only(energy, true));
            if (imported is not null && exported is not null) return (imported, exported);
        }

        return read(this) is { } net ? (Part(net, 1), Part(net, -1)) : null;
    }

    /// <summary>On a two-wire service, the one voltage and current taken for those of phase 1, as other services have them.</summary>
    public StudyData WithPhaseOfSingle()
    {
        if (Service != ServiceKind.Single) return this;
        var columns = Log.Columns.Select(column => column.Place == LogPlace.Whole && IsOfConductor(column.Quantity) && Log.IndexOf(column.Quantity, LogPlace.Phase1) < 0
            ? column with { Place = LogPlace.Phase1 } : column).ToImmutableArray();
        return this with { Log = new IntervalLog(columns, Log.Starts.ToArray(), Log.ArrayOf, Log.IntervalSeconds) };
    }

    private static bool IsOfConductor(LogQuantity quantity) => quantity is LogQuantity.Voltage or LogQuantity.Current or LogQuantity.VoltageDistortion
        or LogQuantity.CurrentDistortion or LogQuantity.VoltageHarmonic or LogQuantity.CurrentHarmonic or LogQuantity.ShortTermFlicker or LogQuantity.LongTermFlicker
        or LogQuantity.KFactor;

    /// <summary>The log without the intervals outside a span.</summary>
    /// <param name="from">First start.</param>
    /// <param name="to">First start that is outside again.</param>
    public StudyData Between(DateTime from, DateTime to)
    {
        // Times rise: the rows of a span lie together.
        var (first, end) = (FirstAt(from.Ticks), FirstAt(to.Ticks));
        if (first == 0 && end == Log.Count) return this;
        var log = Log;
        return this with
        {
            Log = new IntervalLog(Log.Columns, Log.Starts[first..end].ToArray(), column => log.ArrayOf(column)[first..end], Log.IntervalSeconds),
            Standings = Standings.ToImmutableDictionary(pair => pair.Key, pair => pair.Value[first..end]),
            Flagged = Flagged.IsEmpty ? Flagged : Flagged[first..end],
            Others = [.. Others.Select(other => other.Between(from, to))],
        };
    }

    private int FirstAt(long ticks)
    {
        var at = Log.Starts.Span.BinarySearch(ticks);
        return at < 0 ? ~at : at;
    }

    private static StudySeries Part(StudySeries net, int sign)
    {
        var values = net.Values.ToArray();
        for (var row = 0; row < values.Length; row++) values[row] = StudySeries.IsNumber(values[row]) ? Math.Max(sign * values[row], 0) : double.NaN;
        return new StudySeries(net.Starts, net.IntervalSeconds, values, StandingsOf(net));
    }

    private static Standing[] StandingsOf(StudySeries series)
    {
        var standings = new Standing[series.Count];
        for (var row = 0; row < standings.Length; row++) standings[row] = series.StandingOf(row);
        return standings;
    }

    // The columns of one direction, as if there were no other.
    private StudyData Only(LogQuantity energy, bool isExport)
    {
        var kept = Enumerable.Range(0, Log.Columns.Length)
            .Where(index => Log.Columns[index] is { Place: LogPlace.Whole } column && column.Quantity == energy && column.IsExport == isExport).ToArray();
        return this with
        {
            Log = new IntervalLog(
                [.. kept.Select(index => Log.Columns[index] with { IsExport = false })], Log.Starts.ToArray(), [.. kept.Select(index => Log.Values(index).ToArray())], Log.IntervalSeconds),
            Standings = kept.Index().Where(pair => Standings.ContainsKey(pair.Item)).ToImmutableDictionary(pair => pair.Index, pair => Standings[pair.Item]),
        };
    }

    private StudySeries? Power(LogPlace place, Func<IntervalLog, LogPlace, double[]?> read, LogQuantity power, LogQuantity energy)
    {
        if (read(Log, place) is { } direct) return new StudySeries(Log.Starts, Log.IntervalSeconds, direct, Worst(power, energy, [place]));
        if (place != LogPlace.Whole) return null;
        var parts = s_phases.Select(phase => (Phase: phase, Values: read(Log, phase))).Where(part => part.Values is not null).ToList();
        if (parts.Count == 0) return null;
        var sum = new double[Log.Count];
        for (var row = 0; row < sum.Length; row++) sum[row] = parts.Sum(part => part.Values![row]);
        return new StudySeries(Log.Starts, Log.IntervalSeconds, sum, Worst(power, energy, [.. parts.Select(part => part.Phase)]));
    }

    private Standing[]? Worst(LogQuantity power, LogQuantity energy, LogPlace[] places)
    {
        Standing[]? worst = null;
        for (var index = 0; index < Log.Columns.Length; index++)
        {
            var column = Log.Columns[index];
            var isUsed = column.Quantity == power || (column.Quantity == energy && Log.IndexOf(power, column.Place) < 0);
            if (!isUsed || !places.Contains(column.Place) || !Standings.TryGetValue(index, out var standings)) continue;
            worst ??= new Standing[Log.Count];
            for (var row = 0; row < worst.Length; row++) worst[row] = (Standing)Math.Max((byte)worst[row], (byte)standings.Span[row]);
        }

        return worst;
    }
}
