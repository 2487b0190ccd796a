using System.Collections.Immutable;

namespace Leadwright.Core.Hookups;

/// <summary>How voltages and currents change from one logged interval to the next: what switching loads leaves in logged values.</summary>
/// <remarks>
/// A log has sizes and powers, no phasors. A voltage's change is known along the voltage only; a current's change is known in the frame of
/// the voltage that the recorder holds its clamp against, from watts and vars. Rows that changes are taken from are chosen by the
/// currents alone, so that the choice says nothing of the voltages. Method: docs/methods/switching-steps.md.
/// </remarks>
public sealed record LoggedChanges
{
    /// <summary>The voltage channels.</summary>
    public required ImmutableArray<Channel> Voltages { get; init; }

    /// <summary>The clamps.</summary>
    public required ImmutableArray<Clamp> Clamps { get; init; }

    /// <summary>The changes of the voltages, volts; a row of channels for each change.</summary>
    public required ImmutableArray<double> Volts { get; init; }

    /// <summary>The changes of each clamp's current in phase with its own voltage, amperes; a row of clamps for each change.</summary>
    public required ImmutableArray<double> InPhase { get; init; }

    /// <summary>The changes of each clamp's current a quarter cycle behind its own voltage, amperes; same shape.</summary>
    public required ImmutableArray<double> Lagging { get; init; }

    /// <summary>For each clamp, what is known of its current.</summary>
    public required ImmutableArray<LoggedCurrent> Known { get; init; }

    /// <summary>Mean of each voltage, volts.</summary>
    public required ImmutableArray<double> MeanVolts { get; init; }

    /// <summary>How far each voltage moves for itself between intervals in which the currents hardly change: standard deviation as a
    /// share of the voltage.</summary>
    public required double OwnWandering { get; init; }

    /// <summary>The same of what all voltages share.</summary>
    public required double CommonWandering { get; init; }

    /// <summary>How far each clamp's current moves in most intervals, amperes.</summary>
    public required ImmutableArray<double> CurrentNoise { get; init; }

    /// <summary>The changes of the voltages, volts, by far more than they wander, while no clamp's current changes; a row of channels for each. A neighbour's loads and
    /// the supply do that, and the loads of a line whose clamp surrounds nothing.</summary>
    public ImmutableArray<double> Unclaimed { get; init; } = [];

    /// <summary>In how many intervals a clamp's current changed by far more than it usually does.</summary>
    public int ClaimedCount { get; init; }

    /// <summary>The largest mean current of each clamp, in the order of <see cref="Clamps"/>, amperes as read.</summary>
    public required ImmutableArray<double> LargestAmperes { get; init; }

    /// <summary>Length of an interval, seconds.</summary>
    public required double IntervalSeconds { get; init; }

    /// <summary>True when intervals are so short that a load's switching stands out of the supply's own wandering.</summary>
    public bool IsTelling => IntervalSeconds <= 60 && Count > 0;

    /// <summary>Number of changes.</summary>
    public int Count => Clamps.IsEmpty ? 0 : InPhase.Length / Clamps.Length;

    /// <summary>The same of some clamps alone, for a service that does not have the others.</summary>
    /// <param name="clamps">The clamps that are kept.</param>
    /// <returns>Null when none of them is there.</returns>
    internal LoggedChanges? Of(IReadOnlyCollection<Clamp> clamps)
    {
        int[] kept = [.. Enumerable.Range(0, Clamps.Length).Where(clamp => clamps.Contains(Clamps[clamp]))];
        if (kept.Length == Clamps.Length) return this;
        return kept.Length == 0 ? null : this with
        {
            Clamps = Each(Clamps),
            InPhase = EachRow(InPhase),
            Lagging = EachRow(Lagging),
            Known = Each(Known),
            CurrentNoise = Each(CurrentNoise),
            LargestAmperes = Each(LargestAmperes),
        };

        ImmutableArray<T> Each<T>(ImmutableArray<T> all) => [.. kept.Select(clamp => all[clamp])];

        ImmutableArray<double> EachRow(ImmutableArray<double> all) => [.. Enumerable.Range(0, Count).SelectMany(change => kept.Select(clamp => all[(change * Clamps.Length) + clamp]))];
    }
}

/// <summary>What a log tells of a clamp's current.</summary>
public enum LoggedCurrent
{
    /// <summary>Its part in phase and its lagging part, with their signs.</summary>
    Vector,

    /// <summary>Its part in phase with sign, and the size of the other part: leading and lagging look alike.</summary>
    EitherSide,

    /// <summary>Its size only.</summary>
    Size,
}
