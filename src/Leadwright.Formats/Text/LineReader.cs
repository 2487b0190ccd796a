using System.Globalization;
using System.Text;
using System.Text.Unicode;

namespace Leadwright.Formats.Text;

/// <summary>Reads a text of any length line by line at bounded memory; the lines are those of <see cref="SourceText"/>.</summary>
/// <param name="stream">The text; its start is the stream's place.</param>
/// <param name="source">Display name for errors.</param>
/// <param name="firstLine">Number of the first line.</param>
/// <param name="firstOffset">Byte offset of the stream's place in the source.</param>
internal sealed class LineReader(Stream stream, string source, int firstLine = 1, long firstOffset = 0)
{
    private const int UsualLength = 1 << 18;
    private const int MostLength = 1 << 26;

    // Place in the stream of the source's start.
    private readonly long _origin = stream.Position - firstOffset;
    private readonly long _firstOffset = firstOffset;
    private byte[] _buffer = new byte[UsualLength];
    private int _start, _end;
    private long _bufferOffset = firstOffset;
    private int _nextLine = firstLine;
    private bool _isAtEnd, _isBegun;

    /// <summary>Number of the line taken last.</summary>
    public int Line { get; private set; }

    /// <summary>Byte offset of the line taken last in the source.</summary>
    public long Offset { get; private set; }

    /// <summary>True when the line taken last has no end of line: it is the last of the text and may be cut short.</summary>
    public bool IsOpen { get; private set; }

    /// <summary>Number of the line to come.</summary>
    public int NextLine => _nextLine;

    /// <summary>Byte offset of the line to come.</summary>
    public long NextOffset => _bufferOffset + _start;

    /// <summary>How letters are written; null to go by each line.</summary>
    public Encoding? Encoding { get; init; }

    /// <summary>Takes the next line.</summary>
    /// <param name="line">Its bytes without its end, until the next call.</param>
    /// <returns>False at the end of the text.</returns>
    /// <exception cref="FormatReadException">The text is UTF-16, or a line is longer than any table's.</exception>
    public bool Next(out ReadOnlySpan<byte> line)
    {
        if (!_isBegun) Begin();
        while (true)
        {
            ReadOnlySpan<byte> rest = _buffer.AsSpan(_start, _end - _start);
            var length = SourceText.LengthOfLine(rest, out var ending);
            // An end of line may go on behind what is at hand.
            if (length + ending < rest.Length || _isAtEnd)
            {
                line = rest[..length];
                if (rest.IsEmpty) return false;
                (Line, Offset, IsOpen) = (_nextLine++, _bufferOffset + _start, ending == 0);
                _start += length + ending;
                return true;
            }

            Fill();
        }
    }

    /// <summary>The line taken last as text.</summary>
    public SourceLine Text(ReadOnlySpan<byte> line) => new(Line, Offset, (Encoding ?? (Utf8.IsValid(line) ? Encoding.UTF8 : Encoding.Latin1)).GetString(line));

    /// <summary>Goes to the start of a line.</summary>
    /// <param name="offset">Its byte offset in the source.</param>
    /// <param name="line">Its number.</param>
    public void Seek(long offset, int line)
    {
        stream.Position = _origin + offset;
        (_start, _end, _bufferOffset, _nextLine, _isAtEnd, _isBegun) = (0, 0, offset, line, false, offset > _firstOffset);
    }

    private void Begin()
    {
        _isBegun = true;
        Fill();
        SourceText.RefuseUtf16(_buffer.AsSpan(0, _end), source);
        _start = SourceText.MarkLength(_buffer.AsSpan(0, _end));
    }

    private void Fill()
    {
        if (_start > 0)
        {
            _buffer.AsSpan(_start, _end - _start).CopyTo(_buffer);
            _bufferOffset += _start;
            (_start, _end) = (0, _end - _start);
        }
        else if (_end == _buffer.Length)
        {
            if (_buffer.Length >= MostLength)
            {
                throw new FormatReadException(
                    source, "lines of text", string.Create(CultureInfo.InvariantCulture, $"a line of more than {MostLength} bytes"),
                    "This is no text file, or its ends of line were lost: copy it again.", _nextLine, byteOffset: _bufferOffset);
            }

            Array.Resize(ref _buffer, _buffer.Length * 2);
        }

        var count = stream.ReadAtLeast(_buffer.AsSpan(_end), _buffer.Length - _end, throwOnEndOfStream: false);
        _isAtEnd = count < _buffer.Length - _end;
        _end += count;
        if (_isAtEnd) _end = SourceText.LengthWithoutPadding(_buffer.AsSpan(0, _end));
    }
}
