namespace Leadwright.Core.Signals;

/// <summary>What a harmonic fit leaves over.</summary>
/// <param name="Direct">The direct component, in the channel's unit.</param>
/// <param name="ResidualMeanSquare">Mean square of what the fit does not explain.</param>
/// <param name="ResidualVariance">The same, per degree of freedom left: an unbiased estimate of the noise variance.</param>
/// <param name="Variance">Variance of the samples about their mean.</param>
internal readonly record struct FitResidue(
    double Direct, double ResidualMeanSquare, double ResidualVariance, double Variance)
{
    /// <summary>The share of the variance that periodic content explains, 0 for pure noise, 1 for a clean wave; below zero
    /// by chance. 0 when the samples are constant.</summary>
    public double PeriodicShare => Variance > 0 ? 1 - (ResidualVariance / Variance) : 0;
}
