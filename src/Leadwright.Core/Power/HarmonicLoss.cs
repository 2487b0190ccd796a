namespace Leadwright.Core.Power;

/// <summary>How much more a transformer's stray losses are with a distorted current.</summary>
public static class HarmonicLoss
{
    /// <summary>The harmonic loss factor for winding eddy currents F<sub>HL</sub> = Σ h²·Ih² / Σ Ih².</summary>
    /// <param name="squares">Squared rms current of each order from 1, in any unit.</param>
    /// <returns>1 for a pure fundamental; NaN without current.</returns>
    /// <remarks>IEEE Std C57.110-2018 clause 6 (from memory). Equals the K-factor of UL 1561 when that is taken against
    /// the rms of the same currents.</remarks>
    public static double EddyFactor(ReadOnlySpan<double> squares) => Weighted(squares, 2);

    /// <summary>The harmonic loss factor for other stray losses F<sub>HL-STR</sub> = Σ h^0.8·Ih² / Σ Ih².</summary>
    /// <param name="squares">Squared rms current of each order from 1.</param>
    /// <returns>1 for a pure fundamental; NaN without current.</returns>
    /// <remarks>IEEE Std C57.110-2018 clause 6 (from memory).</remarks>
    public static double StrayFactor(ReadOnlySpan<double> squares) => Weighted(squares, 0.8);

    private static double Weighted(ReadOnlySpan<double> squares, double exponent)
    {
        double weighted = 0, plain = 0;
        for (var index = 0; index < squares.Length; index++)
        {
            weighted += Math.Pow(index + 1, exponent) * squares[index];
            plain += squares[index];
        }

        return weighted / plain;
    }
}
