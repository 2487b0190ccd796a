namespace Leadwright.Core.Signals;

/// <summary>How a snapshot is measured.</summary>
public sealed record SnapshotOptions
{
    /// <summary>The line frequency as stated by a person, hertz; null (the default) takes what the recording states. Used
    /// where the frequency can't be measured, and to tell waveform from single values.</summary>
    public double? StatedFrequencyHertz { get; init; }

    /// <summary>The highest harmonic order wanted, 1 to 50. Default 25; a low rate gives fewer.</summary>
    public int HighestOrder { get; init; } = 25;

    /// <summary>The most that is measured, seconds. Default 10: a snapshot is one state, not a survey.</summary>
    public double LongestSeconds { get; init; } = 10;

    /// <summary>The earliest steady stretch of at least this many cycles is taken. Default 5; where there is none, the
    /// longest is.</summary>
    public int SteadyCycles { get; init; } = 5;

    /// <summary>How far a voltage may move from the mean of its stretch within one cycle, as a fraction of the largest
    /// voltage. Default 0.03.</summary>
    public double VoltageTolerance { get; init; } = 0.03;

    /// <summary>The same for currents, as a fraction of the largest current. Default 0.2.</summary>
    public double CurrentTolerance { get; init; } = 0.2;

    /// <summary>Whether a panel's snapshot looks for switching steps. Default true.</summary>
    public bool FindsSteps { get; init; } = true;
}
