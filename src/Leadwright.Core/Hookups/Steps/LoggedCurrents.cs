using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>Whether two clamps of a log change alike, as on one conductor they must.</summary>
/// <remarks>
/// The size of a current's change does not depend on the voltage that it is held against. Clamps on different conductors change alike, interval after interval, only where nothing but
/// loads on both is switched; clamps on one conductor change otherwise only where one of them is out of order. Neither is ever ruled out, so
/// that what hundreds of intervals say is bounded by how often that is. Natural logarithms, about zero for clamps on different conductors.
/// Derivation: docs/methods/switching-steps.md.
/// </remarks>
internal sealed class LoggedCurrents
{
    private const double ClampError = 0.025;

    /// <summary>Share of intervals in which two clamps on one conductor differ: one of them at the end of its range, or a row of a log put together from two.</summary>
    private const double OddShare = 0.01;

    /// <summary>How often two conductors carry nothing but loads on both: three-phase or between lines. On a split service all load is from leg to leg on some (common practice, no source).</summary>
    private const double SharedLoads = 0.05;
    private const double SharedLegs = 0.15;

    /// <summary>How often a clamp that shares another's conductor shows something else all the same (our choice).</summary>
    private const double OutOfOrder = 1e-6;

    private readonly LoggedTable _table;
    private readonly double _shared;
    private readonly double[] _sizes;
    private readonly Dictionary<(int First, int Second, double Ratio), double> _logs = [];

    public LoggedCurrents(LoggedTable table, Service service)
    {
        _table = table;
        _shared = service.Kind == ServiceKind.Split ? SharedLegs : SharedLoads;
        var changes = table.Changes;
        _sizes = [.. Enumerable.Range(0, changes.InPhase.Length)
            .Select(at => Math.Sqrt((changes.InPhase[at] * changes.InPhase[at]) + (changes.Lagging[at] * changes.Lagging[at])))];
    }

    /// <summary>The largest logarithm that an arrangement can have.</summary>
    public double Most => Math.Max(_table.Changes.Clamps.Length - 1, 0) * -Math.Log(_shared);

    /// <summary>Logarithm of the likelihood over that of clamps on different conductors.</summary>
    /// <param name="map">The clamps.</param>
    /// <param name="positions">Position in the map of each clamp of the log.</param>
    public double LogOf(ClampMap map, int[] positions)
    {
        double log = 0;
        for (var second = 1; second < positions.Length; second++)
        {
            var place = map.On[positions[second]];
            if (place == Place.Air) continue;
            for (var first = 0; first < second; first++)
            {
                if (map.On[positions[first]] != place) continue;
                log += LogOfPair(first, second, map.ScaleOf(positions[second]) / map.ScaleOf(positions[first]));
                break;
            }
        }

        return log;
    }

    private double LogOfPair(int first, int second, double ratio)
    {
        var key = (first, second, ratio);
        if (_logs.TryGetValue(key, out var known)) return known;
        var changes = _table.Changes;
        var clamps = changes.Clamps.Length;
        // A clamp held against another voltage sees what already flows turn as the two voltages turn against each other: by no more than they change.
        var turning = _table.TypicalChange * changes.LargestAmperes[second];
        var still = changes.CurrentNoise[second] + (ratio * changes.CurrentNoise[first]);
        double typical = 0;
        for (var change = 0; change < changes.Count; change++) typical += Square(_sizes[(change * clamps) + second]);
        // A line whose loads stand still shows the turning alone, whichever line it is.
        typical = Math.Sqrt((typical / changes.Count) + Square(turning)) + still;
        double alike = 0, apart = 0;
        for (var change = 0; change < changes.Count; change++)
        {
            var (size, expected) = (_sizes[(change * clamps) + second], ratio * _sizes[(change * clamps) + first]);
            var any = (0.45 * Density(size, still + turning)) + (0.15 * Density(size, turning + (0.2 * typical))) + (0.4 * Density(size, typical));
            var error = Math.Sqrt(Square(ClampError * (size + expected)) + Square(still) + Square(turning));
            alike += LoggedTable.Weight * Math.Log(((1 - OddShare) * 0.5 * (Density(size - expected, error) + Density(size + expected, error))) + (OddShare * any));
            apart += LoggedTable.Weight * Math.Log(any);
        }

        return _logs[key] = LogMix(alike, apart, OutOfOrder) - LogMix(apart, alike, _shared);
    }

    /// <summary>Logarithm of a mixture: one of two, the second with a share.</summary>
    private static double LogMix(double first, double second, double share)
    {
        var (one, other) = (first + Math.Log(1 - share), second + Math.Log(share));
        var top = Math.Max(one, other);
        return top + Math.Log(Math.Exp(one - top) + Math.Exp(other - top));
    }

    // Of a size, which is never below zero: twice the normal density.
    private static double Density(double value, double deviation) => (2 * Likelihoods.Gauss.Density(value, deviation)) + 1e-300;

    private static double Square(double value) => value * value;
}
