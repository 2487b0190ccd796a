using System.Text;

namespace Leadwright.Formats.Logs.Rows;

/// <summary>The rows of a table of text (RFC 4180, and what else separates cells), at the memory of one row.</summary>
internal sealed class TextRows : TableRows
{
    private const int MostCharacters = 1 << 20;
    private const int MostLinesInACell = 64;

    private readonly string _source;
    private readonly Stream _stream;
    private readonly long _length;
    private readonly StreamReader _reader;
    private readonly bool _isOneByte;
    private readonly char _separator;
    private readonly char[] _block = new char[1 << 15];
    private readonly List<(int Start, int Length)> _cells = [];
    private int _at;
    private int _end;
    private int _linesRead;
    private char[] _row = new char[1024];
    private int _rowLength;
    // Lines that were read ahead for a quote that never closed, each with a line feed after it; they come next.
    private char[] _ahead = [];
    private int _aheadAt;
    private int _aheadEnd;

    /// <summary>Starts at the top of a text.</summary>
    /// <param name="source">Display name.</param>
    /// <param name="stream">The text; stays open.</param>
    /// <param name="encoding">Its encoding, see <see cref="TextDecoding"/>.</param>
    /// <param name="separator">What separates cells; a blank stands for any number of them; the null character leaves a row one cell.</param>
    public TextRows(string source, Stream stream, Encoding encoding, char separator)
    {
        (_source, _stream, _separator, _length) = (source, stream, separator, stream.Length);
        _isOneByte = ReferenceEquals(encoding, Encoding.Latin1);
        _reader = new StreamReader(stream, encoding, detectEncodingFromByteOrderMarks: encoding is UTF8Encoding or UnicodeEncoding, 1 << 16, leaveOpen: true);
    }

    /// <inheritdoc/>
    public override double Progress => _length == 0 ? 1 : (double)_stream.Position / _length;

    /// <inheritdoc/>
    public override bool IsHeldBySeparators => _separator is not (' ' or '\0');

    /// <summary>The row at hand as it stands in the text.</summary>
    public ReadOnlySpan<char> Raw => _row.AsSpan(0, _rowLength);

    /// <inheritdoc/>
    public override bool Read()
    {
        Line = _linesRead + 1;
        _rowLength = 0;
        if (!ReadLine(out var quotes)) return false;
        // An odd quote opens a cell that goes on; in the middle of a cell it is just a mark.
        if (quotes % 2 == 1 && OpensACell()) ReadOn(quotes);
        Split();
        return true;
    }

    // Reads the lines of a cell that has line feeds in it. Where its quote never closes it was a stray one: it must not swallow the rows below it.
    private void ReadOn(int quotes)
    {
        var (first, lines) = (_rowLength, 0);
        while (quotes % 2 == 1)
        {
            if (++lines < MostLinesInACell && _rowLength < MostCharacters / 4)
            {
                Append("\n");
                if (ReadLine(out var further))
                {
                    quotes += further;
                    continue;
                }

                _rowLength--;
            }

            PutBack(first);
            return;
        }
    }

    private void PutBack(int first)
    {
        if (_rowLength == first) return;
        Append("\n");
        var text = _row.AsSpan(first + 1, _rowLength - first - 1);
        _linesRead -= text.Count('\n');
        var rest = _aheadEnd - _aheadAt;
        var ahead = new char[text.Length + rest];
        text.CopyTo(ahead);
        _ahead.AsSpan(_aheadAt, rest).CopyTo(ahead.AsSpan(text.Length));
        (_ahead, _aheadAt, _aheadEnd) = (ahead, 0, ahead.Length);
        _rowLength = first;
    }

    /// <inheritdoc/>
    public override CellKind KindOf(int cell) => cell < _cells.Count && _cells[cell].Length > 0 ? CellKind.Text : CellKind.Empty;

    /// <inheritdoc/>
    public override ReadOnlySpan<char> TextOf(int cell) =>
        cell < _cells.Count ? _row.AsSpan(_cells[cell].Start, _cells[cell].Length) : [];

    /// <inheritdoc/>
    protected override void Dispose(bool isDisposing)
    {
        if (isDisposing) _reader.Dispose();
        base.Dispose(isDisposing);
    }

    private bool OpensACell()
    {
        var row = Raw;
        for (var at = 0; at < row.Length; at++)
        {
            if (row[at] == '"' && (at == 0 || row[at - 1] == _separator || (_separator == '\0' && row[at - 1] is ',' or ';' or '\t' or '|'))) return true;
        }

        return false;
    }

    private bool ReadLine(out int quotes)
    {
        quotes = 0;
        if (_aheadAt < _aheadEnd)
        {
            var line = _ahead.AsSpan(_aheadAt, _aheadEnd - _aheadAt);
            line = line[..line.IndexOf('\n')];
            quotes = line.Count('"');
            Append(line);
            _aheadAt += line.Length + 1;
            _linesRead++;
            return true;
        }

        var isStarted = false;
        while (true)
        {
            if (_at == _end)
            {
                _end = _reader.Read(_block, 0, _block.Length);
                _at = 0;
                if (_end == 0)
                {
                    if (isStarted) _linesRead++;
                    return isStarted;
                }

                if (_isOneByte) TextDecoding.MendWindows1252(_block.AsSpan(0, _end));
            }

            isStarted = true;
            var rest = _block.AsSpan(_at, _end - _at);
            var length = rest.IndexOfAny('\n', '\r');
            var part = length < 0 ? rest : rest[..length];
            quotes += part.Count('"');
            Append(part);
            if (length < 0)
            {
                _at = _end;
                continue;
            }

            _at += length + 1;
            if (rest[length] == '\r') SkipLineFeed();
            _linesRead++;
            return true;
        }
    }

    private void SkipLineFeed()
    {
        if (_at == _end)
        {
            _end = _reader.Read(_block, 0, _block.Length);
            _at = 0;
            if (_isOneByte) TextDecoding.MendWindows1252(_block.AsSpan(0, _end));
        }

        if (_at < _end && _block[_at] == '\n') _at++;
    }

    private void Append(ReadOnlySpan<char> text)
    {
        if (_rowLength + text.Length > MostCharacters)
        {
            throw new FormatReadException(
                _source, "rows of a table", $"a row of more than {MostCharacters} characters",
                "This is no table of text, or a quote is never closed.", Line);
        }

        if (_rowLength + text.Length > _row.Length) Array.Resize(ref _row, Math.Max(_row.Length * 2, _rowLength + text.Length));
        text.CopyTo(_row.AsSpan(_rowLength));
        _rowLength += text.Length;
    }

    private void Split()
    {
        _cells.Clear();
        // Zeros and the substitute 0x1A that old programs write after the end.
        while (_rowLength > 0 && _row[_rowLength - 1] is '\0' or '\u001A') _rowLength--;
        if (_separator == '\0') _cells.Add((0, _rowLength));
        else if (_separator == ' ') SplitAtBlanks();
        else SplitAt();
        Count = _cells.Count;
        if (Count > MostCells)
            throw new FormatReadException(_source, $"at most {MostCells} columns", $"{Count}", "This is no log of intervals.", Line);
    }

    private void SplitAt()
    {
        var at = 0;
        while (true)
        {
            var start = at;
            while (start < _rowLength && _row[start] == ' ') start++;
            if (start < _rowLength && _row[start] == '"') at = Unquote(start);
            else
            {
                var length = _row.AsSpan(at, _rowLength - at).IndexOf(_separator);
                var end = length < 0 ? _rowLength : at + length;
                AddTrimmed(at, end);
                at = end;
            }

            if (at >= _rowLength) return;
            at++;
            if (at == _rowLength)
            {
                _cells.Add((at, 0));
                return;
            }
        }
    }

    private void SplitAtBlanks()
    {
        var at = 0;
        while (at < _rowLength)
        {
            if (_row[at] is ' ' or '\t')
            {
                at++;
                continue;
            }

            if (_row[at] == '"')
            {
                at = Unquote(at) + 1;
                continue;
            }

            var length = _row.AsSpan(at, _rowLength - at).IndexOfAny(' ', '\t');
            var end = length < 0 ? _rowLength : at + length;
            _cells.Add((at, end - at));
            at = end;
        }
    }

    // Takes the quotes off in place; returns where the separator after the cell stands, or the end.
    private int Unquote(int start)
    {
        var (from, to) = (start + 1, start + 1);
        while (from < _rowLength)
        {
            if (_row[from] == '"')
            {
                if (from + 1 >= _rowLength || _row[from + 1] != '"') break;
                from++;
            }

            _row[to++] = _row[from++];
        }

        var close = from;
        var rest = close + 1 < _rowLength ? _row.AsSpan(close + 1, _rowLength - close - 1) : [];
        var next = _separator == ' ' ? rest.IndexOfAny(' ', '\t') : rest.IndexOf(_separator);
        AddTrimmed(start + 1, to);
        return next < 0 ? _rowLength : close + 1 + next;
    }

    private void AddTrimmed(int start, int end)
    {
        while (start < end && IsBlank(_row[start])) start++;
        while (end > start && IsBlank(_row[end - 1])) end--;
        _cells.Add((start, end - start));
    }

    private static bool IsBlank(char character) => char.IsWhiteSpace(character) || character == '\uFEFF';
}
