using System.Buffers.Binary;
using System.Text;

namespace Leadwright.Formats.Pqdif;

/// <summary>Lays out the body of a record: collections, scalars, vectors, padded to four bytes.</summary>
internal sealed class PqdifRecordBuilder
{
    private readonly List<Item> _items = [];

    /// <summary>Adds a whole number.</summary>
    public void Add(Guid tag, uint value) => AddScalar(tag, PqdifPhysicalType.Unsigned4, BitConverter.IsLittleEndian
        ? BitConverter.GetBytes(value) : BitConverter.GetBytes(BinaryPrimitives.ReverseEndianness(value)));

    /// <summary>Adds yes or no.</summary>
    public void Add(Guid tag, bool value)
    {
        Add(tag, value ? 1u : 0u);
        _items[^1] = _items[^1] with { Physical = PqdifPhysicalType.Boolean4 };
    }

    /// <summary>Adds a number.</summary>
    public void Add(Guid tag, double value)
    {
        var bytes = new byte[8];
        BinaryPrimitives.WriteDoubleLittleEndian(bytes, value);
        AddScalar(tag, PqdifPhysicalType.Real8, bytes);
    }

    /// <summary>Adds a short whole number.</summary>
    public void AddShort(Guid tag, short value)
    {
        var bytes = new byte[2];
        BinaryPrimitives.WriteInt16LittleEndian(bytes, value);
        AddScalar(tag, PqdifPhysicalType.Integer2, bytes);
    }

    /// <summary>Adds an identifier.</summary>
    public void Add(Guid tag, Guid value) => AddScalar(tag, PqdifPhysicalType.Guid, value.ToByteArray());

    /// <summary>Adds a time; null for one that is not known.</summary>
    public void Add(Guid tag, DateTime? value)
    {
        var bytes = new byte[PqdifTime.Size];
        PqdifTime.Write(value, bytes);
        AddScalar(tag, PqdifPhysicalType.Timestamp, bytes);
    }

    /// <summary>Adds text: one byte a character where that is enough.</summary>
    public void Add(Guid tag, string value)
    {
        var text = Clean(value) + '\0';
        if (Ascii.IsValid(text)) AddVector(tag, PqdifPhysicalType.Char1, text.Length, Encoding.ASCII.GetBytes(text));
        else AddVector(tag, PqdifPhysicalType.Char2, text.Length, Encoding.Unicode.GetBytes(text));
    }

    /// <summary>Text as it can be stored: without zeros, which end it, and blanks around it.</summary>
    public static string Clean(string value) => value.Replace("\0", "", StringComparison.Ordinal).Trim();

    /// <summary>Adds whole numbers.</summary>
    public void Add(Guid tag, ReadOnlySpan<uint> values)
    {
        var bytes = new byte[4 * values.Length];
        for (var index = 0; index < values.Length; index++) BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(4 * index), values[index]);
        AddVector(tag, PqdifPhysicalType.Unsigned4, values.Length, bytes);
    }

    /// <summary>Adds numbers: in single precision where that loses nothing.</summary>
    public void Add(Guid tag, ReadOnlySpan<double> values)
    {
        var isSingle = true;
        foreach (var value in values) isSingle &= double.IsNaN(value) || (float)value == value;
        var size = isSingle ? 4 : 8;
        var bytes = new byte[size * values.Length];
        for (var index = 0; index < values.Length; index++)
        {
            // One pattern for all missing values: the same rows give the same bytes.
            var value = double.IsNaN(values[index]) ? double.NaN : values[index];
            if (isSingle) BinaryPrimitives.WriteSingleLittleEndian(bytes.AsSpan(4 * index), (float)value);
            else BinaryPrimitives.WriteDoubleLittleEndian(bytes.AsSpan(8 * index), value);
        }

        AddVector(tag, isSingle ? PqdifPhysicalType.Real4 : PqdifPhysicalType.Real8, values.Length, bytes);
    }

    /// <summary>Adds numbers in double precision.</summary>
    public void AddDoubles(Guid tag, params ReadOnlySpan<double> values)
    {
        var bytes = new byte[8 * values.Length];
        for (var index = 0; index < values.Length; index++) BinaryPrimitives.WriteDoubleLittleEndian(bytes.AsSpan(8 * index), values[index]);
        AddVector(tag, PqdifPhysicalType.Real8, values.Length, bytes);
    }

    /// <summary>Adds a collection, and returns it to be filled.</summary>
    public PqdifRecordBuilder Collection(Guid tag)
    {
        var inner = new PqdifRecordBuilder();
        _items.Add(new Item(tag, PqdifElementType.Collection, 0, [], inner));
        return inner;
    }

    /// <summary>The body.</summary>
    public byte[] Build()
    {
        var body = new byte[Size()];
        Write(body, 0);
        return body;
    }

    private static int Padded(int size) => (size + 3) & ~3;

    private void AddScalar(Guid tag, PqdifPhysicalType type, byte[] bytes) => _items.Add(new Item(tag, PqdifElementType.Scalar, type, bytes, null));

    private void AddVector(Guid tag, PqdifPhysicalType type, int count, byte[] values)
    {
        var bytes = new byte[4 + values.Length];
        BinaryPrimitives.WriteInt32LittleEndian(bytes, count);
        values.CopyTo(bytes, 4);
        _items.Add(new Item(tag, PqdifElementType.Vector, type, bytes, null));
    }

    private int Size() => checked(4 + (_items.Count * PqdifBody.EntrySize) + _items.Sum(item => item.Inner?.Size() ?? (item.IsEmbedded ? 0 : Padded(item.Bytes.Length))));

    // A collection stands before what its entries link to.
    private int Write(Span<byte> body, int at)
    {
        BinaryPrimitives.WriteInt32LittleEndian(body[at..], _items.Count);
        var entryAt = at + 4;
        var end = entryAt + (_items.Count * PqdifBody.EntrySize);
        foreach (var item in _items)
        {
            var entry = body.Slice(entryAt, PqdifBody.EntrySize);
            entryAt += PqdifBody.EntrySize;
            item.Tag.TryWriteBytes(entry);
            entry[16] = (byte)item.Type;
            entry[17] = (byte)item.Physical;
            if (item.IsEmbedded)
            {
                entry[18] = 1;
                item.Bytes.CopyTo(entry[20..]);
                continue;
            }

            var start = end;
            if (item.Inner is { } inner)
            {
                end = inner.Write(body, start);
            }
            else
            {
                item.Bytes.CopyTo(body[start..]);
                end += Padded(item.Bytes.Length);
            }

            BinaryPrimitives.WriteInt32LittleEndian(entry[20..], start);
            BinaryPrimitives.WriteInt32LittleEndian(entry[24..], end - start);
        }

        return end;
    }

    private sealed record Item(Guid Tag, PqdifElementType Type, PqdifPhysicalType Physical, byte[] Bytes, PqdifRecordBuilder? Inner)
    {
        public bool IsEmbedded => Type == PqdifElementType.Scalar && Bytes.Length <= 8;
    }
}
