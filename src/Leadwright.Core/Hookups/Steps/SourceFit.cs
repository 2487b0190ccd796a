using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Steps;

/// <summary>Impedances that fit the steps and that a panel may have.</summary>
internal static class SourceFit
{
    // Passes over the impedances; each is at most as bad as the one before.
    private const int Rounds = 6;

    /// <summary>Holds impedances to what a panel may have: none is a source, a capacitor or larger than what still feeds it.</summary>
    /// <param name="impedances">The best fit without limits; becomes the best within them.</param>
    /// <param name="grams">Products of what they drop, square.</param>
    /// <param name="projection">What of the voltages' changes they explain.</param>
    /// <param name="floor">Added to the diagonal, so that what no step tells of stays finite.</param>
    /// <param name="largest">Size of the largest impedance.</param>
    /// <remarks>Where two answer for one another, cutting off one of them leaves a fit worse than none: the best within the limits is come to conductor by conductor
    /// (projected Gauss–Seidel; the limits hold for each by itself, so that it ends at the least square).</remarks>
    public static void HoldToLimits(Span<Phasor> impedances, ReadOnlySpan<Phasor> grams, ReadOnlySpan<Phasor> projection, double floor, double largest)
    {
        var count = impedances.Length;
        foreach (ref var impedance in impedances) impedance = Held(impedance, largest);
        for (var round = 0; round < Rounds; round++)
        {
            for (var one = 0; one < count; one++)
            {
                var value = projection[one];
                for (var other = 0; other < count; other++)
                {
                    if (other != one) value -= grams[(one * count) + other] * impedances[other];
                }

                impedances[one] = Held(value / (grams[one * (count + 1)].Real + floor), largest);
            }
        }
    }

    private static Phasor Held(Phasor impedance, double largest)
    {
        impedance = new Phasor(Math.Max(0, impedance.Real), Math.Max(0, impedance.Imaginary));
        return impedance.Magnitude > largest ? largest / impedance.Magnitude * impedance : impedance;
    }
}
