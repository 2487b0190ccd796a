namespace Leadwright.Core.Circuits;

/// <summary>The readings of two wattmeters on a three-wire load.</summary>
/// <param name="HigherOnLag">The meter that reads higher on a lagging load; watts, either sign.</param>
/// <param name="LowerOnLag">The other meter; watts, either sign.</param>
public readonly record struct WattmeterPair(double HigherOnLag, double LowerOnLag);
