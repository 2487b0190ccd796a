namespace Leadwright.Core.Panels;

/// <summary>The slips that happen when leads and clamps are put on.</summary>
public enum SlipKind
{
    /// <summary>A clamp faces the source.</summary>
    ClampReversed,

    /// <summary>Two clamps on each other's conductor.</summary>
    ClampsExchanged,

    /// <summary>All three clamps rotated: each on the next conductor.</summary>
    ClampsRotated,

    /// <summary>All clamps face the source.</summary>
    AllClampsReversed,

    /// <summary>A clamp on nothing, or not closed.</summary>
    ClampOpen,

    /// <summary>A line lead in the air.</summary>
    LeadOpen,

    /// <summary>Two line leads on each other's conductor.</summary>
    LeadsExchanged,

    /// <summary>All three line leads rotated: each on the next conductor.</summary>
    LeadsRotated,

    /// <summary>The neutral lead in the air.</summary>
    NeutralOpen,

    /// <summary>The neutral lead and a line lead on each other's conductor.</summary>
    NeutralExchanged,

    /// <summary>A line lead on the conductor of another line lead.</summary>
    LeadsOnSameConductor,

    /// <summary>A clamp on the conductor of another clamp.</summary>
    ClampsOnSameConductor,

    /// <summary>A line clamp on the neutral.</summary>
    ClampOnNeutral,

    /// <summary>A line lead on the neutral.</summary>
    LeadOnNeutral,

    /// <summary>One clamp or all of them set to a range ten times too large or too small.</summary>
    RatioWrong,
}
