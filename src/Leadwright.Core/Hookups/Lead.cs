namespace Leadwright.Core.Hookups;

/// <summary>A voltage lead of the recorder.</summary>
public enum Lead
{
    /// <summary>The lead that belongs on line A.</summary>
    V1,

    /// <summary>The lead that belongs on line B.</summary>
    V2,

    /// <summary>The lead that belongs on line C.</summary>
    V3,

    /// <summary>The lead that belongs on the neutral, the common point of the voltage inputs.</summary>
    VN,
}
