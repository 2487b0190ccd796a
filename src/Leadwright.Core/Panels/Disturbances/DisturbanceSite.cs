namespace Leadwright.Core.Panels.Disturbances;

/// <summary>A virtual site with a disturbance of which everything is known.</summary>
/// <param name="Kind">What happens.</param>
/// <remarks>
/// A source behind two impedances, with a neighbour's load between them; the recorder; a feeder; a load of constant impedance and, at some sites, a running motor that feeds back. 230 V to neutral, four wires.
/// Impedances are ohms at the nominal frequency.
/// </remarks>
public sealed record DisturbanceSite(DisturbanceKind Kind)
{
    /// <summary>Nominal frequency, hertz.</summary>
    public double NominalHertz { get; init; } = 50;

    /// <summary>Frequency of the source, hertz.</summary>
    public double Hertz { get; init; } = 50;

    /// <summary>Samples per second.</summary>
    public double RateHertz { get; init; } = 6400;

    /// <summary>Resistance and reactance of the source.</summary>
    public (double Ohms, double Reactance) Source { get; init; }

    /// <summary>Share of the source's impedance that lies ahead of the neighbour.</summary>
    public double NeighbourShare { get; init; } = 0.5;

    /// <summary>Resistance and reactance between recorder and load.</summary>
    public (double Ohms, double Reactance) Feeder { get; init; }

    /// <summary>The neighbour's load.</summary>
    public (double Ohms, double Reactance) Neighbour { get; init; }

    /// <summary>The load, phase by phase.</summary>
    public IReadOnlyList<(double Ohms, double Reactance)> Load { get; init; } = [];

    /// <summary>Transient reactance of the running motor; 0 for none.</summary>
    public double MotorReactance { get; init; }

    /// <summary>Fifth and seventh harmonic of the source, fraction of its fundamental.</summary>
    public (double Fifth, double Seventh) Harmonics { get; init; }

    /// <summary>Start, seconds.</summary>
    public double StartSeconds { get; init; } = 1;

    /// <summary>Length of a fault, seconds.</summary>
    public double FaultSeconds { get; init; } = 0.2;

    /// <summary>Length of the recording, seconds.</summary>
    public double Seconds { get; init; } = 2.5;

    /// <summary>Type of a dip of the supply, A to G.</summary>
    public char Letter { get; init; } = 'A';

    /// <summary>Symmetrical phase of that dip, 0 to 2; first phase of a fault.</summary>
    public int Phase { get; init; }

    /// <summary>Characteristic voltage of that dip and its angle in degrees.</summary>
    public (double Fraction, double Degrees) Characteristic { get; init; } = (0.6, 0);

    /// <summary>Phases of a fault: 1 to the neutral, 2 to each other, 3 to the neutral.</summary>
    public int FaultPhases { get; init; } = 1;

    /// <summary>Resistance of a fault.</summary>
    public double FaultOhms { get; init; } = 0.1;

    /// <summary>Resistance of rotor and stator at rest and reactance of the motor that starts; its time to run up at full voltage, seconds.</summary>
    public (double Stator, double Rotor, double Reactance, double Seconds) Starting { get; init; }

    /// <summary>Resistance and saturated reactance of the transformer; its knee, per unit of the nominal flux.</summary>
    public (double Ohms, double Reactance, double Knee) Core { get; init; }

    /// <summary>Flux left in the transformer's phases, per unit.</summary>
    public IReadOnlyList<double> Remanence { get; init; } = [0, 0, 0];

    /// <summary>Capacitive reactance of the bank and the resistance in its leads.</summary>
    public (double Reactance, double Ohms) Bank { get; init; }

    /// <summary>Time by which the second and the third phase close later than the first, seconds.</summary>
    public (double Second, double Third) Stagger { get; init; }

    /// <summary>Noise of each sample, fraction of the nominal peak of its channel.</summary>
    public double Noise { get; init; } = 2e-4;

    /// <summary>Seed of the noise.</summary>
    public ulong Seed { get; init; }

    /// <summary>True when it comes from the supply's side of the recorder.</summary>
    public bool IsAhead => Kind is DisturbanceKind.SupplyDip or DisturbanceKind.NeighbourFault or DisturbanceKind.NeighbourMotorStart or DisturbanceKind.NeighbourTransformer or DisturbanceKind.CapacitorAhead;
}
