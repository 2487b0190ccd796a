namespace Leadwright.Core.Integrity;

/// <summary>What can be wrong over a span of a recording; the names in files are the same words in lower case with hyphens.</summary>
/// <remarks>The first fifteen are the kinds of fault of a hook-up, in the order of <see cref="Hookups.FaultKind"/>.</remarks>
public enum SpanKind
{
    /// <summary>A clamp's arrow points away from the load.</summary>
    ClampReversed,

    /// <summary>Two clamps sit on each other's conductor.</summary>
    ClampsExchanged,

    /// <summary>Three clamps are rotated: each sits on the next conductor.</summary>
    ClampsRotated,

    /// <summary>A clamp surrounds nothing or is not closed; also one that opens slowly: see <see cref="GuardSpan.Gain"/>.</summary>
    ClampOpen,

    /// <summary>Two or more line leads sit on each other's conductor.</summary>
    LeadsExchanged,

    /// <summary>A lead is in the air.</summary>
    LeadOpen,

    /// <summary>A line lead is on the neutral.</summary>
    LeadOnNeutral,

    /// <summary>Two leads are on one conductor.</summary>
    LeadsOnSameConductor,

    /// <summary>Two clamps are on one conductor.</summary>
    ClampsOnSameConductor,

    /// <summary>A line clamp is on the neutral, or the neutral clamp on a line.</summary>
    ClampOnNeutral,

    /// <summary>The neutral lead is in the air.</summary>
    NeutralOpen,

    /// <summary>The neutral lead is on a line, in exchange with that line's lead.</summary>
    NeutralExchanged,

    /// <summary>The voltages come in the other order than the rotation indicator showed.</summary>
    RotationReversed,

    /// <summary>A clamp's ratio or range is set wrong.</summary>
    RatioWrong,

    /// <summary>The readings can't come from the stated service.</summary>
    ServiceMismatch,

    /// <summary>The recorder was off, or lost its memory.</summary>
    NoData,

    /// <summary>The supply really was gone, or one of its phases, or its neutral: the channels say where.</summary>
    Outage,

    /// <summary>A channel stood at the end of its range: it read less than there was.</summary>
    OverRange,

    /// <summary>A channel repeated one value while what it measures moved.</summary>
    Stuck,

    /// <summary>The recorder's clock was set: the span lies between the last time before and the first after.</summary>
    ClockJump,
}
