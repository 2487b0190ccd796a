using System.Buffers.Binary;

namespace Leadwright.Formats.Pqdif;

/// <summary>Turns stored numbers into doubles.</summary>
internal static class PqdifNumbers
{
    /// <summary>Converts values.</summary>
    /// <param name="bytes">The stored values.</param>
    /// <param name="type">How they are stored.</param>
    /// <param name="values">Receives them; its length says how many.</param>
    /// <returns>False when the type holds no plain numbers.</returns>
    public static bool TryConvert(ReadOnlySpan<byte> bytes, PqdifPhysicalType type, Span<double> values)
    {
        switch (type)
        {
            case PqdifPhysicalType.Boolean1 or PqdifPhysicalType.Unsigned1:
                for (var index = 0; index < values.Length; index++) values[index] = bytes[index];
                return true;
            case PqdifPhysicalType.Integer1:
                for (var index = 0; index < values.Length; index++) values[index] = (sbyte)bytes[index];
                return true;
            case PqdifPhysicalType.Boolean2 or PqdifPhysicalType.Unsigned2:
                for (var index = 0; index < values.Length; index++) values[index] = BinaryPrimitives.ReadUInt16LittleEndian(bytes[(2 * index)..]);
                return true;
            case PqdifPhysicalType.Integer2:
                for (var index = 0; index < values.Length; index++) values[index] = BinaryPrimitives.ReadInt16LittleEndian(bytes[(2 * index)..]);
                return true;
            case PqdifPhysicalType.Boolean4 or PqdifPhysicalType.Unsigned4:
                for (var index = 0; index < values.Length; index++) values[index] = BinaryPrimitives.ReadUInt32LittleEndian(bytes[(4 * index)..]);
                return true;
            case PqdifPhysicalType.Integer4:
                for (var index = 0; index < values.Length; index++) values[index] = BinaryPrimitives.ReadInt32LittleEndian(bytes[(4 * index)..]);
                return true;
            case PqdifPhysicalType.Real4:
                for (var index = 0; index < values.Length; index++) values[index] = BinaryPrimitives.ReadSingleLittleEndian(bytes[(4 * index)..]);
                return true;
            case PqdifPhysicalType.Real8:
                for (var index = 0; index < values.Length; index++) values[index] = BinaryPrimitives.ReadDoubleLittleEndian(bytes[(8 * index)..]);
                return true;
            default:
                return false;
        }
    }
}
