namespace Leadwright.Core.Circuits;

/// <summary>The zero, positive and negative sequence components of three phasors.</summary>
/// <param name="Zero">Zero sequence, referred to the first phasor; unit of the quantity, rms.</param>
/// <param name="Positive">Positive sequence, referred to the first phasor.</param>
/// <param name="Negative">Negative sequence, referred to the first phasor.</param>
/// <remarks>
/// <para>With a = 1∠120°: X0 = (A + B + C)/3, X1 = (A + aB + a²C)/3, X2 = (A + a²B + aC)/3.</para>
/// <para>Source: C. L. Fortescue, Trans. AIEE 37 (1918), 1027–1140. A NaN in any phasor makes every component NaN.</para>
/// </remarks>
public readonly record struct SequenceComponents(Phasor Zero, Phasor Positive, Phasor Negative)
{
    private const double HalfRootThree = 0.86602540378443864676;

    /// <summary>Negative over positive sequence, as a fraction (u2 of IEC 61000-4-30 clause 5.7 for voltages); infinite
    /// when there is no positive sequence, NaN when there is neither.</summary>
    public double NegativeRatio => Negative.Magnitude / Positive.Magnitude;

    /// <summary>Zero over positive sequence, as a fraction (u0 of IEC 61000-4-30 clause 5.7 for voltages); infinite when
    /// there is no positive sequence, NaN when there is neither.</summary>
    public double ZeroRatio => Zero.Magnitude / Positive.Magnitude;

    /// <summary>Takes three phasors apart.</summary>
    /// <param name="a">Phasor of line A.</param>
    /// <param name="b">Phasor of line B.</param>
    /// <param name="c">Phasor of line C.</param>
    /// <returns>The components for a supply whose order is A, B, C. On an A, C, B supply the positive and the negative
    /// component change places.</returns>
    public static SequenceComponents Of(Phasor a, Phasor b, Phasor c)
    {
        var mean = (a + b + c) / 3;
        var inPhase = (a - (0.5 * (b + c))) / 3;
        var difference = b - c;
        // j(B − C)·√3/2, the part in which the two rotations differ.
        var quadrature = (HalfRootThree / 3) * new Phasor(-difference.Imaginary, difference.Real);
        return new SequenceComponents(mean, inPhase + quadrature, inPhase - quadrature);
    }

    /// <summary>The three phasors that have these components: the inverse of <see cref="Of"/>.</summary>
    public ThreePhasors ToPhasors()
    {
        var sum = Positive + Negative;
        var difference = Positive - Negative;
        var quadrature = HalfRootThree * new Phasor(-difference.Imaginary, difference.Real);
        var inPhase = Zero - (0.5 * sum);
        return new ThreePhasors(Zero + sum, inPhase - quadrature, inPhase + quadrature);
    }
}
