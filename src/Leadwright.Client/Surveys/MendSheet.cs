using System.Collections.Immutable;

namespace Leadwright.Client.Surveys;

/// <summary>A mending with its layers, as the host sends it.</summary>
public sealed record MendAnswer
{
    /// <summary>Number of the journal's last entry when it was made.</summary>
    public long Sequence { get; init; }

    /// <summary>The mending with the layers that are on, schema <c>leadwright.mend/1</c>.</summary>
    public MendSheet Mend { get => field ?? new(); init; }

    /// <summary>Every layer that there is, on or off.</summary>
    public ImmutableArray<MendLayer> Layers { get => field.IsDefault ? [] : field; init; }
}

/// <summary>A correction as a layer that can be switched.</summary>
/// <param name="Id">Its name in the survey.</param>
/// <param name="Correction">What it does.</param>
/// <param name="IsOn">True while it counts.</param>
public sealed record MendLayer(string Id, CorrectionSheet Correction, bool IsOn)
{
    /// <summary>True when it can be switched off: what follows from a finding that a person may reject.</summary>
    public bool CanSwitch { get; init; }

    /// <summary>Why it was switched last; empty when it never was.</summary>
    public string Why { get => field ?? ""; init; }

    /// <summary>By whom.</summary>
    public string Who { get => field ?? ""; init; }

    /// <summary>When it was switched last; null when it never was.</summary>
    public DateTimeOffset? At { get; init; }
}

/// <summary>How a layer is switched.</summary>
/// <param name="Id">The layer.</param>
/// <param name="IsOn">True to let it count.</param>
/// <param name="Why">The reason, for the journal.</param>
/// <param name="Sequence">The journal's last entry that the person saw.</param>
public sealed record LayerSwitch(string Id, bool IsOn, string Why, long Sequence);

/// <summary>The answer of a mending, schema <c>leadwright.mend/1</c>.</summary>
public sealed record MendSheet
{
    /// <summary>Start of the recording.</summary>
    public DateTime From { get; init; }

    /// <summary>Its end.</summary>
    public DateTime To { get; init; }

    /// <summary>The energy of the whole span; null without power.</summary>
    public MendEnergySheet? Energy { get; init; }

    /// <summary>What was done.</summary>
    public ImmutableArray<CorrectionSheet> Corrections { get => field.IsDefault ? [] : field; init; }

    /// <summary>What the corrections without an energy of their own changed together, in words; empty where each has one.</summary>
    public string TogetherSays { get => field ?? ""; init; }

    /// <summary>What can't be known.</summary>
    public ImmutableArray<UnmendableSheet> Unmendable { get => field.IsDefault ? [] : field; init; }

    /// <summary>Figures of the recording as it stands.</summary>
    public FiguresSheet? Before { get; init; }

    /// <summary>Figures of the mended one.</summary>
    public FiguresSheet? After { get; init; }

    /// <summary>True when more than one hook-up may have been.</summary>
    public bool Undecided { get; init; }

    /// <summary>True when nothing tells whether leads and clamps were in place.</summary>
    public bool Unjudged { get; init; }

    /// <summary>What a person must know of how the file was read.</summary>
    public ImmutableArray<string> Notes { get => field.IsDefault ? [] : field; init; }
}

/// <summary>Energy with its interval.</summary>
public sealed record MendEnergySheet
{
    /// <summary>What the recorder's values sum to, kilowatt-hours.</summary>
    public double? RecordedKwh { get; init; }

    /// <summary>The estimate of the true energy.</summary>
    public double? MendedKwh { get; init; }

    /// <summary>Lower end of the interval.</summary>
    public double? LowKwh { get; init; }

    /// <summary>Upper end.</summary>
    public double? HighKwh { get; init; }

    /// <summary>Probability with which the interval covers the true energy.</summary>
    public double Coverage { get; init; }
}

/// <summary>A correction.</summary>
public sealed record CorrectionSheet
{
    /// <summary>What was done, as <c>clamp-reversed</c>.</summary>
    public string Kind { get => field ?? ""; init; }

    /// <summary>The leads and clamps concerned.</summary>
    public ImmutableArray<string> Channels { get => field.IsDefault ? [] : field; init; }

    /// <summary>Start.</summary>
    public DateTime From { get; init; }

    /// <summary>End.</summary>
    public DateTime To { get; init; }

    /// <summary>On what it rests: <c>exact</c> or <c>modelled</c>.</summary>
    public string Basis { get => field ?? ""; init; }

    /// <summary>By how much the energy changed through it, kilowatt-hours; null where not told.</summary>
    public double? Kwh { get; init; }

    /// <summary>Standard uncertainty of that.</summary>
    public double? UncertaintyKwh { get; init; }

    /// <summary>Start of the event as the guard dates it, where the rows about it were touched too; null where it is that of the correction.</summary>
    public DateTime? EventFrom { get; init; }

    /// <summary>Its end.</summary>
    public DateTime? EventTo { get; init; }

    /// <summary>The findings of the guard that it follows from; none where it is itself the answer to one.</summary>
    public ImmutableArray<GuardSpanSheet> FollowsFrom { get => field.IsDefault ? [] : field; init; }

    /// <summary>True when it reaches over the row in which something changed.</summary>
    public bool HoldsChange { get; init; }

    /// <summary>In words.</summary>
    public string Says { get => field ?? ""; init; }
}

/// <summary>Something that can't be mended.</summary>
public sealed record UnmendableSheet
{
    /// <summary>Why, as <c>ratio-side-open</c>.</summary>
    public string Reason { get => field ?? ""; init; }

    /// <summary>Start.</summary>
    public DateTime From { get; init; }

    /// <summary>End.</summary>
    public DateTime To { get; init; }

    /// <summary>Start of the event as the guard dates it, where the rows about it are concerned too; null where it is its own.</summary>
    public DateTime? EventFrom { get; init; }

    /// <summary>Its end.</summary>
    public DateTime? EventTo { get; init; }

    /// <summary>In words.</summary>
    public string Says { get => field ?? ""; init; }
}

/// <summary>Figures of a load, before or after.</summary>
public sealed record FiguresSheet
{
    /// <summary>Energy, kilowatt-hours.</summary>
    public double? Kwh { get; init; }

    /// <summary>Largest demand, kilowatts.</summary>
    public double? PeakKw { get; init; }

    /// <summary>When it was.</summary>
    public DateTime? PeakAt { get; init; }

    /// <summary>Over how many minutes it is the mean.</summary>
    public double PeakMinutes { get; init; }

    /// <summary>True when it is a lower bound.</summary>
    public bool PeakIsAtLeast { get; init; }

    /// <summary>Power factor of the whole.</summary>
    public double? PowerFactor { get; init; }

    /// <summary>Unbalance of the currents, percent.</summary>
    public double? CurrentUnbalancePercent { get; init; }

    /// <summary>Unbalance of the voltages, percent.</summary>
    public double? VoltageUnbalancePercent { get; init; }

    /// <summary>Energy of each phase, kilowatt-hours.</summary>
    public ImmutableArray<double> PhaseKwh { get => field.IsDefault ? [] : field; init; }

    /// <summary>Largest demand of each phase for itself, kilowatts; null where there is none.</summary>
    public ImmutableArray<double?> PhasePeakKw { get => field.IsDefault ? [] : field; init; }

    /// <summary>Energy over apparent energy of each phase; null where it is not known.</summary>
    public ImmutableArray<double?> PhasePowerFactor { get => field.IsDefault ? [] : field; init; }
}
