using System.Collections.Immutable;
using Leadwright.Core.Logs;
using Leadwright.Formats.Matching;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Logs;

/// <summary>A long log of text that is read piece by piece, each piece as a log of its own that is read as the first one was.</summary>
public sealed class LogPieces
{
    private const int HeadBytes = 1 << 20;
    private const byte LineFeed = (byte)'\n';

    private readonly string _name;
    private readonly Stream _stream;
    private readonly LogReadOptions _options;
    private readonly byte[] _head;
    private readonly int _pieceBytes;
    private readonly CancellationToken _cancellation;

    private LogPieces(string name, Stream stream, LogReadOptions options, byte[] head, int pieceBytes, CancellationToken cancellation) =>
        (_name, _stream, _options, _head, _pieceBytes, _cancellation) = (name, stream, options, head, pieceBytes, cancellation);

    /// <summary>The first piece: what every other one is read by. Read when it is first asked for.</summary>
    /// <exception cref="FormatReadException">It can't be used.</exception>
    public LogFile First
    {
        get
        {
            if (field is not null) return field;
            var end = EndOf(_head.Length);
            return field = LogReader.Read(_name, new StreamSection(_stream, _head.Length, end - _head.Length, _head, staysOpen: true), _options, null, _cancellation);
        }
    }

    /// <summary>About how many rows there are, by the length of the first lines.</summary>
    public long EstimatedRows { get; private init; }

    /// <summary>How many columns the table has, the times among them.</summary>
    public int ColumnCount { get; private init; }

    /// <summary>Looks at the first lines.</summary>
    /// <param name="name">Display name.</param>
    /// <param name="stream">The table from its start; can be positioned; stays open.</param>
    /// <param name="options">How to read.</param>
    /// <param name="pieceBytes">Length of a piece, bytes; it is drawn out to the end of its line.</param>
    /// <param name="cancellation">Ends the reading of the first piece early.</param>
    /// <returns>Null for a table that is not of text with a line feed at the end of each line.</returns>
    /// <exception cref="FormatReadException">It is no table that can be read.</exception>
    public static LogPieces? Open(string name, Stream stream, LogReadOptions options, int pieceBytes = 64 << 20, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(stream);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(pieceBytes);
        var top = new byte[Math.Min(HeadBytes, stream.Length)];
        stream.Position = 0;
        stream.ReadExactly(top);
        if (LogReader.TextLayoutOf(name, new MemoryStream(top, writable: false), options) is not (var firstLine, var columns)) return null;
        var length = 0;
        for (var line = 1; line < firstLine; line++)
        {
            var feed = top.AsSpan(length).IndexOf(LineFeed);
            if (feed < 0) return null;
            length += feed + 1;
        }

        var lines = top.AsSpan(length).Count(LineFeed);
        if (lines == 0) return null;
        var bytes = top.AsSpan(length).LastIndexOf(LineFeed) + 1;
        return new LogPieces(name, stream, options, top[..length], pieceBytes, cancellation) { EstimatedRows = (stream.Length - length) * lines / bytes, ColumnCount = columns };
    }

    /// <summary>Reads all pieces from the first on.</summary>
    /// <param name="progress">Is told the share read, 0 to 1.</param>
    /// <param name="cancellation">Ends the reading early.</param>
    /// <returns>Each piece with the columns of the first, by their names: one that a piece lacks is missing in all its rows. Lines of warnings, and rows of what was noticed of the
    /// clock, count from the start of the table.</returns>
    /// <exception cref="FormatReadException">A piece can't be used, or its interval is another.</exception>
    public IEnumerable<LogFile> Read(IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        var from = EndOf(_head.Length);
        var (linesBefore, rowsBefore) = (LinesIn(_head.Length, from), First.Log.Count);
        yield return First;
        var options = _options with { Profile = ColumnProfile.Of(First), DecimalMark = First.DecimalMark, Separator = First.Separator, Stamps = First.Stamps };
        while (from < _stream.Length)
        {
            cancellation.ThrowIfCancellationRequested();
            progress?.Report((double)from / _stream.Length);
            var to = EndOf(from);
            var (piece, lines) = (Piece(options, from, to, linesBefore, rowsBefore, cancellation), LinesIn(from, to));
            if (piece is not null) yield return piece;
            (from, linesBefore, rowsBefore) = (to, linesBefore + lines, rowsBefore + (piece?.Log.Count ?? 0));
        }
    }

    private LogFile? Piece(LogReadOptions options, long from, long to, int linesBefore, int rowsBefore, CancellationToken cancellation)
    {
        if (IsBlank(from, to)) return null;
        LogFile piece;
        try
        {
            piece = LogReader.Read(_name, new StreamSection(_stream, from, to - from, _head, staysOpen: true), options, null, cancellation);
        }
        catch (FormatReadException failure)
        {
            throw new FormatReadException(_name, failure.Expected, failure.Found, failure.Hint, failure.Line + linesBefore, failure.Column, failure.Field, null, failure);
        }

        // Read by other columns its rows would be dated by another end of their intervals.
        if (!TimesOf(piece).SequenceEqual(TimesOf(First)))
        {
            throw new FormatReadException(
                _name, $"times in the columns of the first rows: {string.Join(", ", TimesOf(First).Select(column => $"'{First.Columns[column].Heading}'"))}", "rows of which half or more have none there that can be read",
                "Repair the damaged rows, or cut them off.", linesBefore + LinesIn(0, _head.Length) + 1);
        }

        // A last piece of a single row shows no interval of its own.
        var interval = piece.Log.Count < 3 ? First.Log.IntervalSeconds : piece.Log.IntervalSeconds;
        if (Math.Abs(interval - First.Log.IntervalSeconds) > 0.01 * First.Log.IntervalSeconds)
        {
            throw new FormatReadException(
                _name, FormattableString.Invariant($"an interval of {First.Log.IntervalSeconds:0.###} s throughout"), FormattableString.Invariant($"one of {interval:0.###} s"),
                "The recorder was set anew near there: export what comes before and after it as two files.", linesBefore + LinesIn(0, _head.Length) + 1);
        }

        return piece with
        {
            Log = Aligned(piece.Log),
            Warnings = [.. piece.Warnings.Select(warning => warning with { Line = warning.Line + linesBefore })],
            Clock = [.. piece.Clock.Select(finding => finding with { Row = finding.Row + rowsBefore })],
        };
    }

    private static IEnumerable<int> TimesOf(LogFile file) => file.Columns.Where(column => column.Role == ColumnRole.Time).Select(column => column.Index);

    private IntervalLog Aligned(IntervalLog log)
    {
        var columns = First.Log.Columns;
        if (log.Columns.SequenceEqual(columns) && log.IntervalSeconds == First.Log.IntervalSeconds) return log;
        double[]? missing = null;
        var values = columns.Select(column => log.Columns.IndexOf(column) is >= 0 and var at ? log.Values(at).ToArray() : missing ??= Missing(log.Count)).ToArray();
        return new IntervalLog(columns, log.Starts.ToArray(), values, First.Log.IntervalSeconds) { ClockSteps = log.ClockSteps };
    }

    private static double[] Missing(int count)
    {
        var values = new double[count];
        Array.Fill(values, double.NaN);
        return values;
    }

    // Where the line ends in which a piece would.
    private long EndOf(long from)
    {
        var at = from + _pieceBytes;
        var block = new byte[1 << 16];
        while (at < _stream.Length)
        {
            _stream.Position = at;
            var read = _stream.Read(block);
            if (read == 0) break;
            if (block.AsSpan(0, read).IndexOf(LineFeed) is >= 0 and var feed) return at + feed + 1;
            at += read;
        }

        return _stream.Length;
    }

    private int LinesIn(long from, long to)
    {
        var block = new byte[1 << 16];
        var lines = 0;
        _stream.Position = from;
        while (from < to && _stream.Read(block.AsSpan(0, (int)Math.Min(block.Length, to - from))) is > 0 and var read)
        {
            lines += block.AsSpan(0, read).Count(LineFeed);
            from += read;
        }

        return lines;
    }

    private bool IsBlank(long from, long to)
    {
        if (to - from > 4096) return false;
        var bytes = new byte[to - from];
        _stream.Position = from;
        _stream.ReadExactly(bytes);
        return !bytes.AsSpan().ContainsAnyExcept(" \t\r\n\0"u8);
    }
}
