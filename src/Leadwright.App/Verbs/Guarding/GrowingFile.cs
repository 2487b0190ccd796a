using Leadwright.Core.Logs;
using Leadwright.Formats;
using Leadwright.Formats.Logs;

namespace Leadwright.App.Verbs.Guarding;

/// <summary>Rows that a growing file brought.</summary>
/// <param name="Log">The rows. Those of a whole file go on where its clock was set; those that were added since stand at the times that the file has.</param>
/// <param name="AreWhole">True when the file was read from its start.</param>
internal sealed record GrownRows(IntervalLog Log, bool AreWhole);

/// <summary>A file that grows at its end.</summary>
internal sealed class GrowingFile(string path, GuardRequest request)
{
    // The first lines tell how the table is to be read; with them the newest lines are read like the whole.
    private const int HeadBytes = 32 * 1024;

    private const int FewestLines = 4;

    private byte[] _endOfLine = [(byte)'\n'];
    private byte[] _head = [];
    private HashSet<long> _headStarts = [];
    private long _taken;
    private LogReadOptions? _options;

    /// <summary>The rows that may be new; null when the file has not grown by a whole line.</summary>
    public GrownRows? Grown()
    {
        try
        {
            var length = new FileInfo(path).Length;
            // A file that became shorter was begun anew.
            if (length < _taken) (_taken, _options) = (0, null);
            if (length == _taken) return null;
            if (_options is null) return First();
            var tail = WholeLines(ReadBytes(_taken, length));
            if (tail.IsEmpty) return null;
            _taken += tail.Length;
            return new GrownRows(Tail(LogReader.Read(new InputFile(path, (byte[])[.. _head, .. tail.Span]), _options).Log), false);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // Still being written: the next look will do.
            return null;
        }
        catch (FormatReadException failure)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, failure.Message, failure);
        }
    }

    private GrownRows? First()
    {
        // Read once: what grows meanwhile comes with the next look.
        var whole = new InputFile(path, ReadBytes(0, new FileInfo(path).Length));
        var isText = InputSniffer.KindOf(whole) == InputKind.LogTable;
        _endOfLine = whole.Bytes.Span switch { [0xFF, 0xFE, ..] => [(byte)'\n', 0], [0xFE, 0xFF, ..] => [0, (byte)'\n'], _ => [(byte)'\n'] };
        // A last line without its end is taken when it is whole.
        var lines = isText ? WholeLines(whole.Bytes) : whole.Bytes;
        RecordingFile read;
        try
        {
            read = RecordingFile.Read(whole with { Bytes = lines }, request.Recording, prefersSamples: false);
        }
        catch (InputRefusedException) when (whole.Bytes.Span.Count((byte)'\n') < FewestLines)
        {
            // A recorder that has just begun: headings, and not yet the two rows that make an interval.
            return null;
        }

        if (read.Log is not { } log)
            throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot follow '{path}': it holds samples. Follow the recorder's log of intervals, or guard the recording when it is whole.");
        _taken = lines.Length;
        if (!isText) return new GrownRows(log.Log, true);
        _head = (lines.Length <= HeadBytes ? lines : WholeLines(lines[..HeadBytes])).ToArray();
        _options = RecordingFile.LogOptionsOf(request.Recording) with
        {
            Separator = log.Separator,
            DecimalMark = log.DecimalMark,
            DateOrder = log.DateOrder,
            Stamps = log.Stamps,
            IntervalSeconds = log.Log.IntervalSeconds,
            IsGrowing = true,
            Profiles = [Formats.Matching.ColumnProfile.Of(log)],
        };
        _headStarts = [.. LogReader.Read(new InputFile(path, _head), _options).Log.Starts.ToArray()];
        return new GrownRows(log.Log, true);
    }

    // The rows after the head, at the times that the file has.
    private IntervalLog Tail(IntervalLog log)
    {
        var rows = new List<int>();
        var starts = new List<long>();
        var (shift, step) = (0L, 0);
        for (var row = 0; row < log.Count; row++)
        {
            while (step < log.ClockSteps.Length && log.ClockSteps[step].Row <= row) shift += log.ClockSteps[step++].Ticks;
            if (_headStarts.Contains(log.Starts.Span[row])) continue;
            rows.Add(row);
            starts.Add(log.Starts.Span[row] - shift);
        }

        var values = Enumerable.Range(0, log.Columns.Length).Select(column => rows.Select(row => log.Values(column)[row]).ToArray()).ToArray();
        return RisingFrom(log, starts, values);
    }

    // Within one look the clock may be set too: only what rises from the first row on is taken as written, the rest goes on from it.
    private static IntervalLog RisingFrom(IntervalLog log, List<long> starts, double[][] values)
    {
        for (var row = 1; row < starts.Count; row++)
        {
            if (starts[row] <= starts[row - 1]) starts[row] = starts[row - 1] + log.IntervalTicks;
        }

        return new IntervalLog(log.Columns, [.. starts], values, log.IntervalSeconds);
    }

    // A character of two bytes is not cut in its middle.
    private ReadOnlyMemory<byte> WholeLines(ReadOnlyMemory<byte> text)
    {
        var span = text.Span;
        for (var at = span.LastIndexOf(_endOfLine); at >= 0; at = span[..(at + _endOfLine.Length - 1)].LastIndexOf(_endOfLine))
        {
            if (at % _endOfLine.Length == 0) return text[..(at + _endOfLine.Length)];
        }

        return default;
    }

    private ReadOnlyMemory<byte> ReadBytes(long from, long to)
    {
        using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        stream.Position = from;
        var bytes = new byte[to - from];
        return bytes.AsMemory(0, stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false));
    }
}
