namespace Leadwright.Formats.Pqdif;

/// <summary>How a scalar or a vector is stored; codes of the standard.</summary>
internal enum PqdifPhysicalType : byte
{
    Boolean1 = 1,
    Boolean2 = 2,
    Boolean4 = 3,
    Char1 = 10,
    Char2 = 11,
    Integer1 = 20,
    Integer2 = 21,
    Integer4 = 22,
    Unsigned1 = 30,
    Unsigned2 = 31,
    Unsigned4 = 32,
    Real4 = 40,
    Real8 = 41,
    Complex8 = 42,
    Complex16 = 43,
    Timestamp = 50,
    Guid = 60,
}

/// <summary>Sizes of physical types.</summary>
internal static class PqdifPhysicalTypes
{
    /// <summary>Bytes of one value; 0 for a type that the standard doesn't have.</summary>
    public static int SizeOf(PqdifPhysicalType type) => type switch
    {
        PqdifPhysicalType.Boolean1 or PqdifPhysicalType.Char1 or PqdifPhysicalType.Integer1 or PqdifPhysicalType.Unsigned1 => 1,
        PqdifPhysicalType.Boolean2 or PqdifPhysicalType.Char2 or PqdifPhysicalType.Integer2 or PqdifPhysicalType.Unsigned2 => 2,
        PqdifPhysicalType.Boolean4 or PqdifPhysicalType.Integer4 or PqdifPhysicalType.Unsigned4 or PqdifPhysicalType.Real4 => 4,
        PqdifPhysicalType.Real8 or PqdifPhysicalType.Complex8 => 8,
        PqdifPhysicalType.Timestamp => 12,
        PqdifPhysicalType.Complex16 or PqdifPhysicalType.Guid => 16,
        _ => 0,
    };
}
