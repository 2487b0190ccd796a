using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity.Relations;

namespace Leadwright.Core.Integrity.Totals;

/// <summary>What total a site usually has at given currents, learnt where the hook-up is known to be right.</summary>
/// <remarks>By night a site may draw the same few amperes for hours at a power factor of its own: at the same currents it has the same total, whatever angle that stands at. A load, or a capacitor, that turned the
/// total would change the currents too.</remarks>
internal sealed class TotalHabits
{
    private const int MostPool = 1500;
    private const int Neighbours = 15;
    private const int LeastNeighbours = 5;
    private const double Near = 0.03;
    private const double LeastShare = 0.004;
    private const double LeastSpread = 0.02;
    private readonly GuardFrame _frame;
    private readonly TotalPower _power;
    private readonly List<(double[] Currents, Phasor Site)> _pool = [];
    private readonly double _least;

    /// <summary>Learns.</summary>
    /// <param name="frame">The log.</param>
    /// <param name="power">Its total.</param>
    /// <param name="right">The right hook-up.</param>
    /// <param name="isRight">The rows that are learnt from.</param>
    public TotalHabits(GuardFrame frame, TotalPower power, TotalHookup right, bool[] isRight)
    {
        (_frame, _power) = (frame, power);
        var amperes = frame.Amperes[power.Clamps[0]]!;
        _least = LeastShare * Robust.Quantile(amperes, 0.95);
        var stride = Math.Max(1, frame.Count / MostPool);
        for (var row = 0; row < frame.Count; row += stride)
        {
            if (!isRight[row] || power.At(row) is not { } value || Currents(row, right) is not { } currents) continue;
            var factor = power.Factor(right, row);
            if (factor.Magnitude > 0.25) _pool.Add((currents, value / factor));
        }
    }

    /// <summary>By how much a row's total speaks for a hook-up and against the right one; 0 where nothing like it was seen.</summary>
    /// <param name="row">The row.</param>
    /// <param name="hookup">The hook-up.</param>
    /// <param name="right">The right one.</param>
    public double Say(int row, TotalHookup hookup, TotalHookup right)
    {
        if (_power.At(row) is not { } value) return 0;
        return Log(row, value, hookup) is { } there && Log(row, value, right) is { } here ? Math.Clamp(there - here, -Most, Most) : 0;
    }

    /// <summary>No row alone says it.</summary>
    private const double Most = 3;

    private double? Log(int row, Phasor value, TotalHookup hookup)
    {
        if (Usual(row, hookup) is not var (site, spread)) return null;
        var factor = _power.Factor(hookup, row);
        var best = double.PositiveInfinity;
        // A power factor tells the size of the vars alone: the site's angle and the total's may have either sign.
        foreach (var sign in _power.HasSign ? (double[])[1] : [1, -1])
        {
            var expected = new Phasor(site.Real, sign * site.Imaginary) * factor;
            var across = _power.HasSign ? value.Imaginary - expected.Imaginary : Math.Abs(value.Imaginary) - Math.Abs(expected.Imaginary);
            var along = value.Real - expected.Real;
            best = Math.Min(best, (along * along) + (across * across));
        }

        // Heavy tails: something else may have been switched.
        return -2 * Math.Log(spread) - (2.5 * Math.Log(1 + (best / (3 * spread * spread))));
    }

    /// <summary>The site's total at the currents of a row, were it wired so, over its volt-amperes; null where too few rows are like it, or they differ among themselves.</summary>
    private (Phasor Site, double Spread)? Usual(int row, TotalHookup hookup)
    {
        if (Currents(row, hookup) is not { } currents) return null;
        var near = new List<(double Far, Phasor Site)>();
        foreach (var (there, site) in _pool)
        {
            double far = 0;
            for (var index = 0; index < currents.Length; index++) far = Math.Max(far, Math.Abs(there[index] - currents[index]));
            if (far < Near) near.Add((far, site));
        }

        if (near.Count < LeastNeighbours) return null;
        near.Sort((one, other) => one.Far.CompareTo(other.Far));
        var nearest = near.Take(Neighbours).ToArray();
        double[] along = Array.ConvertAll(nearest, entry => entry.Site.Real), across = Array.ConvertAll(nearest, entry => _power.HasSign ? entry.Site.Imaginary : Math.Abs(entry.Site.Imaginary));
        var spread = Math.Sqrt(Square(Robust.Deviation(along)) + Square(Robust.Deviation(across)));
        return spread > 0.2 ? null : (new Phasor(Robust.Median(along), Robust.Median(across)), LeastSpread + spread);
    }

    private static double Square(double value) => value * value;

    /// <summary>Logarithms of the lines' currents, by the clamps of the right hook-up, were the clamps so; null where one is next to nothing or two are on one line.</summary>
    private double[]? Currents(int row, TotalHookup hookup)
    {
        var clamps = _power.Clamps;
        var currents = new double[clamps.Length];
        Array.Fill(currents, double.NaN);
        for (var index = 0; index < clamps.Length; index++)
        {
            var amperes = _frame.Amperes[clamps[index]]![row];
            var at = clamps.IndexOf(hookup.Clamps[clamps[index]].On);
            if (!(amperes > _least) || at < 0) return null;
            currents[at] = Math.Log(amperes);
        }

        return Array.Exists(currents, double.IsNaN) ? null : currents;
    }
}
