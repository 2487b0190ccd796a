namespace Leadwright.Core.Panels;

/// <summary>How far one phase of the supply stands from its nominal place.</summary>
/// <param name="Fraction">Excess of its size over the nominal value, such as 0.01 for one percent more.</param>
/// <param name="AngleDegrees">Excess of its angle; positive leads.</param>
public readonly record struct PhaseDeviation(double Fraction, double AngleDegrees);
