using System.Collections.Immutable;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending.Answers;

namespace Leadwright.Core.Mending;

/// <summary>The answer of a mending.</summary>
/// <param name="From">Start of the recording, by the recorder's clock.</param>
/// <param name="To">End of the recording.</param>
/// <param name="Log">The mended table: the columns of the recording, with rows for the intervals that were missing. NaN where a value can't be had.</param>
/// <param name="Standings">For each column of <paramref name="Log"/> how far each value may be trusted.</param>
/// <param name="Corrections">What was done, in the order of time.</param>
/// <param name="Unmendable">What can't be known.</param>
/// <param name="Energy">Energy of the whole span; null when the recording has no power.</param>
/// <param name="Before">Figures of the recording as it stands.</param>
/// <param name="After">Figures of the mended one.</param>
public sealed record MendReport(
    DateTime From,
    DateTime To,
    IntervalLog Log,
    ImmutableDictionary<int, ReadOnlyMemory<Standing>> Standings,
    ImmutableArray<Correction> Corrections,
    ImmutableArray<Unmendable> Unmendable,
    MendedEnergy? Energy,
    LoadFigures Before,
    LoadFigures After)
{
    /// <summary>True when more than one hook-up may have been, or nothing could be judged.</summary>
    public bool IsUndecided { get; init; }

    /// <summary>True when nothing that was written tells whether leads and clamps were in place: the energy takes for granted that they were.</summary>
    public bool IsUnjudged { get; init; }

    /// <summary>True when something was found that can't be mended, as what a clamp that was off did not see. That the recording never held something is none.</summary>
    public bool HasUnmendableFault =>
        Unmendable.Any(entry => entry.Reason is UnmendableReason.VoltageQuality or UnmendableReason.CurrentQuality or UnmendableReason.BeyondRange or UnmendableReason.RecorderOff);

    /// <summary>What the guard could not judge, and so could not be mended.</summary>
    public ImmutableArray<GuardNoteKind> Unjudged { get; init; } = [];
}
