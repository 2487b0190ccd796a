namespace Leadwright.Formats.Comtrade;

/// <summary>How the samples of a COMTRADE record are written.</summary>
public enum ComtradeDataType
{
    /// <summary>Text, one line a sample.</summary>
    Ascii,

    /// <summary>Binary, 16-bit integers.</summary>
    Binary,

    /// <summary>Binary, 32-bit integers.</summary>
    Binary32,

    /// <summary>Binary, IEEE 754 single precision.</summary>
    Float32,
}
