using System.Collections.Immutable;
using System.Globalization;
using Leadwright.App.Verbs;
using Leadwright.App.Verbs.Guarding;
using Leadwright.App.Verbs.Mending;
using Leadwright.App.Verbs.Surveying;
using Leadwright.Core.Circuits;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Mending;
using Leadwright.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>A recording of a survey, read once for all that is asked of it. What is worked out comes from the code of the verbs.</summary>
internal sealed class RecordingDesk : IDisposable
{
    private readonly SemaphoreSlim _turn = new(1, 1);
    private readonly GuardRequest _request;
    private readonly Dictionary<string, MendReport> _mended = new(StringComparer.Ordinal);
    private RecordingFile? _file;
    private readonly ImmutableArray<string> _files;
    private RecordingWaves? _waves;
    private (bool IsKnown, WaveMatch? Match) _match;
    private (GuardReport Report, GuardNotes Notes)? _guard;

    public RecordingDesk(SurveyFolder survey, SurveyRecording recording)
    {
        var panel = survey.State.Panel;
        Path = survey.PathOf(recording.Files[0]);
        FileName = recording.Files[0].Name;
        _files = [.. recording.Files.Select(survey.PathOf)];
        var input = SurveyInput.Of([survey.Path], recording.Name, refusal => throw refusal, "log", "samples").Single();
        _request = new GuardRequest(input.Complete(new RecordingRequest()), panel.Known());
        Key = ResultFiles.KeyOf(
        [
            ProgramStamp.Text, recording.Name, .. recording.Files.Select(file => file.Sha256), panel.Service ?? "", panel.Nominal ?? "",
            panel.FrequencyHertz?.ToString(CultureInfo.InvariantCulture) ?? "", panel.Load ?? "", panel.MayExport ? "export" : "", panel.Rotation ?? "", recording.Columns?.GetRawText() ?? "",
            recording.Facts.Reading?.Encoding ?? "", recording.Facts.Reading?.Start?.ToString("s", CultureInfo.InvariantCulture) ?? "",
        ]);
    }

    /// <summary>What everything worked out follows from: the files' digests, the panel, the program.</summary>
    public string Key { get; }

    /// <summary>The file on disk.</summary>
    public string Path { get; }

    /// <summary>The file's name where it came from.</summary>
    public string FileName { get; }

    /// <summary>How it is read and what is known of the panel.</summary>
    public GuardRequest Request => _request;

    /// <summary>The service: as stated, or as the columns look.</summary>
    public ServiceKind ServiceOf(IntervalLog log) => _request.Recording.Service?.Kind ?? LogSubject.ServiceFor(log);

    /// <summary>The recording.</summary>
    public async Task<RecordingFile> ReadAsync(CancellationToken cancellation) => await AloneAsync(Read, cancellation);

    /// <summary>Which of its channels is which, without reading its samples; null when that can't be told.</summary>
    public async Task<WaveMatch?> MatchAsync(CancellationToken cancellation) => await AloneAsync(
        () => (_match = _match.IsKnown ? _match : (true, WaveMatch.Of(_files, _request.Recording, cancellation))).Match, cancellation);

    /// <summary>Its samples, all of them; null when it holds logged values. For recordings without a table of samples, as those of several rates.</summary>
    public async Task<RecordingWaves?> WavesAsync(CancellationToken cancellation) => await AloneAsync(
        () => Read().Samples is null ? null : _waves ??= RecordingWaves.Of(Read(), _request.Recording), cancellation);

    /// <summary>What a guard of it says.</summary>
    public async Task<(GuardReport Report, GuardNotes Notes)> GuardAsync(CancellationToken cancellation) =>
        await AloneAsync(() => Guard(cancellation), cancellation);

    /// <summary>It, mended.</summary>
    /// <param name="withdrawn">Findings that a person does not accept.</param>
    /// <param name="cancellation">Stops the work.</param>
    public async Task<MendReport> MendAsync(ImmutableArray<WithdrawnFinding> withdrawn, CancellationToken cancellation) => await AloneAsync(
        () =>
        {
            var key = KeyOf(withdrawn);
            if (_mended.TryGetValue(key, out var known)) return known;
            var guard = WithdrawnFinding.TakeOut(Guard(cancellation).Report, withdrawn);
            var report = MendRun.Mend(Read(), guard, new MendRequest(_request.Recording, _request.Known), cancellation);
            // The one with everything on, and the last with something off.
            if (_mended.Count > 1) _mended.Remove(_mended.Keys.First(other => other.Length > 0));
            return _mended[key] = report;
        },
        cancellation);

    /// <summary>A short text for a set of withdrawn findings; empty for none.</summary>
    public static string KeyOf(ImmutableArray<WithdrawnFinding> withdrawn) => string.Join(
        ';', withdrawn.Select(finding => string.Create(
            CultureInfo.InvariantCulture,
            $"{finding.Kind}:{string.Join('+', finding.Leads)}:{string.Join('+', finding.Clamps)}:{finding.From.Ticks}:{finding.To.Ticks}")).Order(StringComparer.Ordinal));

    public void Dispose() => _turn.Dispose();

    private (GuardReport Report, GuardNotes Notes) Guard(CancellationToken cancellation) => _guard ??= GuardRun.Judge(Read(), _request, cancellation);

    // Messages name the file as the person knows it, not its place in the survey.
    private RecordingFile Read() => _file ??= RecordingFile.Read(Path, _request.Recording, prefersSamples: false) with { Path = FileName };

    private async Task<T> AloneAsync<T>(Func<T> work, CancellationToken cancellation)
    {
        await _turn.WaitAsync(cancellation);
        try
        {
            return await Task.Run(work, cancellation);
        }
        finally
        {
            _turn.Release();
        }
    }
}
