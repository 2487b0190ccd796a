using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Totals;

/// <summary>How far what is left of a total strays by the hour, and how much of it goes on from row to row.</summary>
/// <remarks>By hours, since a site's loads at night, and generation by day, stray otherwise. What goes on is learned from the spread of the rest and of its changes: var(Δ) = 2 var (1 − ρ).</remarks>
internal sealed class TotalSpreads
{
    private const int Hours = 24;
    private const int LeastOfAnHour = 12;
    private const double LeastLevel = 0.02;
    private const double LeastChange = 0.004;
    private readonly double[] _level = new double[Hours];
    private readonly double[] _own = new double[Hours];
    private readonly double[] _change = new double[Hours];
    private readonly Phasor[] _middle = new Phasor[Hours];
    private readonly int[] _hours;

    /// <param name="frame">The log.</param>
    /// <param name="left">What is left of each row; null where it is not known.</param>
    /// <param name="hasVars">False where it is of watts alone.</param>
    /// <param name="isFirst">True before anything was told from the rest: half of the rows count then, since others may be wrong.</param>
    /// <param name="hasMiddle">True where each hour has a middle of its own, as generation makes it.</param>
    public TotalSpreads(GuardFrame frame, Phasor?[] left, bool hasVars, bool hasMiddle, bool isFirst)
    {
        _hours = new int[frame.Count];
        for (var row = 0; row < _hours.Length; row++) _hours[row] = frame.From(row).Hour;
        var all = Of(left, -1, hasVars, hasMiddle, isFirst) ?? (Phasor.Zero, 0.1, 0.05);
        for (var hour = 0; hour < Hours; hour++)
        {
            var (middle, level, change) = (isFirst && !hasMiddle ? null : Of(left, hour, hasVars, hasMiddle, isFirst)) ?? all;
            _middle[hour] = hasMiddle ? middle : Phasor.Zero;
            _level[hour] = Math.Max(LeastLevel, hasMiddle ? level : Math.Max(level, 0.7 * all.Level));
            _change[hour] = Math.Max(LeastChange, Math.Max(change, 0.5 * all.Change));
            _own[hour] = Math.Clamp(1 - (_change[hour] * _change[hour] / (2 * _level[hour] * _level[hour])), 0, 0.99);
        }
    }

    /// <summary>What is usually left at a row's hour.</summary>
    public Phasor Middle(int row) => _middle[_hours[row]];

    /// <summary>What share of the rest goes on in the next row.</summary>
    public double GoesOn(int row) => _own[_hours[row]];

    /// <summary>How far the rest of a row strays by itself.</summary>
    public double Level(int row) => _level[_hours[row]];

    /// <summary>How far the rest of a row strays from what goes on.</summary>
    public double Fresh(int row) => Level(row) * Math.Sqrt(1 - (GoesOn(row) * GoesOn(row)));

    private (Phasor Middle, double Level, double Change)? Of(Phasor?[] left, int hour, bool hasVars, bool hasMiddle, bool isFirst)
    {
        var (real, across, changes) = (new List<double>(), new List<double>(), new List<double>());
        for (var row = 0; row < left.Length; row++)
        {
            if (hour >= 0 && Math.Min(Math.Abs(_hours[row] - hour), Hours - Math.Abs(_hours[row] - hour)) > 1) continue;
            if (left[row] is not { } value) continue;
            real.Add(value.Real);
            across.Add(value.Imaginary);
            if (row == 0 || left[row - 1] is not { } before) continue;
            changes.Add(value.Real - before.Real);
            if (hasVars) changes.Add(value.Imaginary - before.Imaginary);
        }

        if (changes.Count < LeastOfAnHour) return null;
        var middle = hasMiddle ? new Phasor(Robust.Median([.. real]), Robust.Median([.. across])) : Phasor.Zero;
        double[] off = [.. real.Select(value => value - middle.Real), .. hasVars ? across.Select(value => value - middle.Imaginary) : []];
        return (middle, Size(off), Size([.. changes]));

        // About nothing, not about their own middle; eight rows in ten, so that a load of now and then counts.
        double Size(double[] values) => isFirst ? Robust.Median(Array.ConvertAll(values, Math.Abs)) * 1.48 : Robust.Quantile(Array.ConvertAll(values, Math.Abs), 0.8) / 1.28;
    }
}
