namespace Leadwright.Core.Circuits;

/// <summary>Unbalance of three sizes, where no angles are known.</summary>
public static class Unbalance
{
    // Rounding may carry three lines that just close their triangle this far beyond the bound.
    private const double RoundingAllowance = 1e-9;

    /// <summary>Negative over positive sequence voltage (u2) from the sizes of the three line-to-line voltages.</summary>
    /// <param name="ab">Volts rms between A and B; zero or more. Fundamentals, strictly; rms values are close.</param>
    /// <param name="bc">Volts rms between B and C.</param>
    /// <param name="ca">Volts rms between C and A.</param>
    /// <returns>u2 as a fraction, 0 to 1, for the rotation that makes it the smaller of the two. NaN when the three
    /// can't be the line-to-line voltages of one circuit (one is larger than the other two together), when all are zero,
    /// and when any is NaN.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A voltage is negative.</exception>
    /// <remarks>
    /// <para>IEC 61000-4-30 clause 5.7.1: β = (AB⁴ + BC⁴ + CA⁴)/(AB² + BC² + CA²)²,
    /// u2 = √((1 − √(3 − 6β))/(1 + √(3 − 6β))).</para>
    /// <para>Balanced lines give 3 − 6β = 1; where rounding carries it past 1, it is taken as 1. Line-to-line voltages hold
    /// no zero sequence: for u0 use <see cref="SequenceComponents"/> of the line-to-neutral phasors.</para>
    /// </remarks>
    public static double NegativeRatioFromLineToLine(double ab, double bc, double ca)
    {
        RequireSizes(ab, bc, ca);
        var largest = Math.Max(ab, Math.Max(bc, ca));
        // Scaled first, so that kilovolts to the fourth power neither overflow nor vanish.
        var (x, y, z) = (Square(ab / largest), Square(bc / largest), Square(ca / largest));
        var beta = (Square(x) + Square(y) + Square(z)) / Square(x + y + z);
        var underRoot = 3 - (6 * beta);
        if (double.IsNaN(underRoot) || underRoot < -RoundingAllowance) return double.NaN;
        var root = Math.Sqrt(Math.Clamp(underRoot, 0, 1));
        return Math.Sqrt((1 - root) / (1 + root));
    }

    /// <summary>Largest deviation from the mean over the mean.</summary>
    /// <param name="first">First size, zero or more; line-to-line volts for the NEMA and ANSI rate.</param>
    /// <param name="second">Second size.</param>
    /// <param name="third">Third size.</param>
    /// <returns>The rate as a fraction, 0 to 2; NaN when all are zero or any is NaN.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A size is negative.</exception>
    /// <remarks>NEMA MG 1 and ANSI C84.1 define it on line-to-line voltages. It is not u2, though close to it when small.</remarks>
    public static double MaximumDeviation(double first, double second, double third)
    {
        RequireSizes(first, second, third);
        var mean = (first + second + third) / 3;
        var deviation = Math.Max(Math.Abs(first - mean), Math.Max(Math.Abs(second - mean), Math.Abs(third - mean)));
        return deviation / mean;
    }

    private static double Square(double value) => value * value;

    private static void RequireSizes(double first, double second, double third)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(Known(first), 0, nameof(first));
        ArgumentOutOfRangeException.ThrowIfLessThan(Known(second), 0, nameof(second));
        ArgumentOutOfRangeException.ThrowIfLessThan(Known(third), 0, nameof(third));
    }

    // NaN compares below zero in ThrowIfLessThan; here it stands for "not known" and passes through to the result.
    private static double Known(double value) => double.IsNaN(value) ? 0 : value;
}
