using System.Collections.Immutable;
using System.Text.Json;
using Leadwright.Core.Integrity;
using Leadwright.Formats;
using Leadwright.Formats.Matching;
using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Tables;

namespace Leadwright.Surveys.Importing;

/// <summary>Brings recordings into a survey: copied, recognised, matched, the clock checked, looked through, taken in, made into a table.</summary>
/// <remarks>A draft can be looked at, and read again another way, before it is taken in. Whatever was not understood is in the draft and stays with the
/// recording.</remarks>
/// <param name="survey">The survey, open to write.</param>
public sealed class RecordingImport(SurveyFolder survey)
{
    /// <summary>All steps at once.</summary>
    /// <param name="sources">The files of one recording.</param>
    /// <param name="options">How; null for the defaults.</param>
    /// <param name="progress">Is told how far it is.</param>
    /// <param name="cancellation">Stops it. Before the recording is taken in, nothing is left then; after, its table may be missing and is computed when wanted.</param>
    /// <returns>The recording.</returns>
    /// <exception cref="FormatReadException">The files can't be read; nothing changed.</exception>
    /// <exception cref="SurveyException">They can't be saved; nothing changed.</exception>
    public async Task<SurveyRecording> ImportAsync(
        IReadOnlyList<IncomingSource> sources, ImportOptions? options = null, IProgress<ImportProgress>? progress = null, CancellationToken cancellation = default)
    {
        using var draft = Prepare(sources, options, progress, cancellation);
        return await TakeInAsync(draft, progress, cancellation).ConfigureAwait(false);
    }

    /// <summary>Copies and reads a recording, and takes nothing in yet.</summary>
    /// <param name="sources">The files of one recording.</param>
    /// <param name="options">How; null for the defaults.</param>
    /// <param name="progress">Is told how far it is.</param>
    /// <param name="cancellation">Stops it; nothing is left then.</param>
    /// <exception cref="FormatReadException">The files can't be read.</exception>
    /// <exception cref="SurveyException">They can't be copied.</exception>
    public ImportDraft Prepare(
        IReadOnlyList<IncomingSource> sources, ImportOptions? options = null, IProgress<ImportProgress>? progress = null, CancellationToken cancellation = default)
    {
        var staged = survey.Stage(sources, StepProgress.Of(progress, ImportStep.Copying), cancellation);
        try
        {
            return Read(staged, options ?? new(), progress, cancellation);
        }
        catch
        {
            staged.Dispose();
            throw;
        }
    }

    /// <summary>Reads a draft another way, as when a person corrected how its columns are matched.</summary>
    /// <param name="draft">The draft; it ends with this, the new one takes its place.</param>
    /// <param name="options">How.</param>
    /// <param name="progress">Is told how far it is.</param>
    /// <param name="cancellation">Stops it; the draft stays as it was.</param>
    /// <exception cref="FormatReadException">The files can't be read this way; the draft stays as it was.</exception>
    public ImportDraft Again(ImportDraft draft, ImportOptions options, IProgress<ImportProgress>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(draft);
        ArgumentNullException.ThrowIfNull(options);
        var again = Read(draft.Staged, options, progress, cancellation);
        draft.PassOn();
        return again;
    }

    /// <summary>Takes a draft into the survey and computes its table.</summary>
    /// <param name="draft">The draft.</param>
    /// <param name="progress">Is told how far it is.</param>
    /// <param name="cancellation">Stops the computing of the table.</param>
    /// <returns>The recording.</returns>
    /// <exception cref="SurveyException">It can't be saved; nothing changed. Or it is saved and its table can't be written.</exception>
    public async Task<SurveyRecording> TakeInAsync(ImportDraft draft, IProgress<ImportProgress>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(draft);
        cancellation.ThrowIfCancellationRequested();
        progress?.Report(new(ImportStep.Saving, 0));
        var recording = survey.Import(draft.Staged, draft.Facts, draft.Options.Why, draft.Options.Who);
        progress?.Report(new(ImportStep.Saving, 1));
        try
        {
            await new RecordingTables(survey).WriteAsync(recording, draft.Log, draft.Options.Read, StepProgress.Of(progress, ImportStep.Tabling), cancellation).ConfigureAwait(false);
        }
        catch (FormatReadException) when (recording.Facts.Kind == "samples")
        {
            // Stretches of several rates, as fault recorders write them, are no waveform to be drawn as one: the recording is kept without a table.
        }

        return recording;
    }

    /// <summary>The table of a recording's log or samples: numbered like the recording, in the order in which recordings came, from 0.</summary>
    /// <param name="state">The survey.</param>
    /// <param name="recording">The recording.</param>
    public static TableName TableOf(SurveyState state, SurveyRecording recording)
    {
        ArgumentNullException.ThrowIfNull(state);
        ArgumentNullException.ThrowIfNull(recording);
        var index = state.Recordings.Select((other, at) => (other.Entry, at)).First(pair => pair.Entry == recording.Entry).at;
        return new TableName(recording.Facts.Kind == "samples" ? TableName.Samples : TableName.Log, index);
    }

    /// <summary>A match of columns as a document of the journal.</summary>
    /// <param name="profile">The match.</param>
    public static JsonElement DocumentOf(ColumnProfile profile)
    {
        ArgumentNullException.ThrowIfNull(profile);
        return ImportFacts.DocumentOf(profile);
    }

    /// <summary>How files are read, with what the survey says of its panel where nothing is stated.</summary>
    internal static InputReadOptions WithPanel(InputReadOptions read, SurveyPanel panel) => read with
    {
        Service = read.Service ?? panel.KnownService()?.Kind,
        Log = read.Log with { NominalVolts = read.Log.NominalVolts ?? panel.KnownNominal()?.LineToNeutralVolts },
    };

    private ImportDraft Read(StagedFiles staged, ImportOptions options, IProgress<ImportProgress>? progress, CancellationToken cancellation)
    {
        progress?.Report(new(ImportStep.Reading, 0));
        var first = staged.Files[0];
        if (staged.Files.Sum(file => file.Bytes) > options.MostBytesRead) return new ImportDraft(staged, [], ImportFacts.OfUnread(staged, HeadOf(staged, 0), options), options);
        var files = staged.Files.Select((file, index) => new InputFile(file.Name, BytesOf(staged, index, cancellation))).ToList();
        var panel = survey.State.Panel;
        var records = InputReader.Read(files, WithPanel(options.Read, panel));
        progress?.Report(new(ImportStep.Reading, 1));
        cancellation.ThrowIfCancellationRequested();
        var facts = ImportFacts.Of(records, InputSniffer.KindOf(files[0]), options, panel.KnownService()?.Kind);
        return new ImportDraft(staged, records, facts with { Integrity = Scan(records, options, progress, cancellation), Remarks = [.. Same(staged), .. facts.Remarks] }, options);
    }

    // A file that came twice would be told twice by every verb, and its energy counted twice by a person.
    private IEnumerable<ImportRemark> Same(StagedFiles staged)
    {
        var twin = survey.State.WorkRecordings.FirstOrDefault(recording => recording.Files.Select(file => file.Sha256).SequenceEqual(staged.Files.Select(file => file.Sha256), StringComparer.Ordinal));
        return twin is null ? [] : [new ImportRemark("warning", $"The recording '{twin.Name}' of this survey is the same file, byte for byte. Take one of the two out of the survey, or it is told twice.")];
    }

    private ImmutableArray<IntegrityRemark> Scan(ImmutableArray<InputRecord> records, ImportOptions options, IProgress<ImportProgress>? progress, CancellationToken cancellation)
    {
        if (records.OfType<LogInput>().FirstOrDefault()?.File.Log is not { Count: > 0 } log || !ImportFacts.IsScanned(log.Count, options)) return [];
        var panel = survey.State.Panel;
        if (panel.KnownService() is not { } service) return [];
        progress?.Report(new(ImportStep.Scanning, 0));
        var report = IntervalGuard.Judge(
            log, new GuardOptions { Service = service.Kind, Nominal = panel.KnownNominal(), FrequencyHertz = panel.FrequencyHertz, Check = panel.Known() }, cancellation);
        progress?.Report(new(ImportStep.Scanning, 1));
        return [.. report.Spans.Select(ImportFacts.RemarkOf)];
    }

    private static byte[] BytesOf(StagedFiles staged, int index, CancellationToken cancellation)
    {
        using var stream = staged.OpenRead(index);
        var bytes = new byte[staged.Files[index].Bytes];
        const int Block = 1 << 22;
        for (var at = 0; at < bytes.Length; at += Block)
        {
            cancellation.ThrowIfCancellationRequested();
            stream.ReadExactly(bytes, at, Math.Min(Block, bytes.Length - at));
        }

        return bytes;
    }

    private static InputKind HeadOf(StagedFiles staged, int index)
    {
        using var stream = staged.OpenRead(index);
        var head = new byte[1 << 16];
        return InputSniffer.KindOf(new InputFile(staged.Files[index].Name, head.AsMemory(0, stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false))));
    }

    private sealed class StepProgress(IProgress<ImportProgress> progress, ImportStep step) : IProgress<double>
    {
        public static StepProgress? Of(IProgress<ImportProgress>? progress, ImportStep step) => progress is null ? null : new(progress, step);

        public void Report(double value) => progress.Report(new(step, value));
    }
}
