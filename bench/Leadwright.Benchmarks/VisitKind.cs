namespace Leadwright.Benchmarks;

/// <summary>What a person has in hand at the panel: the service, and what the instrument shows.</summary>
public enum VisitKind
{
    /// <summary>Three-phase four-wire, volts and amperes with angles: the twelve numbers.</summary>
    WyeTwelveNumbers,

    /// <summary>The same with the powers and the volts between the leads.</summary>
    WyeEverything,

    /// <summary>The same with a neutral clamp.</summary>
    WyeNeutralClamp,

    /// <summary>Volts, amperes, watts and vars without an angle.</summary>
    WyeWattsOnly,

    /// <summary>Volts, amperes and watts alone: each angle may lie on either side.</summary>
    WyeWattsWithoutVars,

    /// <summary>Everything, but nobody says which signs and references the instrument uses: each has to be tried.</summary>
    WyeConventionsUnstated,

    /// <summary>Three-wire, three clamps.</summary>
    Delta,

    /// <summary>Three-wire, two clamps.</summary>
    DeltaTwoClamp,

    /// <summary>Single-phase three-wire.</summary>
    Split,

    /// <summary>Single-phase two-wire.</summary>
    Single,
}
