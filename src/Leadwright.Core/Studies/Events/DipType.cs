using Leadwright.Core.Circuits;

namespace Leadwright.Core.Studies.Events;

/// <summary>The ABC classification of a three-phase dip.</summary>
/// <param name="Letter">A to G.</param>
/// <param name="Phase">The phase that stands alone, 1 to 3; 0 for type A.</param>
/// <param name="Characteristic">Characteristic voltage V as a fraction of the voltage before.</param>
/// <param name="PositiveNegative">PN factor F.</param>
/// <param name="Zero">Zero-sequence voltage as a fraction.</param>
/// <remarks>
/// <para>M. H. J. Bollen, L. D. Zhang, "Different methods for classification of three-phase unbalanced voltage dips due to faults", Electr. Power Syst. Res. 66 (2003) 59
/// (from memory): T = round(arg(V2/(1 − V1))/60°) names the phase and the family, F = V1 + V2·e^(−j60°T), V = V1 − V2·e^(−j60°T).</para>
/// <para>Families by T: C for 0, 2, 4 (phases a, b, c), D for 3, 5, 1. With zero sequence C becomes E and D becomes B; without it a PN factor well below 1
/// makes C a G and D an F. Borders of 0.05 are ours.</para>
/// </remarks>
public readonly record struct DipType(char Letter, int Phase, double Characteristic, double PositiveNegative, double Zero)
{
    private const double Border = 0.05;

    /// <summary>Names the type.</summary>
    /// <param name="a">Phasor of phase A during the dip over the phasor of phase A before it.</param>
    /// <param name="b">Phasor of phase B during the dip over the phasor of phase A before it.</param>
    /// <param name="c">The same of phase C.</param>
    public static DipType Of(Phasor a, Phasor b, Phasor c)
    {
        var parts = SequenceComponents.Of(a, b, c);
        var (positive, negative, zero) = (parts.Positive, parts.Negative, parts.Zero.Magnitude);
        var lack = new Phasor(1, 0) - positive;
        if (negative.Magnitude < Border * Math.Max(lack.Magnitude, 0.1) || negative.Magnitude < 0.01)
            return new DipType('A', 0, positive.Magnitude, positive.Magnitude, zero);
        var turn = ((int)Math.Round((negative / lack).AngleDegrees / 60) + 6) % 6;
        var turned = negative.TurnedByDegrees(-60 * turn);
        var factor = (positive + turned).Magnitude;
        var characteristic = (positive - turned).Magnitude;
        var isC = turn % 2 == 0;
        // Ca 0, Dc 1, Cb 2, Da 3, Cc 4, Db 5.
        var phase = turn switch { 0 or 3 => 1, 2 or 5 => 2, _ => 3 };
        var letter = (isC, zero > Border, factor < 1 - Border) switch
        {
            (true, true, _) => 'E',
            (false, true, _) => 'B',
            (true, false, true) => 'G',
            (false, false, true) => 'F',
            (true, false, false) => 'C',
            _ => 'D',
        };
        return new DipType(letter, phase, characteristic, factor, zero);
    }
}
