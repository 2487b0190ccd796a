namespace Leadwright.Core.Hookups;

/// <summary>A current clamp of the recorder.</summary>
public enum Clamp
{
    /// <summary>The clamp that belongs on line A.</summary>
    I1,

    /// <summary>The clamp that belongs on line B.</summary>
    I2,

    /// <summary>The clamp that belongs on line C.</summary>
    I3,

    /// <summary>The clamp that belongs on the neutral.</summary>
    IN,
}
