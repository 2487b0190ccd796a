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
}
