using System.Collections.Immutable;

namespace Leadwright.Core.Mending.Answers;

/// <summary>Figures of a recording, before or after mending.</summary>
/// <param name="WattHours">Energy.</param>
/// <param name="PeakWatts">Largest mean power of a demand interval; NaN when there is none. Estimated intervals never set it.</param>
/// <param name="PeakAt">Start of that interval.</param>
/// <param name="PowerFactor">Energy over what voltage and current could have carried; NaN when not known.</param>
/// <param name="CurrentUnbalancePercent">Largest deviation of a phase's mean current from the mean of them, percent of the mean; NaN when not known.</param>
/// <param name="VoltageUnbalancePercent">The same of the voltages.</param>
/// <param name="PhaseWattHours">Energy by phase; empty when not known.</param>
public sealed record LoadFigures(
    double WattHours, double PeakWatts, DateTime PeakAt, double PowerFactor, double CurrentUnbalancePercent, double VoltageUnbalancePercent,
    ImmutableArray<double> PhaseWattHours)
{
    /// <summary>True when intervals were estimated or lost, or the demand interval is longer than asked for, so that the true peak may be larger.</summary>
    public bool PeakIsAtLeast { get; init; }

    /// <summary>Largest mean power of a demand interval of each phase for itself, as <see cref="PeakWatts"/>; NaN when there is none. At least that wherever <see cref="PeakIsAtLeast"/> is true.</summary>
    public ImmutableArray<double> PhasePeakWatts { get; init; } = [];

    /// <summary>Each phase's energy over what its voltage and current could have carried; NaN when not known, as on three wires, where an element is no phase.</summary>
    public ImmutableArray<double> PhasePowerFactors { get; init; } = [];

    /// <summary>Length of the demand interval that was used, minutes: the one asked for, or the shortest whole multiple of it that intervals make up.</summary>
    public double PeakMinutes { get; init; }
}
