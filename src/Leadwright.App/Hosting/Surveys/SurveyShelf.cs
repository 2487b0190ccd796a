using System.Collections.Immutable;
using System.Globalization;
using Leadwright.Client.Surveys;
using Leadwright.Surveys;
using Leadwright.Surveys.Journal;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>The folder in which surveys stand side by side, each in a folder of its own.</summary>
/// <param name="folder">It; made when the first survey is.</param>
/// <param name="author">Who writes.</param>
internal sealed class SurveyShelf(string folder, SurveyAuthor author)
{
    private const string Unfinished = ".unfinished-";
    private readonly Lock _gate = new();
    private readonly Dictionary<string, SemaphoreSlim> _writers = new(StringComparer.Ordinal);

    /// <summary>The folder.</summary>
    public string Folder { get; } = Path.GetFullPath(folder);

    /// <summary>All surveys, the last changed first. One that can't be opened is there with its problem.</summary>
    public ImmutableArray<SurveyCard> List()
    {
        if (!Directory.Exists(Folder)) return [];
        return
        [
            .. Directory.EnumerateDirectories(Folder).Where(SurveyFolder.IsSurvey).Where(path => !Path.GetFileName(path).StartsWith('.'))
                .Select(CardOf).OrderByDescending(card => card.Changed).ThenBy(card => card.Id, StringComparer.Ordinal),
        ];
    }

    /// <summary>True when there is a survey of a name.</summary>
    public bool Has(string id) => Find(id) is not null;

    /// <summary>Opens a survey to read.</summary>
    /// <exception cref="SurveyException">There is none, or it can't be opened.</exception>
    public SurveyFolder Read(string id) => SurveyFolder.Open(PathOf(id));

    /// <summary>Opens a survey to write for as long as a piece of work lasts. Others wait.</summary>
    /// <exception cref="SurveyException">There is none, another program has it open, or it can't be written.</exception>
    public async Task<T> WriteAsync<T>(string id, Func<SurveyFolder, T> work, CancellationToken cancellation)
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
            return work(survey);
        }
        finally
        {
            writer.Release();
        }
    }

    /// <summary>Makes a survey.</summary>
    /// <returns>Its name.</returns>
    public string Make(Leadwright.Surveys.NewSurvey survey)
    {
        var id = survey.Id ?? SurveyId.New(survey.Title, author.Clock.GetUtcNow());
        Directory.CreateDirectory(Folder);
        SurveyFolder.Create(Path.Combine(Folder, id), survey with { Id = id }, author).Dispose();
        return id;
    }

    /// <summary>Copies a survey with all it holds.</summary>
    /// <returns>The copy's name.</returns>
    public async Task<string> DuplicateAsync(string id, CancellationToken cancellation)
    {
        var path = PathOf(id);
        using var original = SurveyFolder.Open(path);
        var (title, from) = (CopyTitle(original.State.Title), original.State.Id);
        var copy = SurveyId.New(title, author.Clock.GetUtcNow());
        var draft = Path.Combine(Folder, Unfinished + copy);
        try
        {
            await CopyAsync(path, draft, cancellation);
            using (var survey = SurveyFolder.Open(draft, SurveyAccess.Write, author)) survey.Append(new SurveyDuplicated(copy, from, title));
            Directory.Move(draft, Path.Combine(Folder, copy));
            return copy;
        }
        finally
        {
            if (Directory.Exists(draft)) Directory.Delete(draft, recursive: true);
        }
    }

    /// <summary>A survey with what the screens need of it.</summary>
    public SurveySheet SheetOf(string id)
    {
        using var survey = Read(id);
        return SheetOf(id, survey);
    }

    /// <summary>The folder of a survey.</summary>
    /// <exception cref="SurveyException">There is none.</exception>
    public string PathOf(string id) => Find(id) ?? throw new SurveyException(
        SurveyProblem.NotFound, $"There is no survey '{id}' in {Folder}. It may have been moved: look at the list of surveys.");

    // Only a name that stands in the folder is ever used: no word of an address becomes a path.
    private string? Find(string id) => !Directory.Exists(Folder) ? null : Directory.EnumerateDirectories(Folder)
        .FirstOrDefault(path => Path.GetFileName(path) == id && SurveyFolder.IsSurvey(path));

    private static SurveySheet SheetOf(string id, SurveyFolder survey)
    {
        var state = survey.State;
        return new SurveySheet(id, state.Title)
        {
            Place = state.Site.Place,
            Service = state.Panel.Service ?? "",
            Nominal = state.Panel.Nominal ?? "",
            Changed = state.Changed,
            IsInvented = DemoSurvey.IsOne(state),
            IsArchived = state.IsArchived,
            RecordingCount = state.WorkRecordings.Count(),
            Sequence = state.LastEntry,
            Limits = string.Join(',', state.Plan.Limits),
            Folder = survey.Path,
            Problem = survey.Faults.IsEmpty ? "" : survey.Faults[0],
            Recordings =
            [
                .. state.WorkRecordings.Select(recording => new RecordingCard(recording.Name, recording.Files.IsEmpty ? recording.Name : recording.Files[0].Name)
                {
                    From = recording.Facts.From ?? default,
                    To = recording.Facts.To ?? default,
                    IntervalSeconds = recording.Facts.IntervalSeconds ?? 0,
                    IsSampled = recording.Facts.Kind == "samples",
                    Bytes = recording.Files.Sum(file => file.Bytes),
                    Sha256 = recording.Files.IsEmpty ? "" : recording.Files[0].Sha256,
                    Imported = recording.Imported,
                }),
            ],
        };
    }

    private static SurveyCard CardOf(string path)
    {
        var id = Path.GetFileName(path);
        try
        {
            using var survey = SurveyFolder.Open(path);
            var sheet = SheetOf(id, survey);
            return new SurveyCard(sheet.Id, sheet.Name)
            {
                Place = sheet.Place, Service = sheet.Service, Nominal = sheet.Nominal, Changed = sheet.Changed, IsInvented = sheet.IsInvented,
                IsArchived = sheet.IsArchived, RecordingCount = sheet.RecordingCount, Problem = sheet.Problem,
            };
        }
        catch (SurveyException failure)
        {
            return new SurveyCard(id, id) { Problem = failure.Message };
        }
    }

    private static string CopyTitle(string title) => string.Create(CultureInfo.InvariantCulture, $"{title} (copy)");

    private static async Task CopyAsync(string from, string to, CancellationToken cancellation)
    {
        foreach (var path in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            var name = Path.GetRelativePath(from, path);
            if (name is "writer.lock" or "writer.json" || name.StartsWith("incoming", StringComparison.Ordinal)) continue;
            var target = Path.Combine(to, name);
            Directory.CreateDirectory(Path.GetDirectoryName(target)!);
            await using var source = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            await using var copy = new FileStream(target, FileMode.CreateNew, FileAccess.Write);
            await source.CopyToAsync(copy, cancellation);
        }
    }
}
