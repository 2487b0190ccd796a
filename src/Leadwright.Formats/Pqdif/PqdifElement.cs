using System.Buffers.Binary;
using System.Globalization;
using System.Text;

namespace Leadwright.Formats.Pqdif;

/// <summary>What an element of a collection is; codes of the standard.</summary>
internal enum PqdifElementType : byte
{
    Collection = 1,
    Scalar = 2,
    Vector = 3,
}

/// <summary>An element as its entry of 28 bytes states it. Nothing behind its link is looked at before it is asked for.</summary>
/// <param name="Body">The record's body.</param>
/// <param name="Tag">What it is.</param>
/// <param name="Type">Collection, scalar or vector.</param>
/// <param name="Physical">How its values are stored.</param>
/// <param name="IsEmbedded">True when the value stands in the entry.</param>
/// <param name="ValueAt">Where in the body the entry's eight bytes of value or link stand.</param>
/// <param name="Depth">How many collections it stands in.</param>
internal readonly record struct PqdifElement(
    PqdifBody Body, Guid Tag, PqdifElementType Type, PqdifPhysicalType Physical, bool IsEmbedded, int ValueAt, int Depth)
{
    private string Field => PqdifTag.NameOf(Tag);

    /// <summary>The collection.</summary>
    public PqdifCollection AsCollection()
    {
        Require(PqdifElementType.Collection);
        if (IsEmbedded) throw Body.Bad("a collection behind a link", "one that claims to stand in its entry", Field);
        var (offset, size) = Link();
        return PqdifCollection.Read(Body, offset, size, Depth + 1, Field);
    }

    /// <summary>The bytes of a scalar.</summary>
    public ReadOnlySpan<byte> ScalarBytes()
    {
        Require(PqdifElementType.Scalar);
        var needed = KnownSize();
        if (IsEmbedded)
        {
            if (needed > 8) throw Body.Bad("a value of at most 8 bytes in the entry", $"{Physical} of {Of(needed)} bytes", Field);
            return Body.Bytes.Slice(ValueAt, needed);
        }

        var (offset, size) = Link();
        if (size < needed) throw Body.Bad($"{Of(needed)} bytes of {Physical}", $"{Of(size)}", Field);
        return Body.Slice(offset, needed, Field);
    }

    /// <summary>The values of a vector, and their number.</summary>
    public ReadOnlySpan<byte> VectorBytes(out int count)
    {
        Require(PqdifElementType.Vector);
        if (IsEmbedded) throw Body.Bad("a vector behind a link", "one that claims to stand in its entry", Field);
        var each = KnownSize();
        var (offset, size) = Link();
        if (size < 4) throw Body.Bad("a vector with its count", $"{Of(size)} bytes", Field);
        count = BinaryPrimitives.ReadInt32LittleEndian(Body.Slice(offset, 4, Field));
        var needed = 4 + ((long)count * each);
        if (count < 0 || needed > size)
            throw Body.Bad($"a count that fits into {Of(size)} bytes", $"{Of(count)} values of {Of(each)} bytes", Field);
        return Body.Slice(offset + 4L, needed - 4, Field);
    }

    /// <summary>A whole number, from any type of whole numbers.</summary>
    public uint AsUnsigned()
    {
        var bytes = ScalarBytes();
        long value = Physical switch
        {
            PqdifPhysicalType.Boolean1 or PqdifPhysicalType.Unsigned1 or PqdifPhysicalType.Char1 => bytes[0],
            PqdifPhysicalType.Boolean2 or PqdifPhysicalType.Unsigned2 => BinaryPrimitives.ReadUInt16LittleEndian(bytes),
            PqdifPhysicalType.Boolean4 or PqdifPhysicalType.Unsigned4 => BinaryPrimitives.ReadUInt32LittleEndian(bytes),
            PqdifPhysicalType.Integer1 => (sbyte)bytes[0],
            PqdifPhysicalType.Integer2 => BinaryPrimitives.ReadInt16LittleEndian(bytes),
            PqdifPhysicalType.Integer4 => BinaryPrimitives.ReadInt32LittleEndian(bytes),
            _ => throw Body.Bad("a whole number", $"{Physical}", Field),
        };
        return value >= 0 ? (uint)value : throw Body.Bad("a number from 0 on", Of(value), Field);
    }

    /// <summary>A number, from any type of numbers.</summary>
    public double AsNumber()
    {
        ReadOnlySpan<byte> bytes = ScalarBytes();
        Span<double> value = stackalloc double[1];
        if (!PqdifNumbers.TryConvert(bytes, Physical, value)) throw Body.Bad("a number", $"{Physical}", Field);
        return value[0];
    }

    /// <summary>An identifier.</summary>
    public Guid AsGuid() =>
        Physical == PqdifPhysicalType.Guid ? new Guid(ScalarBytes()) : throw Body.Bad("an identifier", $"{Physical}", Field);

    /// <summary>A time; null when no calendar has it.</summary>
    public DateTime? AsTime()
    {
        if (Physical != PqdifPhysicalType.Timestamp) throw Body.Bad("a time stamp", $"{Physical}", Field);
        return PqdifTime.Read(ScalarBytes());
    }

    /// <summary>Text up to its closing zero.</summary>
    public string AsText()
    {
        // The header files call some texts scalars: the stored type decides.
        if (Type == PqdifElementType.Scalar) return Of(AsUnsigned());
        var bytes = VectorBytes(out _);
        var text = Physical switch
        {
            PqdifPhysicalType.Char1 => Encoding.Latin1.GetString(bytes),
            PqdifPhysicalType.Char2 => Encoding.Unicode.GetString(bytes),
            _ => throw Body.Bad("text", $"{Physical}", Field),
        };
        var end = text.IndexOf('\0', StringComparison.Ordinal);
        return end < 0 ? text : text[..end];
    }

    private (long Offset, long Size) Link()
    {
        var bytes = Body.Bytes.Slice(ValueAt, 8);
        return (BinaryPrimitives.ReadInt32LittleEndian(bytes), BinaryPrimitives.ReadInt32LittleEndian(bytes[4..]));
    }

    private int KnownSize() => PqdifPhysicalTypes.SizeOf(Physical) is > 0 and var size
        ? size
        : throw Body.Bad("a physical type of the standard", $"number {Of((byte)Physical)}", Field);

    private void Require(PqdifElementType type)
    {
        if (Type != type) throw Body.Bad($"a {type}".ToLowerInvariant(), Type is >= PqdifElementType.Collection and <= PqdifElementType.Vector ? $"a {Type}".ToLowerInvariant() : $"element type {Of((byte)Type)}", Field);
    }

    private static string Of(long value) => value.ToString(CultureInfo.InvariantCulture);
}
