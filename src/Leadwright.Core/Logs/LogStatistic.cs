namespace Leadwright.Core.Logs;

/// <summary>What a logged value says of its interval.</summary>
public enum LogStatistic
{
    /// <summary>Mean over the interval (rms of rms values for voltages and currents).</summary>
    Mean,

    /// <summary>Smallest value within it.</summary>
    Minimum,

    /// <summary>Largest value within it.</summary>
    Maximum,

    /// <summary>The value at one moment of it.</summary>
    Instant,

    /// <summary>What flowed within it: an energy of the interval alone.</summary>
    Amount,

    /// <summary>The stand of a counter at its end.</summary>
    Counter,
}
