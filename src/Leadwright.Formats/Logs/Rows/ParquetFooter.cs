using System.Buffers.Binary;

namespace Leadwright.Formats.Logs.Rows;

/// <summary>Looks a Parquet footer through before the library gets it, which can run without end on a damaged tree of columns.</summary>
/// <remarks>Source: Apache Parquet format (parquet.thrift) and Thrift compact protocol. Only what keeps the library from running on is checked.</remarks>
internal ref struct ParquetFooter
{
    private const int List9 = 9, Struct12 = 12;

    private const int TailLength = 8;
    private const int MostDepth = 24;

    private readonly ReadOnlySpan<byte> _bytes;
    private int _at;
    private long _wanted;
    private bool _isSchemaSound;
    private bool _isPage;
    private long _packed, _whole, _plain;

    private ParquetFooter(ReadOnlySpan<byte> bytes)
    {
        _bytes = bytes;
        _wanted = 1;
        _isSchemaSound = true;
    }

    /// <summary>True when the footer is whole and its tree of columns ends.</summary>
    /// <param name="stream">The file, from its start; left there.</param>
    public static bool IsSound(Stream stream)
    {
        if (stream.Length < TailLength + 4) return false;
        Span<byte> tail = stackalloc byte[TailLength];
        stream.Position = stream.Length - TailLength;
        stream.ReadExactly(tail);
        var length = BinaryPrimitives.ReadUInt32LittleEndian(tail);
        if (!tail[4..].SequenceEqual("PAR1"u8) || length == 0 || length > stream.Length - TailLength - 4) return false;
        var bytes = new byte[length];
        stream.Position = stream.Length - TailLength - length;
        stream.ReadExactly(bytes);
        stream.Position = 0;
        var footer = new ParquetFooter(bytes);
        return footer.Struct(0, ParquetPart.Root) && footer._isSchemaSound && footer._wanted == 0;
    }

    /// <summary>Reads the header of a page.</summary>
    /// <param name="bytes">The bytes from its start.</param>
    /// <param name="length">Bytes of the header.</param>
    /// <param name="packed">Bytes of the page behind it.</param>
    /// <param name="whole">Bytes that it becomes.</param>
    /// <param name="plain">Bytes of the page that are not packed: the levels of the second kind of page stand before its values.</param>
    public static bool TryPage(ReadOnlySpan<byte> bytes, out int length, out long packed, out long whole, out long plain)
    {
        var header = new ParquetFooter(bytes) { _isPage = true, _packed = -1, _whole = -1 };
        var isSound = header.Struct(0, ParquetPart.Page);
        (length, packed, whole, plain) = (header._at, header._packed, header._whole, header._plain);
        return isSound;
    }

    private bool Struct(int depth, ParquetPart part)
    {
        if (depth > MostDepth) return false;
        var isElement = part == ParquetPart.Element;
        var field = 0;
        var children = 0L;
        while (true)
        {
            if (_at >= _bytes.Length) return false;
            var header = _bytes[_at++];
            if (header == 0) break;
            if (header >> 4 != 0) field += header >> 4;
            else if (Signed(out var number) && number is > 0 and <= short.MaxValue) field = (int)number;
            else return false;
            // The library counts fields in sixteen bits.
            if (field > short.MaxValue) return false;
            var type = header & 0x0F;
            var stated = ParquetLayout.FieldOf(part, field);
            if (!stated.Takes(type)) return false;
            if (_isPage && depth == 0 && field is 2 or 3)
            {
                if (!Signed(out var size)) return false;
                if (field == 2) _whole = size;
                else _packed = size;
            }
            else if (part == ParquetPart.DataPage2 && field is 5 or 6)
            {
                if (!Signed(out var levels)) return false;
                _plain += levels;
            }
            else if (isElement && field == 5)
            {
                if (!Signed(out children)) return false;
            }
            else if (!Value(type, depth + 1, stated))
            {
                return false;
            }
        }

        if (isElement)
        {
            // Columns stand parents first: each takes a place that was open, and opens as many as it has children.
            _isSchemaSound &= children is >= 0 and < 100_000 && _wanted > 0;
            _wanted += children - 1;
        }

        return true;
    }

    private bool Value(int type, int depth, ParquetField stated) => type switch
    {
        1 or 2 => true,
        3 => Skip(1),
        4 or 5 or 6 => Signed(out _),
        7 => Skip(8),
        8 => Unsigned(out var length) && length <= (ulong)_bytes.Length && Skip((int)length),
        List9 => List(depth, stated),
        Struct12 => Struct(depth, stated.Part),
        _ => false,
    };

    private bool List(int depth, ParquetField stated)
    {
        if (depth > MostDepth || _at >= _bytes.Length) return false;
        var header = _bytes[_at++];
        var count = (ulong)(header >> 4);
        if (count == 15 && !Unsigned(out count)) return false;
        // Each element has a byte at least.
        if (count > (ulong)(_bytes.Length - _at)) return false;
        if (count > 0 && !stated.TakesElement(header & 0x0F)) return false;
        for (; count > 0; count--)
        {
            if (!Value(header & 0x0F, depth + 1, stated)) return false;
        }

        return true;
    }

    private bool Skip(int count)
    {
        if (count > _bytes.Length - _at) return false;
        _at += count;
        return true;
    }

    private bool Signed(out long value)
    {
        var isSound = Unsigned(out var zigzag);
        value = (long)(zigzag >> 1) ^ -(long)(zigzag & 1);
        return isSound;
    }

    private bool Unsigned(out ulong value)
    {
        value = 0;
        for (var shift = 0; shift < 70 && _at < _bytes.Length; shift += 7)
        {
            var unit = _bytes[_at++];
            value |= (ulong)(unit & 0x7F) << shift;
            if (unit < 0x80) return true;
        }

        return false;
    }
}
