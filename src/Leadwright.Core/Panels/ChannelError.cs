namespace Leadwright.Core.Panels;

/// <summary>The error of one input of an instrument.</summary>
/// <param name="GainFraction">Excess of what it reads, such as 0.01 for one percent more.</param>
/// <param name="AngleDegrees">Excess of the angle it reads, at every harmonic alike; positive leads.</param>
public readonly record struct ChannelError(double GainFraction, double AngleDegrees);
