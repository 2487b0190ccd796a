namespace Leadwright.Core.Circuits;

/// <summary>One phasor for each line.</summary>
/// <param name="A">Line A (L1).</param>
/// <param name="B">Line B (L2).</param>
/// <param name="C">Line C (L3).</param>
public readonly record struct ThreePhasors(Phasor A, Phasor B, Phasor C);
