using System.Collections.Immutable;

namespace Leadwright.Core.Logs;

/// <summary>A log of intervals: what a recorder wrote every second, minute or quarter of an hour.</summary>
/// <remarks>
/// Rows are in the order of time; a gap is a jump of the times, never a row of guesses. A missing value is NaN. Times are ticks (100 ns) of the
/// recorder's own clock at the <b>start</b> of each interval, as <see cref="DateTime.Ticks"/> counts them.
/// </remarks>
public sealed class IntervalLog
{
    private readonly double[]?[] _values;
    private readonly Func<int, double[]>? _load;
    private readonly Lock _gate = new();
    private readonly LinkedList<int> _held = [];
    private readonly int _mostHeld;

    /// <summary>Puts a log together.</summary>
    /// <param name="columns">The columns.</param>
    /// <param name="starts">Start of each interval, ticks, strictly rising.</param>
    /// <param name="values">For each column one value a row, base units, NaN where missing.</param>
    /// <param name="intervalSeconds">Length of an interval, seconds.</param>
    /// <exception cref="ArgumentException">Lengths differ, times do not rise, or the interval is not positive.</exception>
    public IntervalLog(ImmutableArray<LogColumn> columns, long[] starts, double[][] values, double intervalSeconds)
    {
        ArgumentNullException.ThrowIfNull(starts);
        ArgumentNullException.ThrowIfNull(values);
        if (values.Length != columns.Length) throw new ArgumentException("One array of values is needed for each column.", nameof(values));
        if (Array.Exists(values, column => column.Length != starts.Length)) throw new ArgumentException("Each column needs one value a row.", nameof(values));
        if (!(intervalSeconds > 0 && double.IsFinite(intervalSeconds))) throw new ArgumentException("The interval must be longer than nothing.", nameof(intervalSeconds));
        ThrowUnlessRising(starts);
        Columns = columns;
        Starts = starts;
        _values = values;
        IntervalSeconds = intervalSeconds;
    }

    /// <summary>A log whose columns are fetched when they are asked for, so that one too large for the memory can be gone through column by column.</summary>
    /// <param name="columns">The columns.</param>
    /// <param name="starts">Start of each interval, ticks, strictly rising.</param>
    /// <param name="load">Fetches the values of a column by its place: one value a row, base units, NaN where missing, the same each time. Called by one at a time.</param>
    /// <param name="intervalSeconds">Length of an interval, seconds.</param>
    /// <param name="mostHeld">How many columns are kept at a time; those asked for longest ago are let go.</param>
    /// <exception cref="ArgumentException">Times do not rise, or the interval is not positive.</exception>
    public IntervalLog(ImmutableArray<LogColumn> columns, long[] starts, Func<int, double[]> load, double intervalSeconds, int mostHeld = 4)
        : this([], starts, [], intervalSeconds)
    {
        ArgumentNullException.ThrowIfNull(load);
        ArgumentOutOfRangeException.ThrowIfLessThan(mostHeld, 1);
        Columns = columns;
        _values = new double[]?[columns.Length];
        (_load, _mostHeld) = (load, mostHeld);
    }

    /// <summary>The columns.</summary>
    public ImmutableArray<LogColumn> Columns { get; }

    /// <summary>Start of each interval, ticks of the recorder's clock.</summary>
    public ReadOnlyMemory<long> Starts { get; }

    /// <summary>Where the recorder's clock was set: times as written would have run twice, or left out an hour that is not missing, so those from a row
    /// on were moved. Empty when it never was.</summary>
    public ImmutableArray<ClockStep> ClockSteps { get; init; } = [];

    /// <summary>Length of an interval, seconds.</summary>
    public double IntervalSeconds { get; }

    /// <summary>Length of an interval, ticks.</summary>
    public long IntervalTicks => (long)Math.Round(IntervalSeconds * TimeSpan.TicksPerSecond);

    /// <summary>Number of rows.</summary>
    public int Count => Starts.Length;

    /// <summary>Start of the first interval; the least date when there is no row.</summary>
    public DateTime From => Count == 0 ? default : new DateTime(Starts.Span[0]);

    /// <summary>End of the last interval; the least date when there is no row.</summary>
    public DateTime To => Count == 0 ? default : new DateTime(Starts.Span[^1] + IntervalTicks);

    /// <summary>The values of a column, base units, NaN where missing.</summary>
    /// <param name="column">Its place among <see cref="Columns"/>.</param>
    /// <returns>One value a row.</returns>
    public ReadOnlySpan<double> Values(int column) => ArrayOf(column);

    /// <summary>The values of a column, not to be changed.</summary>
    internal double[] ArrayOf(int column)
    {
        if (_load is null) return _values[column]!;
        lock (_gate)
        {
            if (_values[column] is { } held)
            {
                _held.Remove(column);
                _held.AddFirst(column);
                return held;
            }

            if (_held.Count >= _mostHeld)
            {
                _values[_held.Last!.Value] = null;
                _held.RemoveLast();
            }

            var loaded = _load(column);
            if (loaded.Length != Count) throw new InvalidOperationException($"Column {column} has {loaded.Length} values, the log {Count} rows.");
            _held.AddFirst(column);
            return _values[column] = loaded;
        }
    }

    /// <summary>Finds the column of a quantity at a place.</summary>
    /// <param name="quantity">What it holds.</param>
    /// <param name="place">Which lead, clamp or phase.</param>
    /// <param name="statistic">What it says of the interval; a mean is also found as <see cref="LogStatistic.Instant"/>.</param>
    /// <returns>Its place among <see cref="Columns"/>; −1 when there is none.</returns>
    public int IndexOf(LogQuantity quantity, LogPlace place, LogStatistic statistic = LogStatistic.Mean)
    {
        var found = IndexOfExactly(quantity, place, statistic);
        return found < 0 && statistic == LogStatistic.Mean ? IndexOfExactly(quantity, place, LogStatistic.Instant) : found;
    }

    /// <summary>The same rows at other times.</summary>
    /// <param name="ticks">By how much each start is later, ticks; below zero when earlier.</param>
    public IntervalLog Moved(long ticks)
    {
        var starts = Starts.ToArray();
        for (var row = 0; row < starts.Length; row++) starts[row] += ticks;
        return _load is null
            ? new IntervalLog(Columns, starts, _values!, IntervalSeconds) { ClockSteps = ClockSteps }
            : new IntervalLog(Columns, starts, _load, IntervalSeconds, _mostHeld) { ClockSteps = ClockSteps };
    }

    /// <summary>True when a column of a quantity is there, at any place.</summary>
    public bool Has(LogQuantity quantity) => Columns.Any(column => column.Quantity == quantity);

    private static void ThrowUnlessRising(long[] starts)
    {
        for (var row = 1; row < starts.Length; row++)
        {
            if (starts[row] <= starts[row - 1]) throw new ArgumentException($"Times must rise; row {row} does not.", nameof(starts));
        }
    }

    private int IndexOfExactly(LogQuantity quantity, LogPlace place, LogStatistic statistic)
    {
        for (var index = 0; index < Columns.Length; index++)
        {
            var column = Columns[index];
            if (column.Quantity == quantity && column.Place == place && column.Statistic == statistic && !column.IsExport && column.Order == 0) return index;
        }

        return -1;
    }
}
