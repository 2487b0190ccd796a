namespace Leadwright.Core.Signals;

/// <summary>Why no snapshot could be measured.</summary>
public enum SnapshotRefusal
{
    /// <summary>It could.</summary>
    None,

    /// <summary>The recording holds no samples, or no channel was chosen.</summary>
    NoSamples,

    /// <summary>No part of it has eight samples a cycle.</summary>
    RateTooLow,

    /// <summary>No part of it that has eight samples a cycle lasts for one cycle.</summary>
    TooShort,

    /// <summary>Every window of every chosen channel holds missing samples.</summary>
    AllMissing,
}
