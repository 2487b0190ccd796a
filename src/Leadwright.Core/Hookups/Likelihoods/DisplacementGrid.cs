using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>The load prior laid out on a grid: the site's mean displacement in steps of five degrees, at three levels of
/// difference between phases, and a fourth level at which the phases have nothing to do with each other.</summary>
internal sealed class DisplacementGrid
{
    public const int Steps = 72;
    public const int Levels = 4;
    public const int Independent = 3;
    private const double StepRadians = 2 * Math.PI / Steps;
    private const double Degree = Math.PI / 180;
    private const int DegreesPerStep = 360 / Steps;
    private const int NoiseClasses = 3;
    private const double SomeNoise = 0.12;
    private const double MuchNoise = 0.6;

    /// <summary>Spread of displacement between phases at each level, radians.</summary>
    public static ReadOnlySpan<double> AngleSpread => [6 * Degree, 14 * Degree, 30 * Degree];

    /// <summary>Spread of the logarithm of current between phases at each level.</summary>
    public static ReadOnlySpan<double> SizeSpread => [0.16, 0.45, 1.0, 1.0];

    private readonly double[] _marginal = new double[360];
    private readonly double[][] _kernels = new double[Independent * NoiseClasses][];

    public DisplacementGrid(LoadPrior prior)
    {
        for (var level = 0; level < Independent; level++) Weights[level] = new double[Steps];
        foreach (var part in prior.Components)
        {
            Span<double> shares = [part.Alike, part.Uneven, 1 - part.Alike - part.Uneven];
            var deviation = part.DeviationDegrees * Degree;
            for (var step = 0; step < Steps; step++)
            {
                var density = Gauss.WrappedDensity((step * StepRadians) - (part.MeanDegrees * Degree), deviation);
                for (var level = 0; level < Independent; level++)
                    Weights[level][step] += part.Weight * shares[level] * density * StepRadians;
            }

            for (var degree = 0; degree < 360; degree++)
            {
                var spread = Math.Sqrt((deviation * deviation) + (AngleSpread[1] * AngleSpread[1]));
                _marginal[degree] += part.Weight * Gauss.WrappedDensity((degree - part.MeanDegrees) * Degree, spread);
            }
        }

        Span<double> noises = [0.03, 0.3, 1.2];
        for (var kernel = 0; kernel < _kernels.Length; kernel++)
        {
            var spread = Math.Sqrt(
                Math.Pow(AngleSpread[kernel / NoiseClasses], 2) + Math.Pow(noises[kernel % NoiseClasses], 2));
            _kernels[kernel] = new double[360];
            for (var degree = 0; degree < 360; degree++)
                _kernels[kernel][degree] = Gauss.WrappedDensity(degree * Degree, spread);
        }

        Span<double> anything = [0.45, 0.35, 0.20];
        for (var level = 0; level < Independent; level++)
        {
            for (var step = 0; step < Steps; step++) Weights[level][step] += prior.Anything * anything[level] / Steps;
            LevelWeights[level] = Weights[level].Sum();
        }

        LevelWeights[Independent] = prior.Independent;
        var share = prior.Components.Sum(part => part.Weight);
        for (var degree = 0; degree < 360; degree++)
            _marginal[degree] = (0.9 * _marginal[degree] / Math.Max(share, 1e-9)) + (0.1 / (2 * Math.PI));
    }

    /// <summary>Sum over mean displacements of weights times the density of one more phase's displacement.</summary>
    /// <param name="level">The level.</param>
    /// <param name="weights">A weight for each step.</param>
    /// <param name="radians">The displacement.</param>
    /// <param name="noise">Its uncertainty, radians; taken in three classes.</param>
    public double Weigh(int level, ReadOnlySpan<double> weights, double radians, double noise)
    {
        var kernel = _kernels[(level * NoiseClasses) + (noise < SomeNoise ? 0 : noise < MuchNoise ? 1 : 2)];
        var degree = Degrees(radians);
        double sum = 0;
        for (var step = 0; step < weights.Length; step++)
        {
            sum += weights[step] * kernel[degree];
            degree -= DegreesPerStep;
            if (degree < 0) degree += 360;
        }

        return sum;
    }

    /// <summary>Prior probability of each level and mean displacement: level, then step of five degrees from 0.</summary>
    public double[][] Weights { get; } = new double[Independent][];

    /// <summary>Prior probability of each level.</summary>
    public double[] LevelWeights { get; } = new double[Levels];

    /// <summary>Mean displacement of a step, radians.</summary>
    public static double MeanOf(int step) => step * StepRadians;

    /// <summary>Density of one phase's displacement when phases are independent; per radian.</summary>
    public double Marginal(double radians) => _marginal[Degrees(radians)];

    private static int Degrees(double radians)
    {
        var degree = (int)Math.Round(radians / Degree) % 360;
        return degree < 0 ? degree + 360 : degree;
    }
}
