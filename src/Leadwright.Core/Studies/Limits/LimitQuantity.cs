namespace Leadwright.Core.Studies.Limits;

/// <summary>What a limit is about.</summary>
public enum LimitQuantity
{
    /// <summary>Frequency, hertz.</summary>
    Frequency,

    /// <summary>Voltage between the conductors that the channel measures: percent of nominal, or volts.</summary>
    Voltage,

    /// <summary>Voltage between lines, volts.</summary>
    VoltageBetweenLines,

    /// <summary>Voltage from line to neutral, volts.</summary>
    VoltageToNeutral,

    /// <summary>Negative over positive sequence of the voltages, percent.</summary>
    VoltageUnbalance,

    /// <summary>Largest deviation of a line-to-line voltage from their mean, percent of it.</summary>
    VoltageDeviation,

    /// <summary>Total harmonic distortion of the voltage, percent of the fundamental.</summary>
    VoltageDistortion,

    /// <summary>One harmonic of the voltage, percent of the fundamental.</summary>
    VoltageHarmonic,

    /// <summary>One harmonic of the current, percent of the demand current.</summary>
    CurrentHarmonic,

    /// <summary>Total demand distortion of the current, percent of the demand current.</summary>
    CurrentDistortion,

    /// <summary>Long-term flicker severity.</summary>
    LongTermFlicker,

    /// <summary>Short-term flicker severity.</summary>
    ShortTermFlicker,
}
