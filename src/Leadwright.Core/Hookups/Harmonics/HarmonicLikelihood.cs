using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;

namespace Leadwright.Core.Hookups.Harmonics;

/// <summary>How well the harmonics fit arrangements of the clamps, given where the leads are.</summary>
/// <remarks>Natural logarithms against harmonics that say nothing (any angle). A harmonic weighs the less the nearer it is to noise
/// or to what the supply's own distortion would drive through a linear load. Derivation: docs/methods/harmonics.md.</remarks>
internal sealed class HarmonicLikelihood
{
    private const int Steps = 36;
    private const double Degree = Math.PI / 180;
    private const double Flat = 1 / (2 * Math.PI);
    private const double ClampAngleError = 1.2 * Degree;
    private const double ClampError = 0.025;
    private const double Most = 4.5;
    private const double SumWeight = 0.5;
    private const double MostFromSums = 16;

    private readonly HarmonicTable _table;
    private readonly (double Share, HarmonicPattern[] Patterns)[] _kinds;
    private readonly double[] _lineAngles;
    private readonly Service _service;
    private readonly Dictionary<int, double> _known = [];
    private readonly double[] _angles = new double[4];
    private readonly int[] _clamps = new int[4];

    public HarmonicLikelihood(HarmonicTable table, (double Share, HarmonicPattern[] Patterns)[] kinds, VoltageFit fit, Service service)
    {
        (_table, _kinds, _lineAngles, _service) = (table, kinds, fit.ConductorAngles, service);
    }

    /// <summary>No larger logarithm than this.</summary>
    public const double Ceiling = Most + (SumWeight * MostFromSums);

    /// <summary>Logarithm of the likelihood of an arrangement.</summary>
    public double Of(ClampMap map)
    {
        var key = 0;
        for (var clamp = 0; clamp < map.On.Length; clamp++) key = (key * 10) + (map.On[clamp] * 2) + (map.Reversed[clamp] ? 1 : 0);
        if (_known.TryGetValue(key, out var known) && map.OffScale < 0) return known;
        var log = Math.Clamp(Angles(map), -Most, Most) + (SumWeight * Sums(map));
        if (map.OffScale < 0) _known[key] = log;
        return log;
    }

    private double Angles(ClampMap map)
    {
        double total = 1;
        foreach (var (share, patterns) in _kinds)
        {
            double log = 0;
            foreach (var pattern in patterns) log += pattern.Weight * LogPattern(pattern, map);
            total += share * (Math.Exp(log) - 1);
        }

        return Math.Log(Math.Max(total, 1e-6));
    }

    /// <summary>Density of one order's angles on all line clamps together, over any angle for each.</summary>
    private double LogPattern(HarmonicPattern pattern, ClampMap map)
    {
        var count = 0;
        var roles = map.Roles;
        for (var clamp = 0; clamp < roles.Length; clamp++)
        {
            if (roles[clamp] != ClampRole.Line || !(_table.Spread(clamp, pattern.Order) < 1.2)) continue;
            _angles[count] = _table.Angle(clamp, pattern.Order) + (map.Reversed[clamp] ? Math.PI : 0)
                - (pattern.Order * _lineAngles[map.On[clamp]]);
            _clamps[count++] = clamp;
        }

        if (count == 0 || (count == 1 && double.IsNaN(pattern.MeanDegrees))) return 0;
        double sum = 0, weights = 0;
        for (var step = 0; step < Steps; step++)
        {
            var mean = step * 2 * Math.PI / Steps;
            var weight = double.IsNaN(pattern.MeanDegrees)
                ? 1
                : Wrapped(mean - (pattern.MeanDegrees * Degree), pattern.SiteSpreadDegrees * Degree);
            if (weight < 1e-9) continue;
            var product = weight;
            for (var index = 0; index < count; index++)
            {
                var spread = Math.Sqrt(
                    Square(pattern.PhaseSpreadDegrees * Degree) + Square(_table.Spread(_clamps[index], pattern.Order)) + Square(ClampAngleError));
                product *= Wrapped(_angles[index] - mean, spread) / Flat;
            }

            sum += product;
            weights += weight;
        }

        return Math.Log((sum / weights) + 1e-9);
    }

    /// <summary>Where every conductor has a clamp its harmonics add up to nothing too: their sums against sums that need not.</summary>
    private double Sums(ClampMap map)
    {
        Span<int> first = stackalloc int[4];
        first.Fill(-1);
        for (var clamp = 0; clamp < map.On.Length; clamp++)
        {
            if (map.On[clamp] != Place.Air && first[map.On[clamp]] < 0) first[map.On[clamp]] = clamp;
        }

        foreach (var conductor in _service.Conductors)
        {
            if (first[(int)conductor] < 0) return 0;
        }

        if (_service.Conductors.Length < 3) return 0;
        double log = 0;
        foreach (var order in HarmonicPrior.Orders)
        {
            var sum = Phasor.Zero;
            double variance = 0, broad = 0;
            var isLoud = false;
            foreach (var conductor in _service.Conductors)
            {
                var clamp = first[(int)conductor];
                var weight = (map.Reversed[clamp] ? -1 : 1) / map.ScaleOf(clamp);
                var (phasor, noise) = (_table.Phasor(clamp, order), _table.Noise(clamp, order));
                sum += weight * phasor;
                variance += Square(weight) * ((Square(ClampError) * phasor.SquaredMagnitude) + (2 * Square(noise)));
                broad += Square(weight) * phasor.SquaredMagnitude;
                isLoud |= phasor.Magnitude > 6 * noise;
            }

            if (!isLoud || !(broad > 0)) continue;
            broad += variance;
            var density = (0.95 * Plane(sum, variance)) + (0.05 * Plane(sum, broad));
            log += Math.Log(density) - Math.Log(Plane(sum, broad));
        }

        return Math.Clamp(log, -MostFromSums, MostFromSums);
    }

    private static double Plane(Phasor value, double variance) => (Math.Exp(-value.SquaredMagnitude / variance) / variance) + 1e-300;

    private static double Wrapped(double radians, double spread)
    {
        var near = Math.IEEERemainder(radians, 2 * Math.PI);
        return Gauss.Density(near, spread) + Gauss.Density(near - (2 * Math.PI), spread) + Gauss.Density(near + (2 * Math.PI), spread);
    }

    private static double Square(double value) => value * value;
}
