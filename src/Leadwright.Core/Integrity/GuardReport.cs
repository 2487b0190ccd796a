using System.Collections.Immutable;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Integrity;

/// <summary>What the guard can't judge in a recording.</summary>
public enum GuardNoteKind
{
    /// <summary>There are no voltages: leads can't be judged.</summary>
    NoVoltages,

    /// <summary>There are no currents: clamps can't be judged.</summary>
    NoCurrents,

    /// <summary>There are no powers of the phases: turned and moved clamps show in the total alone, or not at all.</summary>
    NoPhasePowers,

    /// <summary>There are no vars: the direction of a turn of the power is open.</summary>
    NoVars,

    /// <summary>There are too few intervals to judge the hook-up.</summary>
    TooFewIntervals,

    /// <summary>The hook-up of the longest piece could not be settled; changes are told against it.</summary>
    HookupUndecided,
}

/// <summary>The answer of the guard.</summary>
/// <param name="From">Start of the recording, by the recorder's clock.</param>
/// <param name="To">End of the recording.</param>
/// <param name="Spans">Everything that did not tell the truth, and every outage, in the order of their starts.</param>
/// <param name="Timeline">The history of the hook-up.</param>
/// <param name="Usable">For each channel of the recording (V1 to V3, V12 to V31, I1 to IN) the share of the time from <paramref name="From"/> to
/// <paramref name="To"/> over which it told the truth or can be set right exactly, 0 to 1.</param>
/// <param name="Notes">What could not be judged.</param>
public sealed record GuardReport(
    DateTime From,
    DateTime To,
    ImmutableArray<GuardSpan> Spans,
    HookupTimeline Timeline,
    ImmutableSortedDictionary<Channel, double> Usable,
    ImmutableArray<GuardNoteKind> Notes);
