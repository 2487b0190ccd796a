namespace Leadwright.Core.Measuring;

/// <summary>What a reader of a value must know about it.</summary>
[Flags]
public enum ValueMarks
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>A dip lasted within it (flagged, IEC 61000-4-30 clause 4.7).</summary>
    Dip = 1,

    /// <summary>A swell lasted within it (flagged).</summary>
    Swell = 2,

    /// <summary>An interruption lasted within it (flagged).</summary>
    Interruption = 4,

    /// <summary>Samples are missing within it.</summary>
    Gap = 8,

    /// <summary>The recording covers less than the whole of it.</summary>
    Partial = 16,

    /// <summary>No voltage to follow: the frequency is that of before.</summary>
    FrequencyHeld = 32,
}
