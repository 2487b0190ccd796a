using Leadwright.Core.Logs;

namespace Leadwright.Core.Studies;

/// <summary>One quantity over the intervals of a log, each value with its standing.</summary>
/// <remarks>A value that is NaN, infinite or beyond 1e30, or whose standing is <see cref="Standing.Lost"/>, is not known. Times are the starts of the intervals, ticks of the
/// recorder's own clock, strictly rising.</remarks>
public sealed class StudySeries
{
    // A longer interval stands when this share of it is known (our choice; the standards ask for whole intervals of a whole recorder).
    private const double LeastShare = 0.9;

    // No quantity of a switchboard is as large: what a damaged file says beyond it is no measurement, and its square would be infinite.
    private const double Largest = 1e30;

    private readonly ReadOnlyMemory<Standing> _standings;
    private readonly double[] _values;

    /// <summary>Puts a series together.</summary>
    /// <param name="starts">Start of each interval, ticks.</param>
    /// <param name="intervalSeconds">Length of an interval, seconds; above zero.</param>
    /// <param name="values">One value an interval.</param>
    /// <param name="standings">One standing an interval; empty: all measured.</param>
    /// <exception cref="ArgumentException">Lengths differ.</exception>
    public StudySeries(ReadOnlyMemory<long> starts, double intervalSeconds, double[] values, ReadOnlyMemory<Standing> standings = default)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(intervalSeconds);
        if (starts.Length != values.Length) throw new ArgumentException("One value is needed for each interval.", nameof(values));
        if (!standings.IsEmpty && standings.Length != values.Length) throw new ArgumentException("One standing is needed for each interval.", nameof(standings));
        (Starts, IntervalSeconds, _values, _standings) = (starts, intervalSeconds, values, standings);
    }

    /// <summary>Start of each interval, ticks.</summary>
    public ReadOnlyMemory<long> Starts { get; }

    /// <summary>Length of an interval, seconds.</summary>
    public double IntervalSeconds { get; }

    /// <summary>Length of an interval, ticks.</summary>
    public long IntervalTicks => (long)Math.Round(IntervalSeconds * TimeSpan.TicksPerSecond);

    /// <summary>The values as they are.</summary>
    public ReadOnlySpan<double> Values => _values;

    /// <summary>Number of intervals.</summary>
    public int Count => _values.Length;

    /// <summary>Start of an interval.</summary>
    public DateTime StartOf(int row) => new(Starts.Span[row]);

    /// <summary>True for what can have been measured: a number, and none beyond all measure.</summary>
    internal static bool IsNumber(double value) => Math.Abs(value) <= Largest;

    /// <summary>Standing of a value; lost where there is none.</summary>
    public Standing StandingOf(int row) =>
        IsNumber(_values[row]) ? _standings.IsEmpty ? Standing.Measured : _standings.Span[row] : Standing.Lost;

    /// <summary>True when a value is known: measured, mended or modelled.</summary>
    public bool IsKnown(int row) => StandingOf(row) != Standing.Lost;

    /// <summary>True when a value rests on what was measured: measured or mended.</summary>
    public bool IsSound(int row) => StandingOf(row) <= Standing.Mended;

    /// <summary>The sound values in the order of time.</summary>
    public double[] SoundValues()
    {
        var found = new double[Count];
        var count = 0;
        var standings = _standings.Span;
        for (var row = 0; row < _values.Length; row++)
        {
            if (IsNumber(_values[row]) && (standings.IsEmpty || standings[row] <= Standing.Mended)) found[count++] = _values[row];
        }

        return count == found.Length ? found : found[..count];
    }

    /// <summary>The sound values in ascending order.</summary>
    public double[] SoundSorted()
    {
        var sorted = SoundValues();
        Array.Sort(sorted);
        return sorted;
    }

    /// <summary>Where the least and the largest sound value stand, the first of alike ones.</summary>
    /// <returns>−1 when nothing is sound.</returns>
    public (int Least, int Most) Extremes()
    {
        var (least, most) = (-1, -1);
        var standings = _standings.Span;
        for (var row = 0; row < _values.Length; row++)
        {
            var value = _values[row];
            if (!IsNumber(value) || (!standings.IsEmpty && standings[row] > Standing.Mended)) continue;
            if (least < 0 || value < _values[least]) least = row;
            if (most < 0 || value > _values[most]) most = row;
        }

        return (least, most);
    }

    /// <summary>A percentile of the sound values, as <see cref="Studies.Percentile"/> has it; NaN without one.</summary>
    /// <param name="percent">0 to 100.</param>
    public double Percentile(double percent) => Studies.Percentile.OfUnsorted(SoundValues(), percent);

    /// <summary>The values over longer intervals that begin on the clock's ticks.</summary>
    /// <param name="seconds">Length of the longer interval; a whole number of intervals.</param>
    /// <param name="isRms">True for the root of the mean square (IEC 61000-4-30 clause 4.5), false for the mean.</param>
    /// <returns>Null when the length is no whole number of intervals. A longer interval stands when nine tenths of it are known; its standing is
    /// the weakest of its parts.</returns>
    public StudySeries? Aggregate(double seconds, bool isRms)
    {
        var parts = seconds / IntervalSeconds;
        if (parts < 1 - 1e-9 || Math.Abs(parts - Math.Round(parts)) > 1e-6) return null;
        if (Math.Round(parts) == 1) return this;
        var needed = LeastShare * parts;
        var length = (long)Math.Round(seconds * TimeSpan.TicksPerSecond);
        var (starts, values, standings) = (new List<long>(), new List<double>(), new List<Standing>());
        var span = Starts.Span;
        var told = _standings.Span;
        for (var row = 0; row < Count;)
        {
            var tick = TickOf(span[row], length);
            var end = ((tick + 1) * length) - (IntervalTicks / 2);
            var (sum, known, weakest) = (0.0, 0, Standing.Measured);
            for (; row < span.Length && span[row] < end; row++)
            {
                var value = _values[row];
                if (!IsNumber(value)) continue;
                var standing = told.IsEmpty ? Standing.Measured : told[row];
                if (standing == Standing.Lost) continue;
                sum += isRms ? value * value : value;
                known++;
                if (standing > weakest) weakest = standing;
            }

            starts.Add(tick * length);
            var isEnough = known >= needed;
            values.Add(!isEnough ? double.NaN : isRms ? Math.Sqrt(sum / known) : sum / known);
            standings.Add(isEnough ? weakest : Standing.Lost);
        }

        return new StudySeries(starts.ToArray(), seconds, [.. values], standings.ToArray());
    }

    /// <summary>Number of the longer interval that holds the middle of the first of them.</summary>
    internal long TickOf(long start, long length) => (start + (IntervalTicks / 2)) / length;
}
