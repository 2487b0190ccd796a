namespace Leadwright.Formats.Logs;

/// <summary>A part of a file with the head of the whole before it, as a stream to read from.</summary>
/// <param name="head">The bytes that stand first.</param>
/// <param name="source">The file; can be positioned; stays open.</param>
/// <param name="from">Where the part begins in the file.</param>
/// <param name="length">Its length, bytes.</param>
internal sealed class WindowStream(byte[] head, Stream source, long from, long length) : Stream
{
    private long _position;

    /// <inheritdoc/>
    public override bool CanRead => true;

    /// <inheritdoc/>
    public override bool CanSeek => true;

    /// <inheritdoc/>
    public override bool CanWrite => false;

    /// <inheritdoc/>
    public override long Length => head.Length + length;

    /// <inheritdoc/>
    public override long Position
    {
        get => _position;
        set
        {
            ArgumentOutOfRangeException.ThrowIfNegative(value);
            _position = value;
        }
    }

    /// <inheritdoc/>
    public override int Read(Span<byte> buffer)
    {
        if (_position < head.Length)
        {
            var taken = Math.Min(buffer.Length, head.Length - (int)_position);
            head.AsSpan((int)_position, taken).CopyTo(buffer);
            _position += taken;
            return taken;
        }

        var left = Math.Min(buffer.Length, Length - _position);
        if (left <= 0) return 0;
        source.Position = from + _position - head.Length;
        var read = source.Read(buffer[..(int)left]);
        _position += read;
        return read;
    }

    /// <inheritdoc/>
    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    /// <inheritdoc/>
    public override long Seek(long offset, SeekOrigin origin) =>
        Position = offset + (origin switch { SeekOrigin.Current => _position, SeekOrigin.End => Length, _ => 0 });

    /// <inheritdoc/>
    public override void Flush()
    {
    }

    /// <inheritdoc/>
    public override void SetLength(long value) => throw new NotSupportedException();

    /// <inheritdoc/>
    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
}
