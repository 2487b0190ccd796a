using System.Collections.Immutable;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Mending.Answers;

/// <summary>Why something can't be known.</summary>
public enum UnmendableReason
{
    /// <summary>There is no power in the recording: from rms voltages and currents alone kilowatts can't be had.</summary>
    NoPower,

    /// <summary>Only totals were written: what one phase read is not in them; while a lead or a clamp was not in place they are estimated.</summary>
    TotalsOnly,

    /// <summary>Watts without signed vars: a wrong pairing turns the power by an angle that needs them.</summary>
    NoVars,

    /// <summary>The lead's own waveform: dips, harmonics, flicker and unbalance are gone with it.</summary>
    VoltageQuality,

    /// <summary>The clamp's own waveform: harmonics and the largest values are gone with it.</summary>
    CurrentQuality,

    /// <summary>What was beyond the range.</summary>
    BeyondRange,

    /// <summary>What happened while the recorder was off: its peak, its events, whether the supply was on.</summary>
    RecorderOff,

    /// <summary>There is no good part to learn from: bounds only.</summary>
    NothingToLearnFrom,

    /// <summary>What is missing is longer than the good part: what was learnt there could not be tried out on such a hole, so that its uncertainty is assumed.</summary>
    TooLongToTry,

    /// <summary>More than one hook-up fits the readings, and they give different energies.</summary>
    HookupOpen,

    /// <summary>All clamps went to another ratio at once, to the end or from the beginning: which of the two was right does not show.</summary>
    RatioSideOpen,
}

/// <summary>Something that can't be mended.</summary>
/// <param name="Reason">Why.</param>
/// <param name="Leads">The leads concerned.</param>
/// <param name="Clamps">The clamps concerned.</param>
/// <param name="From">Start, by the recorder's clock.</param>
/// <param name="To">End.</param>
public sealed record Unmendable(UnmendableReason Reason, ImmutableArray<Lead> Leads, ImmutableArray<Clamp> Clamps, DateTime From, DateTime To);
