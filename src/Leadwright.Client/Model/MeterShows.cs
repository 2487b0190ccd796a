namespace Leadwright.Client.Model;

/// <summary>What an instrument shows besides volts and amperes.</summary>
[Flags]
public enum MeterShows
{
    /// <summary>Volts and amperes alone.</summary>
    None = 0,

    /// <summary>Angles of voltages and currents.</summary>
    Angles = 1,

    /// <summary>Watts and vars of each phase.</summary>
    Powers = 2,

    /// <summary>Volt-amperes and power factor of each phase.</summary>
    PowerFactors = 4,

    /// <summary>Volts between two leads, besides those to neutral.</summary>
    BetweenLeads = 8,

    /// <summary>A clamp on the neutral.</summary>
    NeutralClamp = 16,

    /// <summary>Volts from the neutral lead to a ground lead.</summary>
    GroundLead = 32,
}
