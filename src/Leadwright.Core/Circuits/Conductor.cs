namespace Leadwright.Core.Circuits;

/// <summary>A conductor of the board, by its place in the service: lines A, B, C (IEC: L1, L2, L3), neutral, ground.</summary>
public enum Conductor
{
    /// <summary>Line A (L1).</summary>
    A,

    /// <summary>Line B (L2).</summary>
    B,

    /// <summary>Line C (L3).</summary>
    C,

    /// <summary>Neutral.</summary>
    N,

    /// <summary>Ground (protective conductor).</summary>
    G,
}
