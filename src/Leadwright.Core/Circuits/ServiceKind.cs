namespace Leadwright.Core.Circuits;

/// <summary>The kinds of electrical service that a recorder is hung on.</summary>
public enum ServiceKind
{
    /// <summary>Three-phase, four-wire wye: lines A, B, C and neutral. The contract's <c>wye</c>.</summary>
    Wye,

    /// <summary>Three-phase, three-wire, a clamp on each line. The contract's <c>delta</c>.</summary>
    Delta,

    /// <summary>Three-phase, three-wire, clamps 1 and 3 only (two-element metering). The contract's <c>delta-two-clamp</c>.</summary>
    DeltaTwoClamp,

    /// <summary>Single-phase, three-wire: two legs half a cycle apart and neutral. The contract's <c>split</c>.</summary>
    Split,

    /// <summary>Single-phase, two-wire: line A and neutral. The contract's <c>single</c>.</summary>
    Single,

    /// <summary>Three-phase, four-wire delta whose neutral is the middle of one winding: two lines half a cycle apart to neutral, and
    /// the high leg, B by the usual rule, 90 degrees from both at √3 times their voltage. The contract's <c>high-leg</c>.</summary>
    HighLeg,

    /// <summary>Two lines and the neutral of a wye service, 120 degrees apart: <c>network</c>, the trade's word for it in
    /// apartment buildings fed at 120/208 V.</summary>
    Network,
}
