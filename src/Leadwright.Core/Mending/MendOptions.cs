using Leadwright.Core.Circuits;

namespace Leadwright.Core.Mending;

/// <summary>What a mending is told beyond the recording and the guard's answer.</summary>
public sealed record MendOptions
{
    /// <summary>The service.</summary>
    public required ServiceKind Service { get; init; }

    /// <summary>Nominal voltages; null when not stated: the level of the readings is then taken.</summary>
    public NominalVoltage? Nominal { get; init; }

    /// <summary>Probability with which the interval of the energy covers the true one; above 0, below 1. Default 0.95.</summary>
    public double Coverage { get; init; } = 0.95;

    /// <summary>Accuracy of recorder and clamps together, percent of the energy, taken for a limit of equal chances within; 0 leaves it out. Default 0.</summary>
    public double AccuracyPercent { get; init; }

    /// <summary>Length of a demand interval, minutes. Default 15.</summary>
    public double DemandMinutes { get; init; } = 15;

    /// <summary>Probability that the supply was out too where the recorder was off for up to four hours: a recorder that is fed from the panel stops
    /// with it. It is a fifth of that for longer ones. Default 0.3, assumed.</summary>
    public double OutageInGap { get; init; } = 0.3;
}
