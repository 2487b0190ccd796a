namespace Leadwright.Core.Signals;

/// <summary>Where a snapshot's frequency comes from.</summary>
public enum FrequencyOrigin
{
    /// <summary>Measured from the samples.</summary>
    Measured,

    /// <summary>Not measurable (too short, or no clear fundamental); the stated line frequency was taken.</summary>
    Stated,

    /// <summary>Neither measurable nor stated; of 50 and 60 Hz the one that the samples hold more of was taken.</summary>
    Assumed,
}
