namespace Leadwright.Core.Panels.Weeks;

/// <summary>What stands behind the switchboard of a virtual week.</summary>
public enum SiteKind
{
    /// <summary>Lighting and machines of an office: quiet nights and weekends.</summary>
    Office,

    /// <summary>Motors of a workshop: one shift on weekdays.</summary>
    Workshop,

    /// <summary>A dwelling, or several: mornings and evenings.</summary>
    Dwelling,

    /// <summary>A farm: milking, ventilation, pumps.</summary>
    Farm,

    /// <summary>A shop with refrigeration, open six days.</summary>
    Shop,
}

/// <summary>Which quantities the recorder of a virtual week writes.</summary>
public enum WeekColumns
{
    /// <summary>Volts, amperes, watts, vars, volt-amperes and power factor of each phase, frequency, totals and a counter.</summary>
    Everything,

    /// <summary>Volts, amperes, watts and vars of each phase.</summary>
    VoltsAmperesWattsVars,

    /// <summary>Volts, amperes and watts of each phase.</summary>
    VoltsAmperesWatts,

    /// <summary>Volts and amperes.</summary>
    VoltsAmperes,

    /// <summary>Watts of each phase.</summary>
    Watts,

    /// <summary>Total watts and vars, and a counter.</summary>
    Totals,
}
