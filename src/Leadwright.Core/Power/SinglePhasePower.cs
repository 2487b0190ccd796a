using Leadwright.Core.Circuits;

namespace Leadwright.Core.Power;

/// <summary>The power quantities of one phase, sinusoidal or not.</summary>
/// <param name="VoltageRms">True rms voltage, V.</param>
/// <param name="CurrentRms">True rms current, A.</param>
/// <param name="FundamentalVoltage">Rms of the fundamental voltage, V1.</param>
/// <param name="FundamentalCurrent">Rms of the fundamental current, I1.</param>
/// <param name="Active">Active power P of everything, W; positive toward the load.</param>
/// <param name="FundamentalActive">P1, W.</param>
/// <param name="FundamentalReactive">Q1, var; positive when the current lags.</param>
/// <remarks>
/// <para>IEEE Std 1459-2010 clause 3.1.2. What is not the fundamental (harmonics, interharmonics, direct part) carries the index H.
/// Ratios of zero by zero are NaN.</para>
/// <para>Held by the example of annex B in <c>tests/vectors/power</c>.</para>
/// </remarks>
public readonly record struct SinglePhasePower(
    double VoltageRms, double CurrentRms, double FundamentalVoltage, double FundamentalCurrent,
    double Active, double FundamentalActive, double FundamentalReactive)
{
    /// <summary>Puts the quantities together from what was measured.</summary>
    /// <param name="fundamentalVoltage">Fundamental voltage.</param>
    /// <param name="fundamentalCurrent">Fundamental current.</param>
    /// <param name="voltageRms">True rms voltage.</param>
    /// <param name="currentRms">True rms current.</param>
    /// <param name="active">Mean of v·i.</param>
    public static SinglePhasePower Of(
        Phasor fundamentalVoltage, Phasor fundamentalCurrent, double voltageRms, double currentRms, double active)
    {
        var complex = fundamentalVoltage * fundamentalCurrent.Conjugate;
        return new SinglePhasePower(
            voltageRms, currentRms, fundamentalVoltage.Magnitude, fundamentalCurrent.Magnitude, active, complex.Real, complex.Imaginary);
    }

    /// <summary>Apparent power S = V·I, VA (3.1.2.7).</summary>
    public double Apparent => VoltageRms * CurrentRms;

    /// <summary>Fundamental apparent power S1, VA.</summary>
    public double FundamentalApparent => FundamentalVoltage * FundamentalCurrent;

    /// <summary>Harmonic active power PH = P − P1, W (3.1.2.5).</summary>
    public double HarmonicActive => Active - FundamentalActive;

    /// <summary>Rms of all but the fundamental voltage, VH.</summary>
    public double HarmonicVoltage => Residual(VoltageRms, FundamentalVoltage);

    /// <summary>Rms of all but the fundamental current, IH.</summary>
    public double HarmonicCurrent => Residual(CurrentRms, FundamentalCurrent);

    /// <summary>VH/V1 as a fraction (3.1.2.1).</summary>
    public double VoltageDistortion => HarmonicVoltage / FundamentalVoltage;

    /// <summary>IH/I1 as a fraction.</summary>
    public double CurrentDistortion => HarmonicCurrent / FundamentalCurrent;

    /// <summary>Nonfundamental apparent power SN, VA (3.1.2.9).</summary>
    public double NonfundamentalApparent => Residual(Apparent, FundamentalApparent);

    /// <summary>Current distortion power DI = V1·IH, var (3.1.2.10).</summary>
    public double CurrentDistortionPower => FundamentalVoltage * HarmonicCurrent;

    /// <summary>Voltage distortion power DV = VH·I1, var (3.1.2.11).</summary>
    public double VoltageDistortionPower => HarmonicVoltage * FundamentalCurrent;

    /// <summary>Harmonic apparent power SH = VH·IH, VA (3.1.2.12).</summary>
    public double HarmonicApparent => HarmonicVoltage * HarmonicCurrent;

    /// <summary>Harmonic distortion power DH, var (3.1.2.13).</summary>
    public double HarmonicDistortionPower => Residual(HarmonicApparent, HarmonicActive);

    /// <summary>Nonactive power N, var (3.1.2.14).</summary>
    public double Nonactive => Residual(Apparent, Active);

    /// <summary>True power factor P/S, with the sign of P (3.1.2.16).</summary>
    public double PowerFactor => Active / Apparent;

    /// <summary>Displacement power factor P1/S1 (3.1.2.15).</summary>
    public double DisplacementPowerFactor => FundamentalActive / FundamentalApparent;

    internal static double Residual(double whole, double part) => Math.Sqrt(Math.Max((whole * whole) - (part * part), 0));
}
