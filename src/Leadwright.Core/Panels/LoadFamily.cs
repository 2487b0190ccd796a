namespace Leadwright.Core.Panels;

/// <summary>The kinds of site that a population is drawn from.</summary>
public enum LoadFamily
{
    /// <summary>Mixed loads: power factor 0.75 to 0.99 lagging, up to ±40 % between the phases.</summary>
    Ordinary,

    /// <summary>Motors: power factor 0.5 to 0.9 lagging.</summary>
    Motors,

    /// <summary>One phase at 5 to 30 % of the others, single-phase loads, power factors wide apart.</summary>
    Unbalanced,

    /// <summary>Generation exceeds the load in all phases or in some.</summary>
    Export,

    /// <summary>Over-compensated by capacitors: power factor 0.7 to 0.98 leading.</summary>
    Leading,

    /// <summary>Currents near the noise: 0.2 to 1.5 % of the clamp rating.</summary>
    Light,

    /// <summary>Rectifiers and drives on a distorted supply.</summary>
    Distorted,
}
