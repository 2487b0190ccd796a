using System.Buffers.Binary;
using System.IO.Compression;

namespace Leadwright.Formats.Pqdif;

/// <summary>Writes records one after the other; the last one is held back until it is known whether another follows.</summary>
internal sealed class PqdifRecordWriter(Stream stream, bool isPacked)
{
    private byte[]? _header;
    private ReadOnlyMemory<byte> _body;
    private long _offset;
    private bool _isFirst = true;

    /// <summary>Adds a record.</summary>
    /// <param name="type">What it is: a tag.</param>
    /// <param name="builder">Its content.</param>
    /// <exception cref="IOException">The file would grow beyond what its links can reach.</exception>
    public void Add(Guid type, PqdifRecordBuilder builder)
    {
        var plain = builder.Build();
        // The container says how the others are packed, so it is not.
        var body = isPacked && !_isFirst ? Pack(plain) : plain;
        Flush(isLast: false);
        _isFirst = false;
        _header = new byte[PqdifRecordReader.HeaderSize];
        PqdifTag.Signature.TryWriteBytes(_header);
        type.TryWriteBytes(_header.AsSpan(16));
        BinaryPrimitives.WriteInt32LittleEndian(_header.AsSpan(32), PqdifRecordReader.HeaderSize);
        BinaryPrimitives.WriteInt32LittleEndian(_header.AsSpan(36), body.Length);
        BinaryPrimitives.WriteUInt32LittleEndian(_header.AsSpan(44), Adler32.Of(plain));
        _body = body;
    }

    /// <summary>Writes the last record.</summary>
    public void Complete() => Flush(isLast: true);

    private static ReadOnlyMemory<byte> Pack(byte[] plain)
    {
        using var packed = new MemoryStream();
        using (var stream = new ZLibStream(packed, CompressionLevel.Optimal, leaveOpen: true)) stream.Write(plain);
        return packed.GetBuffer().AsMemory(0, (int)packed.Length);
    }

    private void Flush(bool isLast)
    {
        if (_header is null) return;
        var padding = -_body.Length & 3;
        var next = _offset + _header.Length + _body.Length + padding;
        if (next > int.MaxValue) throw new IOException("A PQDIF file can't grow beyond 2 GB: write a shorter part of the recording, or longer intervals.");
        BinaryPrimitives.WriteInt32LittleEndian(_header.AsSpan(40), isLast ? 0 : (int)next);
        stream.Write(_header);
        stream.Write(_body.Span);
        stream.Write(stackalloc byte[padding]);
        (_offset, _header) = (next, null);
    }
}
