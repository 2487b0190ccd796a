namespace Leadwright.Core.Panels.Disturbances;

/// <summary>Draws virtual sites with disturbances. The ranges are common practice, no source.</summary>
/// <param name="Seed">The same seed gives the same sites.</param>
public sealed record DisturbancePopulation(ulong Seed)
{
    private const double Volts = 230;

    /// <summary>A site.</summary>
    /// <param name="kind">What happens there.</param>
    /// <param name="index">Its number.</param>
    public DisturbanceSite Site(DisturbanceKind kind, int index)
    {
        var random = new SeededRandom(Seed).Fork(((ulong)kind * 1_000_003) + (ulong)index);
        var hertz = random.Chance(0.5) ? 50 : 60.0;
        var load = Volts / random.LogUniform(20, 400);
        var source = Impedance(load * random.LogUniform(0.01, 0.06), random.LogUniform(0.4, 5));
        var feeder = Impedance(load * random.LogUniform(0.002, 0.03), random.LogUniform(0.2, 2));
        var motorShare = random.Chance(0.5) ? random.Uniform(0.1, 0.7) : 0;
        var degrees = random.Uniform(5, 35);
        var size = Math.Sqrt((source.Ohms * source.Ohms) + (source.Reactance * source.Reactance));
        var characteristic = (random.Uniform(0.15, 0.85), -random.Uniform(0, 25));
        var depth = random.Uniform(0.12, 0.28);
        var share = random.Uniform(0.3, 0.9);
        // Ahead of the recorder only a part of the source's impedance makes the dip.
        var ahead = kind is DisturbanceKind.NeighbourMotorStart or DisturbanceKind.NeighbourTransformer ? size * share : size;
        var starting = ahead * (1 - depth) / depth;
        return new DisturbanceSite(kind)
        {
            NominalHertz = hertz,
            Hertz = hertz + (0.03 * random.Gaussian()),
            Source = source,
            NeighbourShare = share,
            Feeder = feeder,
            Neighbour = Impedance(load * random.LogUniform(0.3, 3), Math.Tan(random.Uniform(5, 35) * Math.PI / 180)),
            Load = [.. Enumerable.Range(0, 3).Select(_ => Impedance(load / (1 - motorShare) * random.Uniform(0.85, 1.15), Math.Tan((degrees + random.Uniform(-4, 4)) * Math.PI / 180)))],
            MotorReactance = motorShare > 0 ? 0.2 * load / motorShare : 0,
            Harmonics = (random.Uniform(0, 0.03), random.Uniform(0, 0.02)),
            StartSeconds = 1 + random.Uniform(0, 1 / hertz),
            FaultSeconds = random.LogUniform(0.06, 0.6),
            Seconds = kind is DisturbanceKind.MotorStart or DisturbanceKind.NeighbourMotorStart ? 4.5 : 2.6,
            Letter = DipShape.Letters[random.Below(7)],
            Phase = random.Below(3),
            Characteristic = characteristic,
            FaultPhases = random.NextUnit() switch { < 0.6 => 1, < 0.85 => 2, _ => 3 },
            FaultOhms = size * random.LogUniform(0.15, 3),
            Starting = (0.1 * starting, 0.25 * starting * random.Uniform(0.7, 1.5), starting * random.Uniform(0.85, 1), random.LogUniform(0.25, 2)),
            Core = (ahead * random.Uniform(0.3, 1), ahead * random.Uniform(1.2, 3.5), random.Uniform(1.1, 1.25)),
            Remanence = [random.Uniform(-0.7, 0.7), random.Uniform(-0.7, 0.7), random.Uniform(-0.7, 0.7)],
            Bank = (load / random.LogUniform(0.15, 0.8), 0.002 * load),
            Stagger = random.Chance(0.5) ? (0, 0) : (random.Uniform(0, 0.004), random.Uniform(0, 0.004)),
            Seed = random.NextBits(),
        };
    }

    private static (double Ohms, double Reactance) Impedance(double size, double ratio)
    {
        var ohms = size / Math.Sqrt(1 + (ratio * ratio));
        return (ohms, ohms * ratio);
    }
}
