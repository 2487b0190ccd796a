using Leadwright.Core.Circuits;

namespace Leadwright.Core.Power;

/// <summary>The effective power quantities of a three-phase service, balanced or not, sinusoidal or not.</summary>
/// <param name="EffectiveVoltage">Ve, V (3.2.2.8).</param>
/// <param name="EffectiveCurrent">Ie, A.</param>
/// <param name="FundamentalEffectiveVoltage">Ve1, V.</param>
/// <param name="FundamentalEffectiveCurrent">Ie1, A.</param>
/// <param name="Active">P, W; positive toward the load.</param>
/// <param name="FundamentalActive">P1 of the three phases together, W.</param>
/// <param name="FundamentalReactive">Q1 of the three phases together, var; positive when lagging.</param>
/// <param name="PositiveActive">P1+, W.</param>
/// <param name="PositiveReactive">Q1+, var.</param>
/// <param name="PositiveApparent">S1+ = 3·V1+·I1+, VA.</param>
/// <param name="ArithmeticApparent">SA, VA (3.2.2.5).</param>
/// <remarks>
/// <para>IEEE Std 1459-2010 clause 3.2, with ρ = 1 and ξ = 1, its values where the ratio of resistances and of loads is not known.</para>
/// <para>Held by the four sets of <c>tests/vectors/power</c>.</para>
/// </remarks>
public readonly record struct ThreePhasePower(
    double EffectiveVoltage, double EffectiveCurrent, double FundamentalEffectiveVoltage, double FundamentalEffectiveCurrent,
    double Active, double FundamentalActive, double FundamentalReactive,
    double PositiveActive, double PositiveReactive, double PositiveApparent, double ArithmeticApparent)
{
    /// <summary>Puts the quantities together from what was measured.</summary>
    public static ThreePhasePower Of(in LineQuantities lines)
    {
        var (voltages, currents) = (lines.Voltages, lines.Currents);
        var lineSquares = (voltages.A - voltages.B).SquaredMagnitude + (voltages.B - voltages.C).SquaredMagnitude
            + (voltages.C - voltages.A).SquaredMagnitude;
        var voltageSquares = voltages.A.SquaredMagnitude + voltages.B.SquaredMagnitude + voltages.C.SquaredMagnitude;
        var currentSquares = currents.A.SquaredMagnitude + currents.B.SquaredMagnitude + currents.C.SquaredMagnitude;
        var complex = (voltages.A * currents.A.Conjugate) + (voltages.B * currents.B.Conjugate) + (voltages.C * currents.C.Conjugate);
        var voltage = SequenceComponents.Of(voltages.A, voltages.B, voltages.C).Positive;
        var current = SequenceComponents.Of(currents.A, currents.B, currents.C).Positive;
        var positive = 3 * (voltage * current.Conjugate);
        return new ThreePhasePower(
            Voltage(voltageSquares: lines.VoltageSquares, lines.LineToLineSquares, lines.HasNeutral),
            Current(lines.CurrentSquares, lines.NeutralSquare, lines.HasNeutral),
            Voltage(voltageSquares, lineSquares, lines.HasNeutral),
            Current(currentSquares, lines.Neutral.SquaredMagnitude, lines.HasNeutral),
            lines.Active, complex.Real, complex.Imaginary,
            positive.Real, positive.Imaginary, positive.Magnitude, lines.ArithmeticApparent);
    }

    /// <summary>Effective apparent power Se = 3·Ve·Ie, VA.</summary>
    public double Apparent => 3 * EffectiveVoltage * EffectiveCurrent;

    /// <summary>Fundamental effective apparent power Se1, VA (3.2.3).</summary>
    public double FundamentalApparent => 3 * FundamentalEffectiveVoltage * FundamentalEffectiveCurrent;

    /// <summary>Nonfundamental effective apparent power SeN, VA.</summary>
    public double NonfundamentalApparent => SinglePhasePower.Residual(Apparent, FundamentalApparent);

    /// <summary>VeH, V.</summary>
    public double HarmonicVoltage => SinglePhasePower.Residual(EffectiveVoltage, FundamentalEffectiveVoltage);

    /// <summary>IeH, A.</summary>
    public double HarmonicCurrent => SinglePhasePower.Residual(EffectiveCurrent, FundamentalEffectiveCurrent);

    /// <summary>Current distortion power DeI, var.</summary>
    public double CurrentDistortionPower => 3 * FundamentalEffectiveVoltage * HarmonicCurrent;

    /// <summary>Voltage distortion power DeV, var.</summary>
    public double VoltageDistortionPower => 3 * HarmonicVoltage * FundamentalEffectiveCurrent;

    /// <summary>Harmonic apparent power SeH, VA.</summary>
    public double HarmonicApparent => 3 * HarmonicVoltage * HarmonicCurrent;

    /// <summary>PH = P − P1, W.</summary>
    public double HarmonicActive => Active - FundamentalActive;

    /// <summary>Harmonic distortion power DeH, var.</summary>
    public double HarmonicDistortionPower => SinglePhasePower.Residual(HarmonicApparent, HarmonicActive);

    /// <summary>Fundamental unbalanced power SU1, VA (3.2.3).</summary>
    public double UnbalancedPower => SinglePhasePower.Residual(FundamentalApparent, PositiveApparent);

    /// <summary>Nonactive power N, var.</summary>
    public double Nonactive => SinglePhasePower.Residual(Apparent, Active);

    /// <summary>Effective power factor PFe = P/Se.</summary>
    public double PowerFactor => Active / Apparent;

    /// <summary>Displacement power factor of the positive sequence, P1+/S1+.</summary>
    public double DisplacementPowerFactor => PositiveActive / PositiveApparent;

    /// <summary>Arithmetic power factor PFA = P/SA.</summary>
    public double ArithmeticPowerFactor => Active / ArithmeticApparent;

    /// <summary>Vector apparent power of the fundamentals SV1, VA: √(P1² + Q1²).</summary>
    public double FundamentalVectorApparent => Math.Sqrt((FundamentalActive * FundamentalActive) + (FundamentalReactive * FundamentalReactive));

    /// <summary>VeH/Ve1 as a fraction.</summary>
    public double VoltageDistortion => HarmonicVoltage / FundamentalEffectiveVoltage;

    /// <summary>IeH/Ie1 as a fraction.</summary>
    public double CurrentDistortion => HarmonicCurrent / FundamentalEffectiveCurrent;

    private static double Voltage(double voltageSquares, double lineSquares, bool hasNeutral) =>
        Math.Sqrt(hasNeutral ? ((3 * voltageSquares) + lineSquares) / 18 : lineSquares / 9);

    private static double Current(double currentSquares, double neutralSquare, bool hasNeutral) =>
        Math.Sqrt((currentSquares + (hasNeutral ? neutralSquare : 0)) / 3);
}
