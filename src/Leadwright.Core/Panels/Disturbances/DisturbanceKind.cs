namespace Leadwright.Core.Panels.Disturbances;

/// <summary>What happens at a virtual site.</summary>
public enum DisturbanceKind
{
    /// <summary>A dip of the supply: its source follows one of the types A to G.</summary>
    SupplyDip,

    /// <summary>A fault in the network ahead of the recorder, beside other loads.</summary>
    NeighbourFault,

    /// <summary>A fault behind the recorder that is cleared.</summary>
    FeederFault,

    /// <summary>A motor starts behind the recorder.</summary>
    MotorStart,

    /// <summary>A motor starts at a neighbour ahead of the recorder.</summary>
    NeighbourMotorStart,

    /// <summary>A transformer is switched on behind the recorder.</summary>
    TransformerEnergising,

    /// <summary>A transformer is switched on at a neighbour ahead of the recorder.</summary>
    NeighbourTransformer,

    /// <summary>A capacitor bank is switched on behind the recorder.</summary>
    CapacitorBehind,

    /// <summary>A capacitor bank is switched on ahead of the recorder.</summary>
    CapacitorAhead,
}
