namespace Leadwright.Formats.Text;

/// <summary>A part of a stream as a stream of its own, for reading; it closes the whole with itself unless that is to stay open.</summary>
/// <param name="whole">The whole; nobody else reads it meanwhile.</param>
/// <param name="start">Where the part starts.</param>
/// <param name="length">Its length.</param>
/// <param name="head">Bytes that are read before the part, such as the headings of a table.</param>
/// <param name="staysOpen">True when the whole is not closed with the part.</param>
internal sealed class StreamSection(Stream whole, long start, long length, ReadOnlyMemory<byte> head = default, bool staysOpen = false) : Stream
{
    private long _position;

    public override bool CanRead => true;

    public override bool CanSeek => true;

    public override bool CanWrite => false;

    public override long Length => head.Length + length;

    public override long Position
    {
        get => _position;
        set
        {
            ArgumentOutOfRangeException.ThrowIfNegative(value);
            _position = value;
        }
    }

    public override int Read(Span<byte> buffer)
    {
        var wanted = (int)Math.Min(buffer.Length, Math.Max(Length - _position, 0));
        if (wanted == 0) return 0;
        if (_position < head.Length)
        {
            var taken = head.Span[(int)_position..];
            if (taken.Length > wanted) taken = taken[..wanted];
            taken.CopyTo(buffer);
            _position += taken.Length;
            return taken.Length;
        }

        var at = start + _position - head.Length;
        if (whole.Position != at) whole.Position = at;
        var count = whole.Read(buffer[..wanted]);
        _position += count;
        return count;
    }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override long Seek(long offset, SeekOrigin origin) => Position = origin switch
    {
        SeekOrigin.Begin => offset,
        SeekOrigin.Current => _position + offset,
        _ => Length + offset,
    };

    public override void Flush()
    {
    }

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing && !staysOpen) whole.Dispose();
        base.Dispose(disposing);
    }
}
