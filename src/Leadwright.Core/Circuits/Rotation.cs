namespace Leadwright.Core.Circuits;

/// <summary>The order in which the line voltages pass their peaks.</summary>
public enum Rotation
{
    /// <summary>Not known. The default.</summary>
    Unknown,

    /// <summary>A, then B, then C: B lags A by 120 degrees.</summary>
    Abc,

    /// <summary>A, then C, then B: B leads A by 120 degrees.</summary>
    Acb,
}
