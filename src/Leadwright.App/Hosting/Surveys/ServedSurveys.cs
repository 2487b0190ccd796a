using System.Collections.Immutable;
using System.Globalization;
using Leadwright.App.Verbs;
using Leadwright.Client.Surveys;
using Leadwright.Surveys;
using Leadwright.Surveys.Importing;
using Leadwright.Surveys.Shelves;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>The folder of surveys as the screens see it; in this program one at a time writes to a survey, and the others wait for their turn.</summary>
/// <param name="folder">The folder; made when the first survey is.</param>
/// <param name="author">Who writes.</param>
internal sealed class ServedSurveys(string folder, SurveyAuthor author)
{
    private readonly SurveyShelf _shelf = new(Path.GetFullPath(folder));
    private readonly Lock _gate = new();
    private readonly Dictionary<string, SemaphoreSlim> _writers = new(StringComparer.Ordinal);

    /// <summary>The folder.</summary>
    public string Folder => _shelf.Path;

    /// <summary>All surveys, the last changed first. One that can't be opened is there with its problem.</summary>
    public ImmutableArray<SurveyCard> List(CancellationToken cancellation) =>
    [
        .. _shelf.List(cancellation).Select(survey => new SurveyCard(survey.Folder, survey.Title.Length > 0 ? survey.Title : survey.Folder)
        {
            Place = survey.Site.Place,
            Service = survey.Panel.Service ?? "",
            Nominal = survey.Panel.Nominal ?? "",
            Changed = survey.Changed,
            IsInvented = DemoSurvey.IsOne(survey.Site),
            IsArchived = survey.IsArchived,
            RecordingCount = survey.RecordingCount,
            Problem = survey.Problem ?? "",
        }),
    ];

    /// <summary>True when there is a survey of a name.</summary>
    public bool Has(string id) => _shelf.Find(id) is not null;

    /// <summary>The survey that holds some files already, byte for byte; null when none does.</summary>
    /// <exception cref="SurveyException">The folder can't be read.</exception>
    public string? TitleOfHolder(IReadOnlyList<string> digests, CancellationToken cancellation) =>
        _shelf.Holding(digests, cancellation) is { } holder ? holder.Title.Length > 0 ? holder.Title : holder.Folder : null;

    /// <summary>Opens a survey to read.</summary>
    /// <exception cref="SurveyException">There is none, or it can't be opened.</exception>
    public SurveyFolder Read(string id) => SurveyFolder.Open(PathOf(id));

    /// <summary>Opens a survey to write for as long as a piece of work lasts.</summary>
    /// <exception cref="SurveyException">There is none, another program has it open, or it can't be written.</exception>
    public async Task<T> WriteAsync<T>(string id, Func<SurveyFolder, Task<T>> work, CancellationToken cancellation)
    {
        var path = PathOf(id);
        SemaphoreSlim? writer;
        lock (_gate)
        {
            if (!_writers.TryGetValue(path, out writer)) _writers[path] = writer = new SemaphoreSlim(1, 1);
        }

        await writer.WaitAsync(cancellation);
        try
        {
            using var survey = SurveyFolder.Open(path, SurveyAccess.Write, author);
            return await work(survey);
        }
        finally
        {
            writer.Release();
        }
    }

    /// <summary>Makes a survey.</summary>
    /// <returns>Its name in addresses.</returns>
    public string Make(Leadwright.Surveys.NewSurvey survey)
    {
        using var made = _shelf.New(survey, author);
        return made.State.Id;
    }

    /// <summary>Copies a survey: the copy goes its own way from here on.</summary>
    /// <returns>The copy's name in addresses.</returns>
    public Task<string> DuplicateAsync(string id, CancellationToken cancellation)
    {
        var path = PathOf(id);
        return Task.Run(
            async () =>
            {
                string title;
                using (var survey = SurveyFolder.Open(path)) title = string.Create(CultureInfo.InvariantCulture, $"{survey.State.Title} (copy)");
                var copy = _shelf.Duplicate(path, title, author, cancellation: cancellation);
                await ComputeTablesAsync(copy.Path, cancellation);
                return copy.Id;
            },
            cancellation);
    }

    /// <summary>Packs a survey into a zip file.</summary>
    /// <returns>The zip from its start; it is gone when the stream is closed.</returns>
    public async Task<Stream> PackAsync(string id, CancellationToken cancellation)
    {
        using var survey = Read(id);
        var folder = WorkFolder.Make("leadwright-packed-");
        var stream = new PackedStream(Path.Combine(folder.Path, "survey.zip"), folder);
        try
        {
            await Task.Run(() => SurveyZip.Pack(survey, stream, cancellation: cancellation), cancellation);
            stream.Position = 0;
            return stream;
        }
        catch
        {
            await stream.DisposeAsync();
            throw;
        }
    }

    /// <summary>Takes a survey out of a zip file.</summary>
    /// <returns>Its name in addresses.</returns>
    public string Unpack(string path, CancellationToken cancellation)
    {
        using var zip = new FileStream(path, FileMode.Open, FileAccess.Read);
        var copy = _shelf.CopyFromZip(zip, Path.GetFileName(path), cancellation: cancellation);
        ComputeTablesAsync(copy.Path, cancellation).GetAwaiter().GetResult();
        return copy.Id;
    }

    // What a copy lacks is computed now, so that its charts are there at once. One that can't be is drawn from the recording itself.
    private static async Task ComputeTablesAsync(string path, CancellationToken cancellation)
    {
        try
        {
            using var survey = SurveyFolder.Open(path);
            await new RecordingTables(survey).ComputeMissingAsync(null, cancellation);
        }
        catch (Exception failure) when (failure is SurveyException or OperationCanceledException)
        {
            // The copy is whole without them.
        }
    }

    /// <summary>A survey with what the screens need of it.</summary>
    public SurveySheet SheetOf(string id)
    {
        using var survey = Read(id);
        var state = survey.State;
        return new SurveySheet(Path.GetFileName(survey.Path), state.Title)
        {
            Place = state.Site.Place,
            Service = state.Panel.Service ?? "",
            Nominal = state.Panel.Nominal ?? "",
            Changed = state.Changed,
            IsInvented = DemoSurvey.IsOne(state.Site),
            IsArchived = state.IsArchived,
            Learn = state.Plan.Learn,
            PlanText = state.Plan.Text,
            RecordingCount = state.WorkRecordings.Count(),
            Sequence = state.LastEntry,
            Limits = string.Join(',', state.Plan.Limits),
            Folder = survey.Path,
            Problem = survey.Faults.IsEmpty ? "" : survey.Faults[0],
            Departing = SurveyPanelDesk.LastOf(state),
            Recordings = [.. state.WorkRecordings.Where(IsShown).Select(CardOf)],
        };
    }

    /// <summary>True for recordings that guard, mend and study are about: readings of one moment are for the hook-up.</summary>
    public static bool IsShown(SurveyRecording recording) => recording.Facts.Kind != "readings" && !recording.Files.IsEmpty;

    /// <summary>The folder of a survey.</summary>
    /// <exception cref="SurveyException">There is none.</exception>
    // Only a name that stands in the folder is ever used: no word of an address becomes a path.
    public string PathOf(string id) => _shelf.Find(id)?.Path ?? throw new SurveyException(
        SurveyProblem.NotFound, $"There is no survey '{id}' in {Folder}. It may have been moved: look at the list of surveys.");

    private static RecordingCard CardOf(SurveyRecording recording) => new(recording.Name, recording.Files[0].Name)
    {
        From = recording.Facts.From ?? default,
        To = recording.Facts.To ?? default,
        IntervalSeconds = recording.Facts.IntervalSeconds ?? 0,
        IsSampled = recording.Facts.Kind == "samples",
        AsksColumns = recording.AsksColumns,
        Bytes = recording.Files.Sum(file => file.Bytes),
        Sha256 = recording.Files[0].Sha256,
        Imported = recording.Imported,
    };

    // Goes with its folder when it is closed.
    private sealed class PackedStream(string path, WorkFolder folder) : FileStream(path, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None, 1 << 16)
    {
        protected override void Dispose(bool disposing)
        {
            base.Dispose(disposing);
            if (disposing) folder.Dispose();
        }

        public override async ValueTask DisposeAsync()
        {
            await base.DisposeAsync();
            folder.Dispose();
            GC.SuppressFinalize(this);
        }
    }
}
