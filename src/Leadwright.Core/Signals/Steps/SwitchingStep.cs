using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Signals.Steps;

/// <summary>One lasting change of the currents at one time: a load that was switched.</summary>
/// <param name="Seconds">When, seconds after the recording's start.</param>
/// <param name="Changes">Change of each channel's phasor, after minus before, volts or amperes rms; all in one frame of angles.</param>
/// <param name="Before">The phasors before it, in the same frame.</param>
public sealed record SwitchingStep(double Seconds, ImmutableArray<Phasor> Changes, ImmutableArray<Phasor> Before);

/// <summary>The switching steps of a recording, with how quiet the rest of it is.</summary>
public sealed record SwitchingSteps
{
    /// <summary>The channels, in the order of <see cref="SwitchingStep.Changes"/>.</summary>
    public required ImmutableArray<SignalKind> Kinds { get; init; }

    /// <summary>The steps, in order of time.</summary>
    public required ImmutableArray<SwitchingStep> Steps { get; init; }

    /// <summary>Changes of single voltages at which no current changed: a load that no clamp reads, or a neighbour's.</summary>
    public required ImmutableArray<SwitchingStep> Unclaimed { get; init; }

    /// <summary>Changes of the voltages that came from the supply and took the load along; they are left out of <see cref="Steps"/>.</summary>
    public required int SupplyChanges { get; init; }

    /// <summary>Changes of a voltage by a thousandth and more at which no current changed, the unclaimed ones among them.</summary>
    public required int VoltageChanges { get; init; }

    /// <summary>How far two means of a voltage differ where nothing is switched, each for itself, what all voltages share taken
    /// off: standard deviation of real and imaginary part together, as a fraction of the largest voltage.</summary>
    public required double OwnWandering { get; init; }

    /// <summary>The same of what all voltages share.</summary>
    public required double CommonWandering { get; init; }

    /// <summary>The same of each channel, in its unit; of voltages everything together.</summary>
    public required ImmutableArray<double> Noise { get; init; }

    /// <summary>Seconds that were looked through.</summary>
    public required double Seconds { get; init; }
}
