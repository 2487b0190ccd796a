using System.Text;

namespace Leadwright.Formats.Csv;

/// <summary>Lines as a text that is made while it is read. Going back makes it anew from its begin; its length is known at its end only.</summary>
/// <param name="name">Display name for errors.</param>
/// <param name="file">What the lines are made of; is closed with this.</param>
/// <param name="lines">The lines, without their ends; the same each time.</param>
internal sealed class LinesStream(string name, Stream file, IEnumerable<string> lines) : Stream
{
    private IEnumerator<string>? _lines;
    private byte[] _line = [];
    private int _at, _end;
    private long _position, _target;

    public override bool CanRead => true;

    public override bool CanSeek => true;

    public override bool CanWrite => false;

    /// <summary>Not known beforehand: more than any text has.</summary>
    public override long Length => long.MaxValue;

    public override long Position
    {
        get => _target;
        set => _target = value;
    }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override int Read(Span<byte> buffer)
    {
        if (_target < _position || _lines is null)
        {
            _lines?.Dispose();
            _lines = lines.GetEnumerator();
            (_position, _at, _end) = (0, 0, 0);
        }

        while (_position < _target)
        {
            if (!Fill()) return 0;
            Take((int)Math.Min(_end - _at, _target - _position));
        }

        var count = 0;
        while (count < buffer.Length && Fill())
        {
            var taken = Math.Min(_end - _at, buffer.Length - count);
            _line.AsSpan(_at, taken).CopyTo(buffer[count..]);
            Take(taken);
            count += taken;
        }

        _target = _position;
        return count;
    }

    public override long Seek(long offset, SeekOrigin origin) => origin switch
    {
        SeekOrigin.Begin => Position = offset,
        SeekOrigin.Current => Position += offset,
        _ => throw new NotSupportedException("The end is not known before it is reached."),
    };

    public override void Flush()
    {
    }

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            _lines?.Dispose();
            file.Dispose();
        }

        base.Dispose(disposing);
    }

    private bool Fill()
    {
        if (_at < _end) return true;
        if (!Next()) return false;
        var most = Encoding.UTF8.GetMaxByteCount(_lines!.Current.Length) + 1;
        if (_line.Length < most) _line = new byte[most];
        _end = Encoding.UTF8.GetBytes(_lines.Current, _line);
        _line[_end++] = (byte)'\n';
        _at = 0;
        return true;
    }

    // Libraries throw what they like at damaged files; a person is told one thing.
    private bool Next()
    {
        try
        {
            return _lines!.MoveNext();
        }
        catch (Exception failure) when (failure is not (FormatReadException or OutOfMemoryException or IOException))
        {
            throw new FormatReadException(name, "a table that can be read", "one that is damaged", "Write the table again, or export the recording as text.", innerException: failure);
        }
    }

    private void Take(int count)
    {
        _at += count;
        _position += count;
    }
}
