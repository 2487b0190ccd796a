using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>How likely the clamps' changes are against each other, whatever the voltages do.</summary>
/// <remarks>Against a line clamp, whose changes may be anything: a clamp on a conductor that has one already repeats it, a clamp on
/// nothing stays still, and where every conductor has a clamp the changes add up to nothing.</remarks>
internal sealed class StepCurrents
{
    private const double ClampError = 0.025;
    private const double PickUp = 0.006;

    /// <summary>What a clamp on nothing picks up, as a share of the largest change, and how often: many show nothing but their own noise.</summary>
    private static readonly (double Share, double Weight)[] s_pickUp = [(PickUp, 0.5), (0.1 * PickUp, 0.25), (0, 0.25)];

    /// <summary>The same of a clamp that reads something: what it picks up of the currents it picks up of their changes.</summary>
    private static readonly (double Share, double Weight)[] s_usualPickUp = [(PickUp, 1)];

    /// <summary>Tail of a clamp on nothing: a step that it shows as large as the others do is no pick-up.</summary>
    private const double OpenTail = 0.004;

    /// <summary>Tail of a sum that must vanish, and of a clamp that must repeat another: a clamp beyond its range, seldom anything else.</summary>
    private const double SumTail = 0.004;

    /// <summary>Shares of steps that leave an unread neutral alone, as loads between lines do, and how likely each is: panels differ.</summary>
    private static readonly (double Share, double Weight)[] s_betweenLines = [(0.05, 0.4), (0.2, 0.3), (0.5, 0.2), (0.85, 0.1)];

    /// <summary>The same for an unread line: of three lines, most loads are on others.</summary>
    private static readonly (double Share, double Weight)[] s_onOtherLines = [(0.1, 0.25), (0.35, 0.35), (0.6, 0.25), (0.9, 0.15)];

    private static readonly (double Share, double Weight)[] s_always = [(1, 1)];

    private readonly Dictionary<long, double> _sums = [];
    private readonly Dictionary<(int, int, double), double> _pairs = [];
    private readonly double[] _open;
    private readonly double[] _line;
    private readonly StepTable _table;
    private readonly int[] _positions;

    public StepCurrents(StepTable table, Clamp[] clamps)
    {
        _table = table;
        _positions = [.. table.Clamps.Select(clamp => Array.IndexOf(clamps, clamp))];
        _open = new double[table.Clamps.Length];
        _line = new double[table.Clamps.Length];
        for (var clamp = 0; clamp < _open.Length; clamp++)
        {
            foreach (var step in table.Currents) _line[clamp] += LogLine(step[clamp], clamp);
            _open[clamp] = double.NegativeInfinity;
            var readsNothing = table.LargestAmperes[clamp] <= PickUp * table.LargestAmperes.Max();
            foreach (var (share, weight) in readsNothing ? s_pickUp : s_usualPickUp)
            {
                var log = Math.Log(weight);
                foreach (var step in table.Currents) log += LogTailed(step[clamp], Square(table.CurrentNoise[clamp]) + Square(share * Largest(step)), OpenTail);
                _open[clamp] = LogSum(_open[clamp], log);
            }

            // A conductor whose loads are just not switched stays as still as a clamp on nothing.
            _line[clamp] = LogSum(Math.Log(0.8) + _line[clamp], Math.Log(0.2) + _open[clamp]);
        }
    }

    /// <summary>The map that is being weighed.</summary>
    public ClampMap? Map { get; set; }

    /// <summary>Logarithm of the likelihood of the changes over that of line clamps.</summary>
    public double LogOf(ConductorCurrents conductors)
    {
        var map = Map!;
        var key = ConductorCurrents.Key(map, _positions);
        if (_sums.TryGetValue(key, out var known)) return known;
        double log = 0;
        for (var clamp = 0; clamp < _positions.Length; clamp++)
        {
            var place = map.On[_positions[clamp]];
            if (place == Place.Air)
            {
                log += _open[clamp] - _line[clamp];
                continue;
            }

            var first = conductors.First[place];
            if (first == clamp) continue;
            var ratio = Weight(map, clamp) / Weight(map, first);
            log += LogPair(first, clamp, 1 / ratio) - _line[clamp];
        }

        // With a line unread besides the neutral, loads between those that are read close all the same.
        if (conductors.Closes) log += LogClosure(conductors, s_always);
        else if (conductors.ReadCount > 1) log += LogClosure(conductors, conductors.Rest == Place.N ? s_betweenLines : s_onOtherLines);
        return _sums[key] = log;
    }

    private double Weight(ClampMap map, int clamp) => (map.Reversed[_positions[clamp]] ? -1 : 1) / map.ScaleOf(_positions[clamp]);

    private double LogPair(int first, int second, double ratio)
    {
        var key = (first, second, ratio);
        if (_pairs.TryGetValue(key, out var known)) return known;
        double log = 0;
        foreach (var step in _table.Currents)
        {
            var expected = ratio * step[first];
            var variance = Square(ClampError) * (expected.SquaredMagnitude + step[second].SquaredMagnitude)
                + Square(_table.CurrentNoise[second]) + Square(ratio * _table.CurrentNoise[first])
                // Two lines whose standing load follows the supply change alike by next to nothing when a third line's load is switched.
                + Square(PickUp * Largest(step));
            log += LogTailed(step[second] - expected, variance, SumTail);
        }

        return _pairs[key] = log;
    }

    /// <summary>The density of the lines' sum over that of sums that need not vanish.</summary>
    /// <param name="conductors">The clamps' conductors.</param>
    /// <param name="shares">Share of steps whose sum vanishes, with its weight: all where every conductor has a clamp, otherwise of those that leave the unread conductor alone.</param>
    private double LogClosure(ConductorCurrents conductors, (double Share, double Weight)[] shares)
    {
        Span<double> logs = stackalloc double[shares.Length];
        logs.Clear();
        foreach (var step in _table.Currents)
        {
            var sum = Phasor.Zero;
            double variance = 0, broad = 0;
            for (var conductor = 0; conductor < LeadRows.Conductors; conductor++)
            {
                var (clamp, weight) = (conductors.First[conductor], conductors.Scale[conductor]);
                if (clamp < 0) continue;
                sum += weight * step[clamp];
                variance += Square(weight) * ((Square(ClampError) * step[clamp].SquaredMagnitude) + Square(_table.CurrentNoise[clamp]));
                broad += Square(weight) * step[clamp].SquaredMagnitude;
            }

            // Conductors that all stand still add up to nothing either way, and tell nothing.
            var ratio = LogTailed(sum, variance, SumTail) - Math.Log(Density(sum, broad + variance));
            for (var index = 0; index < shares.Length; index++)
            {
                var share = shares[index].Share;
                logs[index] += share < 1 ? Math.Log((share * Math.Exp(ratio)) + (1 - share)) : ratio;
            }
        }

        var log = double.NegativeInfinity;
        for (var index = 0; index < shares.Length; index++) log = LogSum(log, Math.Log(shares[index].Weight) + logs[index]);
        return log;
    }

    private double LogLine(Phasor change, int clamp)
    {
        var still = Square(1.5 * _table.CurrentNoise[clamp]);
        return Math.Log((0.45 * Density(change, still + Square(PickUp * _table.TypicalAmperes)))
            + (0.4 * Density(change, still + Square(_table.TypicalAmperes)))
            + (0.15 * Density(change, still + Square(0.2 * _table.TypicalAmperes))));
    }

    private static double Largest(Phasor[] step)
    {
        double largest = 0;
        foreach (var change in step) largest = Math.Max(largest, change.Magnitude);
        return largest;
    }

    private double LogTailed(Phasor residual, double variance, double tail) => Math.Log(
        ((1 - tail) * Density(residual, variance))
        + (tail * 0.7 * Density(residual, 16 * variance))
        + (tail * 0.3 * Density(residual, variance + Square(_table.TypicalAmperes))));

    private static double Density(Phasor residual, double variance) => (Math.Exp(-residual.SquaredMagnitude / variance) / (Math.PI * variance)) + 1e-300;

    private static double LogSum(double one, double other)
    {
        var top = Math.Max(one, other);
        return top + Math.Log(Math.Exp(one - top) + Math.Exp(other - top));
    }

    private static double Square(double value) => value * value;
}
