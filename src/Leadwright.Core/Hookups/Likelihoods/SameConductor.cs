using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>Two clamps on one conductor read the same current.</summary>
internal static class SameConductor
{
    private const double SizeDeviation = 0.02;

    /// <summary>Logarithm of the density of the second clamp's reading, given the first's.</summary>
    public static double LogDensity(
        Observation observation, ClampMap map, int first, int second, bool isSingle, Phasor[] phasors, double largest)
    {
        var (one, other) = (observation.Currents[first], observation.Currents[second]);
        var turned = IsTurned(map, first, isSingle) != IsTurned(map, second, isSingle);
        var density = 1.0;
        if (!double.IsNaN(one.Amperes) && !double.IsNaN(other.Amperes))
        {
            // In amperes, not in their logarithm: a clamp that reads next to nothing is not on the conductor of one that reads much.
            var floor = CurrentSizes.Floor * largest;
            var expected = one.Amperes / map.ScaleOf(first);
            var read = other.Amperes / map.ScaleOf(second);
            var noise = (0.003 * largest) + 0.01;
            var size = SizeDeviation * Math.Max(expected, read);
            density *= Math.Max(read, floor) * Tailed(read - expected, Math.Sqrt((size * size) + (noise * noise)));
        }

        if (phasors[first] != Phasor.Zero && phasors[second] != Phasor.Zero)
        {
            var angle = phasors[second].AngleRadians - phasors[first].AngleRadians - (turned ? Math.PI : 0);
            density *= Tailed(
                Math.IEEERemainder(angle, 2 * Math.PI), Math.Sqrt(2) * Math.Max(one.AngleDeviation, other.AngleDeviation));
        }
        else
        {
            density /= 2 * Math.PI;
        }

        return Math.Log(density + 1e-12);
    }

    private static bool IsTurned(ClampMap map, int index, bool isSingle) =>
        map.Reversed[index] != (isSingle && map.On[index] == Place.N);

    private static double Tailed(double residual, double deviation) =>
        (0.92 * Gauss.Density(residual, deviation)) + (0.08 * Gauss.Density(residual, 3 * deviation));
}
