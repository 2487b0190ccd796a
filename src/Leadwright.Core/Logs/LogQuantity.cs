namespace Leadwright.Core.Logs;

/// <summary>What a column of logged values holds. Values are in the base unit named with each member.</summary>
public enum LogQuantity
{
    /// <summary>Something else, kept under its own name and unit.</summary>
    Other,

    /// <summary>Voltage, rms, volts.</summary>
    Voltage,

    /// <summary>Current, rms, amperes.</summary>
    Current,

    /// <summary>Active power, watts, positive toward the load.</summary>
    ActivePower,

    /// <summary>Reactive power, vars, positive for a lagging load.</summary>
    ReactivePower,

    /// <summary>Apparent power, volt-amperes.</summary>
    ApparentPower,

    /// <summary>True power factor, −1 to 1.</summary>
    PowerFactor,

    /// <summary>Displacement factor (cos φ of the fundamental), −1 to 1.</summary>
    DisplacementFactor,

    /// <summary>Frequency, hertz.</summary>
    Frequency,

    /// <summary>Active energy, watt-hours.</summary>
    ActiveEnergy,

    /// <summary>Reactive energy, var-hours.</summary>
    ReactiveEnergy,

    /// <summary>Apparent energy, volt-ampere-hours.</summary>
    ApparentEnergy,

    /// <summary>Angle of a voltage, degrees, positive leads.</summary>
    VoltageAngle,

    /// <summary>Angle of a current, degrees, positive leads.</summary>
    CurrentAngle,

    /// <summary>Total harmonic distortion of a voltage, percent of its fundamental.</summary>
    VoltageDistortion,

    /// <summary>Total harmonic distortion of a current, percent of its fundamental.</summary>
    CurrentDistortion,

    /// <summary>One harmonic of a voltage (the column's order), percent of its fundamental.</summary>
    VoltageHarmonic,

    /// <summary>One harmonic of a current (the column's order), percent of its fundamental.</summary>
    CurrentHarmonic,

    /// <summary>Negative-sequence unbalance of the voltages, percent.</summary>
    VoltageUnbalance,

    /// <summary>Negative-sequence unbalance of the currents, percent.</summary>
    CurrentUnbalance,

    /// <summary>Zero-sequence unbalance of the voltages, percent.</summary>
    ZeroSequenceUnbalance,

    /// <summary>Short-term flicker severity Pst.</summary>
    ShortTermFlicker,

    /// <summary>Long-term flicker severity Plt.</summary>
    LongTermFlicker,

    /// <summary>Crest factor of a voltage.</summary>
    VoltageCrest,

    /// <summary>Crest factor of a current.</summary>
    CurrentCrest,

    /// <summary>K-factor of a current.</summary>
    KFactor,
}
