using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Surveys;

namespace Leadwright.App.Verbs.Guarding;

/// <summary>Watches a growing file, or a folder into which files are dropped.</summary>
internal sealed class GuardFollow(GuardRequest request, IAlarms alarms, TimeProvider clock)
{
    // As the guard of a whole file has it.
    private const double SetBackConfidence = 0.98;

    // Fewer may all lie in a dip or in an outage.
    private const int LeastRowsOfNominal = 12;

    private GuardWatch? _watch;
    private IntervalLog? _shape;
    private long _lastStart = long.MinValue;
    private long _shift;
    private DateTimeOffset _lastNews;
    private bool _isNominalHeld;
    private DroppedFile? _latest;
    private readonly SampledAlarms _sampled = new();

    /// <summary>Watches until it is stopped, idle or, where wanted, alarmed.</summary>
    /// <param name="path">The file or folder; a file may come later.</param>
    /// <param name="cancellation">Ends the watch.</param>
    /// <returns>10 when an alarm was raised, else 0.</returns>
    public async Task<ExitCode> RunAsync(string path, CancellationToken cancellation)
    {
        using var survey = SurveyFolder.IsSurvey(path) ? new FollowedSurvey(path) : null;
        var isFolder = Directory.Exists(path);
        if (!isFolder && !File.Exists(path))
            throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot follow '{path}': there is no such file or folder. Start the recorder's export first, or name its folder.");
        var file = new GrowingFile(path, request);
        var folder = new DroppedFiles(path, request);
        _lastNews = clock.GetUtcNow();
        try
        {
            while (true)
            {
                if (survey is not null)
                {
                    foreach (var added in survey.Added(refusal => alarms.NoteAsync(refusal.Message).GetAwaiter().GetResult()))
                        await TakeAsync(added.Path, ReadWhole(added.Path, added.Complete(request.Recording)), cancellation);
                }
                else if (isFolder)
                {
                    foreach (var dropped in folder.News()) await TakeAsync(dropped, cancellation);
                }
                else if (file.Grown() is { } grown)
                {
                    await TakeAsync(path, await AlignedAsync(path, grown, cancellation), cancellation);
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

    private IntervalLog? ReadWhole(string path, RecordingRequest recording)
    {
        try
        {
            return RecordingFile.Read(path, recording, prefersSamples: false).Log?.Log;
        }
        catch (InputRefusedException refusal)
        {
            alarms.NoteAsync(refusal.Message).GetAwaiter().GetResult();
            return null;
        }
    }

    // A file in the folder: all of it the first time, what it has grown by after that.
    private async Task TakeAsync(DroppedFile dropped, CancellationToken cancellation)
    {
        try
        {
            if (dropped.Growth is { } growth)
            {
                if (growth.Grown() is not { } grown) return;
                // Rows that are added to another file than the last one are late, and tell of no clock.
                var isLatest = ReferenceEquals(dropped, _latest);
                if (!isLatest && _shape is not null && !_shape.Columns.SequenceEqual(grown.Log.Columns))
                {
                    if (dropped.IsToldOf()) await alarms.NoteAsync($"'{dropped.Path}' has grown, and has other columns than '{_latest?.Path}', which came after it: what was added is not watched. Name the file itself to watch it.");
                    return;
                }

                await TakeAsync(dropped.Path, isLatest ? await AlignedAsync(dropped.Path, grown, cancellation) : grown.Log, cancellation);
                return;
            }

            dropped.Read();
            if (LongSamples.Open(dropped.Path, request.Recording, prefersSamples: false, cancellation) is null && RecordingFile.Read(dropped.Path, request.Recording, prefersSamples: false, cancellation).Log is { } log)
            {
                _latest = dropped;
                await TakeAsync(dropped.Path, log.Log, cancellation);
                return;
            }

            // A sampled recording is whole when it is dropped: its spans are its alarms.
            _lastNews = clock.GetUtcNow();
            await alarms.TellAsync(dropped.Path, _sampled.NewsOf(GuardRun.Judge(dropped.Path, request, cancellation).Report), cancellation);
        }
        catch (InputRefusedException refusal)
        {
            await alarms.NoteAsync(refusal.Message);
        }
    }

    // Rows that fall behind those taken tell of a clock that was set back: they are moved to go on from there, and so is what follows.
    private async Task<IntervalLog> AlignedAsync(string name, GrownRows grown, CancellationToken cancellation)
    {
        var log = grown.Log;
        if (grown.AreWhole) _shift = log.ClockSteps.Sum(step => step.Ticks);
        if (grown.AreWhole || log.Count == 0 || _lastStart == long.MinValue) return log;
        var first = log.Starts.Span[0];
        if (first + _shift <= _lastStart - (log.IntervalTicks / 2))
        {
            var moved = _lastStart + log.IntervalTicks - (first + _shift);
            _shift += moved;
            await alarms.TellAsync(name, new GuardNews([SetBack(_lastStart + log.IntervalTicks, moved)], []), cancellation);
        }

        return _shift == 0 ? log : log.Moved(_shift);
    }

    private static GuardSpan SetBack(long at, long ticks) => new(SpanKind.ClockJump, [], [], new DateTime(at), new DateTime(at), SetBackConfidence,
        new SpanFinding(SpanRelation.TimesMoved, 4) { Seconds = -(double)ticks / TimeSpan.TicksPerSecond, Rival = SpanKind.NoData });

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

        if (!_isNominalHeld && log.Count >= LeastRowsOfNominal)
        {
            _isNominalHeld = true;
            foreach (var note in NominalNote.Of(log, request.Recording.Service?.Kind ?? LogSubject.ServiceFor(log), request.Recording)) await alarms.NoteAsync(note);
        }

        if (log.Starts.Span[^1] <= _lastStart) return;
        // Times that the reader moved rise, and show the watch nothing of a clock that was set.
        var set = log.ClockSteps.Where(step => log.Starts.Span[step.Row] > _lastStart).Select(step => SetBack(log.Starts.Span[step.Row], step.Ticks)).ToList();
        if (set.Count > 0) await alarms.TellAsync(name, new GuardNews([.. set], []), cancellation);
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
}
