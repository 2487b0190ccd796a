using Leadwright.Core.Power;

namespace Leadwright.Core.Studies.Load;

/// <summary>What harmonics leave of a transformer's rating.</summary>
/// <param name="LossFactor">Harmonic loss factor F<sub>HL</sub> of IEEE C57.110.</param>
/// <param name="StrayFactor">Harmonic loss factor for other stray losses.</param>
/// <param name="KFactor">K-factor of UL 1561 against the rated current; NaN when that is not stated.</param>
/// <param name="RatedShare">Current that keeps the rated losses, per unit of the rated current.</param>
/// <remarks>IEEE Std C57.110 for dry types (from memory): Imax = √((1 + P)/(1 + F<sub>HL</sub>·P)), P the winding eddy-current loss at rated
/// current per unit of the I²R loss.</remarks>
public sealed record TransformerHarmonics(double LossFactor, double StrayFactor, double KFactor, double RatedShare)
{
    /// <summary>Works it out.</summary>
    /// <param name="currents">Rms current of each order from 1, in any unit (A where a rated current is given).</param>
    /// <param name="eddyLoss">Winding eddy-current loss at rated current, per unit of I²R; not negative.</param>
    /// <param name="ratedAmperes">Rated current, A; NaN when not stated.</param>
    public static TransformerHarmonics Of(ReadOnlySpan<double> currents, double eddyLoss, double ratedAmperes = double.NaN)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(eddyLoss);
        var squares = new double[currents.Length];
        var weighted = 0.0;
        for (var index = 0; index < squares.Length; index++)
        {
            squares[index] = currents[index] * currents[index];
            weighted += (index + 1.0) * (index + 1.0) * squares[index];
        }

        var factor = HarmonicLoss.EddyFactor(squares);
        return new TransformerHarmonics(
            factor, HarmonicLoss.StrayFactor(squares), weighted / (ratedAmperes * ratedAmperes), ShareOf(factor, eddyLoss));
    }

    /// <summary>Current that keeps the rated losses, per unit of the rated current.</summary>
    /// <param name="lossFactor">F<sub>HL</sub>.</param>
    /// <param name="eddyLoss">Winding eddy-current loss at rated current, per unit of I²R.</param>
    public static double ShareOf(double lossFactor, double eddyLoss) => Math.Sqrt((1 + eddyLoss) / (1 + (lossFactor * eddyLoss)));
}
