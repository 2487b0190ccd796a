using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>What the voltage between the neutral lead and a ground lead says of the neutral lead.</summary>
/// <remarks>
/// With VN on the neutral it reads next to nothing: a few volts of drop in the neutral. With VN on a line it reads that line's
/// voltage; with VN in the air, where the inputs drift. A ground lead in the air, or a neutral that is open further up, may read
/// anything. Derivation: docs/methods/services.md, "Neutral to ground". Rates: common practice, no source.
/// </remarks>
internal static class NeutralToGround
{
    private const double UsualDrop = 0.012;
    private const double LargeDrop = 0.05;
    private const double LineDeviation = 0.03;
    private const double FloatDeviation = 0.2;
    private const double BroadRadius = 2.2;

    /// <summary>Logarithm of the density of the reading; 0 where none was read.</summary>
    /// <param name="observation">The readings.</param>
    /// <param name="map">Where the leads are.</param>
    /// <param name="conductors">Potentials of the conductors in units of nominal.</param>
    /// <param name="star">Where the inputs drift to with the neutral lead in the air.</param>
    /// <param name="frame">What one unit is in the readings' frame, in units of nominal.</param>
    public static double LogDensity(Observation observation, LeadMap map, Phasor[] conductors, Phasor star, Phasor frame)
    {
        if (observation.NeutralToGround is not { } read) return 0;
        var service = observation.Service;
        var place = map[Lead.VN];
        if (service.IsThreeWire) place = map.CornerOf(service) is null ? Place.Air : Place.N;
        var size = read.Volts / observation.ReferenceVolts;
        if (place == Place.N)
            return Math.Log((0.85 * Density(read, size, Phasor.Zero, UsualDrop)) + (0.12 * Density(read, size, Phasor.Zero, LargeDrop)) + (0.03 * Broad(read)));
        var (value, deviation, sure) = place == Place.Air ? (star, FloatDeviation, 0.6) : (conductors[place], LineDeviation, 0.9);
        return Math.Log((sure * Density(read, size, frame * value, deviation)) + ((1 - sure) * Broad(read)));
    }

    private static double Density(GroundReading read, double size, Phasor expected, double deviation)
    {
        if (!double.IsNaN(read.AngleRadians))
            return Gauss.PlaneDensity(Phasor.FromRadians(size, read.AngleRadians) - expected, deviation * deviation);
        return (expected == Phasor.Zero ? 2 : 1) * Gauss.Density(size - expected.Magnitude, deviation);
    }

    private static double Broad(GroundReading read) =>
        double.IsNaN(read.AngleRadians) ? 1 / BroadRadius : 1 / (Math.PI * BroadRadius * BroadRadius);
}

/// <summary>The voltage from the neutral lead to a ground lead as read.</summary>
/// <param name="Volts">Size, volts rms.</param>
/// <param name="AngleRadians">Angle, lead positive; NaN when it was not read.</param>
internal readonly record struct GroundReading(double Volts, double AngleRadians);
