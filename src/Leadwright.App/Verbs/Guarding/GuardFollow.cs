using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Formats;
using Leadwright.Formats.Logs;

namespace Leadwright.App.Verbs.Guarding;

/// <summary>Watches a growing file, or a folder into which files are dropped.</summary>
internal sealed class GuardFollow(GuardRequest request, IAlarms alarms, TimeProvider clock)
{
    private GuardWatch? _watch;
    private IntervalLog? _shape;
    private long _lastStart = long.MinValue;
    private DateTimeOffset _lastNews;

    /// <summary>Watches until it is stopped, idle or, where wanted, alarmed.</summary>
    /// <param name="path">The file or folder; a file may come later.</param>
    /// <param name="cancellation">Ends the watch.</param>
    /// <returns>10 when an alarm was raised, else 0.</returns>
    public async Task<ExitCode> RunAsync(string path, CancellationToken cancellation)
    {
        var isFolder = Directory.Exists(path);
        if (!isFolder && !File.Exists(path))
            throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot follow '{path}': there is no such file or folder. Start the recorder's export first, or name its folder.");
        var file = new GrowingFile(path, request);
        var folder = new DroppedFiles(path);
        _lastNews = clock.GetUtcNow();
        try
        {
            while (true)
            {
                if (isFolder)
                {
                    foreach (var dropped in folder.Settled()) await TakeAsync(dropped, ReadWhole(dropped), cancellation);
                }
                else if (file.Grown() is { } log)
                {
                    await TakeAsync(path, log, cancellation);
                }

                await LookAsync(path, cancellation);
                if (request.EndsAtAlarm && alarms.Raised > 0) break;
                if (request.IdleSeconds is { } idle && (clock.GetUtcNow() - _lastNews).TotalSeconds >= idle) break;
                await Task.Delay(TimeSpan.FromSeconds(request.EverySeconds), clock, cancellation);
            }
        }
        catch (OperationCanceledException)
        {
            // A watch is ended by stopping it.
        }

        return alarms.Raised > 0 ? ExitCode.FaultsFound : ExitCode.NothingWrong;
    }

    private IntervalLog? ReadWhole(string path)
    {
        try
        {
            return RecordingFile.Read(path, request.Recording, prefersSamples: false).Log?.Log;
        }
        catch (InputRefusedException refusal)
        {
            alarms.NoteAsync(refusal.Message).GetAwaiter().GetResult();
            return null;
        }
    }

    private async Task TakeAsync(string name, IntervalLog? log, CancellationToken cancellation)
    {
        if (log is null || log.Count == 0) return;
        if (_watch is null || _shape is null || !_shape.Columns.SequenceEqual(log.Columns) || Math.Abs(_shape.IntervalSeconds - log.IntervalSeconds) > 0.05 * log.IntervalSeconds)
        {
            if (_watch is not null) await alarms.NoteAsync($"'{name}' has other columns or another interval: the watch begins anew with it.");
            _watch = new GuardWatch(
                log.Columns, log.IntervalSeconds, GuardRun.OptionsOf(request, request.Recording.Service?.Kind ?? LogSubject.ServiceFor(log)));
            _shape = log;
            _lastStart = long.MinValue;
        }

        if (log.Starts.Span[^1] <= _lastStart) return;
        await alarms.TellAsync(name, _watch.Add(log, cancellation), cancellation);
        _lastStart = log.Starts.Span[^1];
        _lastNews = clock.GetUtcNow();
    }

    // The recorder's clock is not ours: it is taken to have moved on as ours did since the last row came.
    private async Task LookAsync(string name, CancellationToken cancellation)
    {
        if (_watch is null || _shape is null) return;
        var now = new DateTime(_lastStart + _shape.IntervalTicks) + (clock.GetUtcNow() - _lastNews);
        await alarms.TellAsync(name, _watch.Look(now), cancellation);
    }

    /// <summary>A file that grows at its end.</summary>
    private sealed class GrowingFile(string path, GuardRequest request)
    {
        // The first lines tell how the table is to be read; with them the newest lines are read like the whole.
        private const int HeadBytes = 32 * 1024;

        private byte[] _head = [];
        private long _taken;
        private LogReadOptions? _options;

        /// <summary>The rows that may be new; null when the file has not grown by a whole line.</summary>
        public IntervalLog? Grown()
        {
            try
            {
                var length = new FileInfo(path).Length;
                // A file that became shorter was begun anew.
                if (length < _taken) (_taken, _options) = (0, null);
                if (length == _taken) return null;
                if (_options is null) return First();
                var tail = ReadLines(_taken, length);
                if (tail.Length == 0) return null;
                _taken += tail.Length;
                return LogReader.Read(new InputFile(path, (byte[])[.. _head, .. tail]), _options).Log;
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

        private IntervalLog? First()
        {
            var read = RecordingFile.Read(path, request.Recording, prefersSamples: false);
            if (read.Log is not { } log)
                throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot follow '{path}': it holds samples. Follow the recorder's log of intervals, or guard the recording when it is whole.");
            var isText = InputSniffer.KindOf(new InputFile(path, File.ReadAllBytes(path))) == InputKind.LogTable;
            if (!isText)
            {
                _taken = new FileInfo(path).Length;
                return log.Log;
            }

            // A last line without its end is taken again when it is whole.
            var lines = ReadLines(0, new FileInfo(path).Length);
            _taken = lines.Length;
            _head = lines.Length <= HeadBytes ? lines : lines[..(Array.LastIndexOf(lines, (byte)'\n', HeadBytes) + 1)];
            _options = RecordingFile.LogOptionsOf(request.Recording) with
            {
                Separator = log.Separator,
                DecimalMark = log.DecimalMark,
                DateOrder = log.DateOrder,
                Stamps = log.Stamps,
                IntervalSeconds = log.Log.IntervalSeconds,
                Profiles = [Formats.Matching.ColumnProfile.Of(log)],
            };
            return log.Log;
        }

        private byte[] ReadLines(long from, long to)
        {
            using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            stream.Position = from;
            var bytes = new byte[to - from];
            var count = stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
            return bytes[..(bytes.AsSpan(0, count).LastIndexOf((byte)0x0A) + 1)];
        }
    }

    /// <summary>Files that appear in a folder: each is taken once, when it no longer grows.</summary>
    private sealed class DroppedFiles(string folder)
    {
        private readonly Dictionary<string, long> _sizes = new(StringComparer.Ordinal);
        private readonly HashSet<string> _taken = new(StringComparer.Ordinal);

        public List<string> Settled()
        {
            var settled = new List<string>();
            foreach (var file in new DirectoryInfo(folder).EnumerateFiles().OrderBy(file => file.Name, StringComparer.Ordinal))
            {
                if (_taken.Contains(file.FullName) || file.Name.StartsWith('.')) continue;
                var known = _sizes.GetValueOrDefault(file.FullName, -1);
                _sizes[file.FullName] = file.Length;
                if (known != file.Length || file.Length == 0) continue;
                _taken.Add(file.FullName);
                settled.Add(file.FullName);
            }

            return settled;
        }
    }
}
