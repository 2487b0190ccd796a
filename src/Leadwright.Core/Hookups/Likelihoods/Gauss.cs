using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>Normal densities.</summary>
internal static class Gauss
{
    public static double Density(double residual, double deviation)
    {
        var z = residual / deviation;
        return Math.Exp(-0.5 * z * z) / (deviation * Math.Sqrt(2 * Math.PI));
    }

    /// <summary>Density in the complex plane of a residual with the same variance in both parts.</summary>
    public static double PlaneDensity(Phasor residual, double variance) =>
        Math.Exp(-0.5 * residual.SquaredMagnitude / variance) / (2 * Math.PI * variance);

    /// <summary>Density of an angle difference in radians, wrapped to the nearest turn.</summary>
    public static double WrappedDensity(double radians, double deviation) =>
        Density(Math.IEEERemainder(radians, 2 * Math.PI), deviation);
}
