namespace Leadwright.Formats.Text;

/// <summary>A part of a stream as a stream of its own, for reading; it closes the whole with itself.</summary>
/// <param name="whole">The whole; nobody else reads it meanwhile.</param>
/// <param name="start">Where the part starts.</param>
/// <param name="length">Its length.</param>
internal sealed class StreamSection(Stream whole, long start, long length) : Stream
{
    private long _position;

    public override bool CanRead => true;

    public override bool CanSeek => true;

    public override bool CanWrite => false;

    public override long Length => length;

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
        var wanted = (int)Math.Min(buffer.Length, Math.Max(length - _position, 0));
        if (wanted == 0) return 0;
        if (whole.Position != start + _position) whole.Position = start + _position;
        var count = whole.Read(buffer[..wanted]);
        _position += count;
        return count;
    }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override long Seek(long offset, SeekOrigin origin) => Position = origin switch
    {
        SeekOrigin.Begin => offset,
        SeekOrigin.Current => _position + offset,
        _ => length + offset,
    };

    public override void Flush()
    {
    }

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing) whole.Dispose();
        base.Dispose(disposing);
    }
}
