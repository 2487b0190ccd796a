using System.Collections.Immutable;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Mending.Answers;

/// <summary>What was done to a part of a recording.</summary>
public enum CorrectionKind
{
    /// <summary>Clamps were turned round: the sign of their power was changed.</summary>
    ClampReversed,

    /// <summary>Clamps were put back to their conductors.</summary>
    ClampsExchanged,

    /// <summary>Three clamps, each on the next conductor, were put back.</summary>
    ClampsRotated,

    /// <summary>Leads were put back to their conductors.</summary>
    LeadsExchanged,

    /// <summary>The neutral lead was put back, or its fall undone.</summary>
    NeutralLead,

    /// <summary>A clamp's ratio or range was set right.</summary>
    RatioWrong,

    /// <summary>A clamp that opened slowly was divided by what was left of it.</summary>
    ClampOpening,

    /// <summary>A lead's voltage was rebuilt from the others.</summary>
    LeadOpen,

    /// <summary>A clamp's current was rebuilt from the others by Kirchhoff's law.</summary>
    CurrentFromOthers,

    /// <summary>Power of a phase whose current is known was rebuilt with its learnt power factor.</summary>
    PowerFromCurrent,

    /// <summary>Power of a phase was rebuilt from its learnt share.</summary>
    PowerFromShare,

    /// <summary>Power of a phase beyond the range of its clamp was rebuilt from its learnt share, and is at least what was shown.</summary>
    OverRange,

    /// <summary>Intervals without rows were filled from the same hours of like days.</summary>
    NoData,

    /// <summary>The clock was set: no time was counted twice or as missing.</summary>
    ClockJump,
}

/// <summary>On what a correction rests.</summary>
public enum CorrectionBasis
{
    /// <summary>On arithmetic with what was measured.</summary>
    Exact,

    /// <summary>On a model learnt from the rest of the recording.</summary>
    Modelled,
}

/// <summary>A correction of a part of a recording; a layer over it, which itself stays as it was.</summary>
/// <param name="Kind">What was done.</param>
/// <param name="Leads">The leads concerned.</param>
/// <param name="Clamps">The clamps concerned.</param>
/// <param name="From">Start of the first interval, by the recorder's clock.</param>
/// <param name="To">End of the last.</param>
/// <param name="Basis">On what it rests.</param>
public sealed record Correction(
    CorrectionKind Kind, ImmutableArray<Lead> Leads, ImmutableArray<Clamp> Clamps, DateTime From, DateTime To, CorrectionBasis Basis)
{
    /// <summary>By what readings were divided; NaN where that does not apply.</summary>
    public double Factor { get; init; } = double.NaN;

    /// <summary>How many values of power were set.</summary>
    public int Intervals { get; init; }

    /// <summary>By how much the energy of the service changed through it, watt-hours; NaN where it is not told.</summary>
    public double WattHours { get; init; } = double.NaN;

    /// <summary>Standard uncertainty of that, watt-hours; 0 where only rounding is left.</summary>
    public double UncertaintyWattHours { get; init; }

    /// <summary>How many times the same hole was made in the good part and predicted, to measure the uncertainty; 0 where it was not.</summary>
    public int Trials { get; init; }

    /// <summary>True where nothing was there to learn from, and an ordinary power factor or the mean of the other phases was taken.</summary>
    public bool IsGuess { get; init; }
}
