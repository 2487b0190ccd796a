using System.Globalization;

namespace Leadwright.Formats.Pqdif;

/// <summary>The body of one record, unpacked.</summary>
internal sealed class PqdifBody
{
    /// <summary>Bytes of an entry of a collection.</summary>
    public const int EntrySize = 28;

    // Two links may lead to one collection; a record that holds itself would have no end.
    private const int SharedEntries = 1_000_000;

    private readonly string _source;
    private readonly long _recordOffset;
    private readonly ReadOnlyMemory<byte> _bytes;
    private long _entriesLeft;

    /// <summary>Wraps the bytes.</summary>
    /// <param name="source">Display name of the file.</param>
    /// <param name="recordOffset">Where in the file the record begins.</param>
    /// <param name="bytes">The body.</param>
    /// <param name="unknown">Receives tags that are none of version 1.5.</param>
    public PqdifBody(string source, long recordOffset, ReadOnlyMemory<byte> bytes, Action<Guid> unknown)
    {
        (_source, _recordOffset, _bytes, Unknown) = (source, recordOffset, bytes, unknown);
        _entriesLeft = SharedEntries + (bytes.Length / EntrySize);
    }

    /// <summary>Receives tags that are none of version 1.5.</summary>
    public Action<Guid> Unknown { get; }

    /// <summary>The bytes.</summary>
    public ReadOnlySpan<byte> Bytes => _bytes.Span;

    /// <summary>The collection that the body begins with.</summary>
    public PqdifCollection Root() => PqdifCollection.Read(this, 0, _bytes.Length, 0, "record");

    /// <summary>A part of the body; never outside it.</summary>
    public ReadOnlySpan<byte> Slice(long offset, long length, string field)
    {
        if (offset < 0 || length < 0 || offset + length > _bytes.Length)
        {
            throw Bad(
                string.Create(CultureInfo.InvariantCulture, $"a link into the record's {_bytes.Length} bytes"),
                string.Create(CultureInfo.InvariantCulture, $"bytes {offset} to {offset + length}"), field);
        }

        return _bytes.Span.Slice((int)offset, (int)length);
    }

    /// <summary>Takes note of entries that are read: their number is bounded, whatever links lead to them.</summary>
    public void Take(int entries, string field)
    {
        _entriesLeft -= entries;
        if (_entriesLeft < 0) throw Bad("collections that do not hold themselves", "more entries than the record has room for", field);
    }

    /// <summary>Says what is wrong with the record.</summary>
    public FormatReadException Bad(string expected, string found, string? field = null, string? hint = null) => new(
        _source, expected, found, hint ?? "The file is damaged or was not written by the standard: export it again.", field: field, byteOffset: _recordOffset);
}
