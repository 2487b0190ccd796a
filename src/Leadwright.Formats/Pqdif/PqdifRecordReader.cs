using System.Buffers.Binary;
using System.Globalization;
using System.IO.Compression;

namespace Leadwright.Formats.Pqdif;

/// <summary>A record.</summary>
/// <param name="Type">What it is: a tag.</param>
/// <param name="Offset">Where in the file it begins.</param>
/// <param name="Root">Its collection; to be used up before the next record is read.</param>
internal readonly record struct PqdifRecord(Guid Type, long Offset, PqdifCollection Root);

/// <summary>Reads records one at a time; never holds more than one.</summary>
internal sealed class PqdifRecordReader : IDisposable
{
    /// <summary>Bytes of a record's header.</summary>
    public const int HeaderSize = 64;

    private const int Chunk = 1 << 16;

    private readonly string _source;
    private readonly PqdifReadOptions _options;
    private readonly List<ReadWarning> _warnings;
    private readonly Action<Guid> _unknown;
    private readonly HashSet<long> _visited = [];
    private Stream _stream;
    private ZLibStream? _unpacking;
    private long _position, _next;
    private bool _isFirst = true, _isPacked;
    private byte[] _stored = [], _unpacked = [];

    /// <summary>Begins at the start of a stream.</summary>
    /// <param name="stream">The stream; stays open. Where it can't seek, links must point forward.</param>
    /// <param name="source">Display name.</param>
    /// <param name="options">How to read.</param>
    /// <param name="warnings">Receives what is met and put up with.</param>
    /// <param name="unknown">Receives tags that are none of version 1.5.</param>
    public PqdifRecordReader(Stream stream, string source, PqdifReadOptions options, List<ReadWarning> warnings, Action<Guid> unknown) =>
        (_stream, _source, _options, _warnings, _unknown) = (stream, source, options, warnings, unknown);

    /// <summary>The next record; null after the last.</summary>
    public PqdifRecord? Next()
    {
        if (!_isFirst && _next == 0) return null;
        var offset = _next;
        if (!_visited.Add(offset)) throw Bad(offset, "a record that was not read before", "a link back to it: the records run in a circle");
        MoveTo(offset);
        Span<byte> header = stackalloc byte[HeaderSize];
        var got = Fill(header);
        if (got < HeaderSize)
            throw Bad(offset, "a record header of 64 bytes", got == 0 ? "the end of the file" : $"{Of(got)} bytes: the file is cut short");
        CheckSignature(header, offset);
        var type = new Guid(header[16..32]);
        long headerSize = BinaryPrimitives.ReadUInt32LittleEndian(header[32..]);
        long bodySize = BinaryPrimitives.ReadUInt32LittleEndian(header[36..]);
        var next = BinaryPrimitives.ReadUInt32LittleEndian(header[40..]);
        var checksum = BinaryPrimitives.ReadUInt32LittleEndian(header[44..]);
        if (headerSize is < HeaderSize or > 1 << 16)
        {
            throw Bad(offset, "a header size of 64", Of(headerSize), BinaryPrimitives.ReverseEndianness((uint)headerSize) == HeaderSize
                ? "Its numbers are in the other byte order. PQDIF files are little-endian: export it again." : null);
        }

        MoveTo(offset + headerSize);
        var body = ReadBody(bodySize, offset);
        var root = new PqdifBody(_source, offset, Unpack(body, checksum, offset), _unknown).Root();
        if (_isFirst) Begin(type, offset, root, offset + headerSize + Padded(bodySize));
        _next = next;
        return new PqdifRecord(type, offset, root);
    }

    /// <summary>True when any record can be read again: the stream can seek, and was not packed as a whole.</summary>
    public bool CanReadAgain => _stream.CanSeek && _unpacking is null;

    /// <summary>Reads a record again.</summary>
    /// <param name="offset">Where it begins.</param>
    public PqdifRecord ReadAgain(long offset)
    {
        _visited.Clear();
        _next = offset;
        return Next()!.Value;
    }

    /// <inheritdoc/>
    public void Dispose() => _unpacking?.Dispose();

    private static long Padded(long size) => (size + 3) & ~3L;

    private static string Of(long value) => value.ToString(CultureInfo.InvariantCulture);

    private void CheckSignature(ReadOnlySpan<byte> header, long offset)
    {
        if (new Guid(header[..16]) == PqdifTag.Signature) return;
        var isTurned = new Guid(header[..16], bigEndian: true) == PqdifTag.Signature;
        throw Bad(
            offset, "a record's signature", isTurned ? "the signature in the other byte order" : "something else",
            isTurned ? "PQDIF files are little-endian: export it again." : offset == 0 ? "This is no PQDIF file." : null);
    }

    private void Begin(Guid type, long offset, PqdifCollection root, long end)
    {
        _isFirst = false;
        if (type != PqdifTag.Container) throw Bad(offset, "the container record first", $"a record {PqdifTag.NameOf(type)}");
        var style = root.Unsigned(PqdifTag.CompressionStyleID) ?? 0;
        var algorithm = root.Unsigned(PqdifTag.CompressionAlgorithmID) ?? (style == 0 ? 0u : 1u);
        if (style > 2) throw Bad(offset, "a compression style from 0 to 2", Of(style));
        if (style != 0 && algorithm > 1)
        {
            throw Bad(offset, "zlib compression (algorithm 1)", $"algorithm {Of(algorithm)}",
                "Only a library that is not open can unpack it: export the file again with zlib or without compression.");
        }

        if (style == 0 || algorithm == 0) return;
        if (style == 2)
        {
            _isPacked = true;
            return;
        }

        // All that follows the container is one zlib stream; its links count as if nothing was packed.
        MoveTo(end);
        _unpacking = new ZLibStream(_stream, CompressionMode.Decompress, leaveOpen: true);
        _stream = _unpacking;
        _position = end;
    }

    private void MoveTo(long offset)
    {
        if (offset == _position) return;
        if (_stream.CanSeek)
        {
            if (offset > _stream.Length) throw Bad(offset, $"a link into the file of {Of(_stream.Length)} bytes", $"byte {Of(offset)}", "The file is cut short or damaged: copy it again from the recorder.");
            _stream.Seek(offset - _position, SeekOrigin.Current);
            _position = offset;
            return;
        }

        if (offset < _position) throw Bad(offset, "a link forward, since the file is packed or streamed", "a link back");
        if (offset - _position > _options.MostRecordBytes) throw TooLarge(_position, offset - _position);
        Span<byte> skipped = stackalloc byte[4096];
        while (_position < offset)
        {
            if (Fill(skipped[..(int)Math.Min(skipped.Length, offset - _position)]) == 0)
                throw Bad(offset, "a link into the file", $"its end at byte {Of(_position)}");
        }
    }

    private int Fill(Span<byte> bytes)
    {
        var got = 0;
        try
        {
            while (got < bytes.Length && _stream.Read(bytes[got..]) is > 0 and var count) got += count;
        }
        catch (Exception failure) when (failure is InvalidDataException || (failure is IOException && _unpacking is not null))
        {
            throw new FormatReadException(
                _source, "zlib data", "damaged data", "Copy the file again from the recorder.", byteOffset: _position, innerException: failure);
        }

        _position += got;
        return got;
    }

    // Room grows with what is there, never with what a header claims.
    private ReadOnlyMemory<byte> ReadBody(long size, long offset)
    {
        if (size > _options.MostRecordBytes) throw TooLarge(offset, size);
        if (_stream.CanSeek && _position + size > _stream.Length)
        {
            throw Bad(offset, $"a record of {Of(size)} bytes", $"{Of(_stream.Length - _position)} bytes to the end of the file",
                "The file is cut short: copy it again from the recorder.");
        }

        var count = 0;
        while (count < size)
        {
            var wanted = (int)Math.Min(size, Math.Max(Chunk, 2L * count));
            if (_stored.Length < wanted) Array.Resize(ref _stored, wanted);
            var got = Fill(_stored.AsSpan(count, wanted - count));
            if (got < wanted - count)
                throw Bad(offset, $"a record of {Of(size)} bytes", $"{Of(count + got)} bytes to the end of the file", "The file is cut short: copy it again from the recorder.");
            count = wanted;
        }

        return _stored.AsMemory(0, (int)size);
    }

    private ReadOnlyMemory<byte> Unpack(ReadOnlyMemory<byte> stored, uint checksum, long offset)
    {
        var body = _isPacked ? Inflate(stored, offset) : stored;
        // What the sum covers is not said clearly: either reading counts, and 0 is no sum.
        if (checksum != 0 && checksum != Adler32.Of(body.Span) && (!_isPacked || checksum != Adler32.Of(stored.Span)))
            _warnings.Add(new ReadWarning($"The checksum of the record at byte {Of(offset)} does not fit its content: compare it with the recorder's own figures.", ByteOffset: offset));
        return body;
    }

    private ReadOnlyMemory<byte> Inflate(ReadOnlyMemory<byte> stored, long offset)
    {
        var count = 0;
        try
        {
            using var packed = new MemoryStream(_stored, 0, stored.Length, writable: false);
            using var stream = new ZLibStream(packed, CompressionMode.Decompress);
            while (true)
            {
                if (count == _unpacked.Length) Array.Resize(ref _unpacked, (int)Math.Min(_options.MostRecordBytes + 1L, Math.Max(Chunk, 2L * count)));
                var got = stream.Read(_unpacked, count, _unpacked.Length - count);
                if (got == 0) break;
                count += got;
                if (count > _options.MostRecordBytes) throw TooLarge(offset, count);
            }
        }
        catch (Exception failure) when (failure is InvalidDataException or IOException)
        {
            throw new FormatReadException(
                _source, "zlib data in the record", "damaged data", "Copy the file again from the recorder.", byteOffset: offset, innerException: failure);
        }

        var body = _unpacked.AsMemory(0, count);
        // A stream that was cut short ends without a sound: its own checksum is then missing from the end (padding may follow it).
        Span<byte> sum = stackalloc byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(sum, Adler32.Of(body.Span));
        if (stored.Span[^Math.Min(8, stored.Length)..].IndexOf(sum) < 0)
            throw Bad(offset, "zlib data with its checksum at the end", "data that is cut short or damaged", "Copy the file again from the recorder.");
        return body;
    }

    private FormatReadException TooLarge(long offset, long size) => Bad(
        offset, $"a record of at most {Of(_options.MostRecordBytes)} bytes", $"{Of(size)} or more", "The file is damaged, or made to fill the memory.");

    private FormatReadException Bad(long offset, string expected, string found, string? hint = null) => new(
        _source, expected, found, hint ?? "The file is damaged or was not written by the standard: export it again.", byteOffset: offset);
}
