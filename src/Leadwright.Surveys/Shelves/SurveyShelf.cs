using System.Collections.Immutable;
using Leadwright.Surveys.Documents;
using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Shelves;

/// <summary>A folder of surveys, each in a folder of its own.</summary>
/// <param name="path">The folder; made when the first survey is.</param>
public sealed class SurveyShelf(string path)
{
    /// <summary>The folder.</summary>
    public string Path { get; } = path;

    /// <summary>All surveys, the one that was written to last first. Reads no more than each one's <c>survey.json</c>.</summary>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="SurveyException">The folder can't be read. One that is not there has no surveys.</exception>
    public ImmutableArray<SurveySummary> List(CancellationToken cancellation = default)
    {
        if (!Directory.Exists(Path)) return [];
        try
        {
            var found = new List<SurveySummary>();
            foreach (var folder in Directory.EnumerateDirectories(Path))
            {
                cancellation.ThrowIfCancellationRequested();
                if (!folder.EndsWith(UnfinishedFolder.Ending, StringComparison.Ordinal) && SurveyFolder.IsSurvey(folder)) found.Add(SummaryOf(folder));
            }

            return [.. found.OrderByDescending(survey => survey.Changed).ThenBy(survey => survey.Folder, StringComparer.Ordinal)];
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            throw new SurveyException(StorageFailure.ProblemOf(failure), $"Cannot list the surveys in '{Path}': {failure.Message}", failure);
        }
    }

    /// <summary>The survey of an id or of a folder's name; null when there is none.</summary>
    /// <param name="name">The id, or the folder's name.</param>
    public SurveySummary? Find(string name)
    {
        var all = List();
        return all.FirstOrDefault(survey => survey.Folder == name) ?? all.FirstOrDefault(survey => survey.Id == name);
    }

    /// <summary>The survey, not put away, that was written to last of those that hold all of some files; null when there is none.</summary>
    /// <param name="digests">SHA-256 of each file, small hexadecimal digits; at least one.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="SurveyException">The folder can't be read.</exception>
    public SurveySummary? Holding(IReadOnlyList<string> digests, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(digests);
        return digests.Count == 0 ? null : List(cancellation).FirstOrDefault(survey => !survey.IsArchived && digests.All(digest => survey.FileDigests.Contains(digest)));
    }

    /// <summary>Makes a survey in a folder named like its id.</summary>
    /// <param name="survey">What is known of it.</param>
    /// <param name="author">Who makes it.</param>
    /// <returns>The survey, open to write.</returns>
    /// <exception cref="SurveyException">The place can't be written to, or a survey of that id is there.</exception>
    public SurveyFolder New(NewSurvey survey, SurveyAuthor author)
    {
        ArgumentNullException.ThrowIfNull(survey);
        ArgumentNullException.ThrowIfNull(author);
        var id = survey.Id ?? SurveyId.New(survey.Title, author.Clock.GetUtcNow());
        SurveyId.Require(id);
        return SurveyFolder.Create(System.IO.Path.Combine(Path, id), survey with { Id = id }, author);
    }

    /// <summary>Makes a copy that goes its own way from here on, with an id of its own.</summary>
    /// <param name="source">The survey's folder.</param>
    /// <param name="title">The copy's title.</param>
    /// <param name="author">Who copies.</param>
    /// <param name="progress">Is told the share copied, 0 to 1.</param>
    /// <param name="cancellation">Stops it; nothing is left then.</param>
    /// <exception cref="SurveyException">It can't be read, or the copy can't be written.</exception>
    public SurveyCopy Duplicate(string source, string title, SurveyAuthor author, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(title);
        ArgumentNullException.ThrowIfNull(author);
        var id = SurveyId.New(title, author.Clock.GetUtcNow());
        return SurveyCopier.Copy(source, Path, id, hasTables: false, progress, cancellation, copy =>
        {
            var from = copy.State.Id;
            copy.Append(new SurveyDuplicated(id, from, title));
        }, author);
    }

    /// <summary>Puts a survey away, or takes it out again.</summary>
    /// <param name="folder">Its folder's name, or its id.</param>
    /// <param name="isArchived">True to put it away.</param>
    /// <param name="author">Who does.</param>
    /// <exception cref="SurveyException">There is none, or it can't be written to.</exception>
    public void Archive(string folder, bool isArchived, SurveyAuthor author)
    {
        var found = Find(folder) ?? throw new SurveyException(SurveyProblem.NotFound, $"There is no survey '{folder}' in '{Path}'.");
        using var survey = SurveyFolder.Open(found.Path, SurveyAccess.Write, author);
        if (survey.State.IsArchived != isArchived) survey.Append(new ArchivedChanged(isArchived));
    }

    /// <summary>Copies a survey from anywhere onto this shelf: from a stick, for example. Also the way onto a stick: its folder is a shelf.</summary>
    /// <param name="source">The survey's folder.</param>
    /// <param name="progress">Is told the share copied, 0 to 1.</param>
    /// <param name="cancellation">Stops it; nothing is left then.</param>
    /// <exception cref="SurveyException">It can't be read, is here already, or the copy can't be written.</exception>
    public SurveyCopy CopyFrom(string source, IProgress<double>? progress = null, CancellationToken cancellation = default) =>
        SurveyCopier.Copy(source, Path, null, hasTables: true, progress, cancellation);

    /// <summary>Takes a survey out of a zip file.</summary>
    /// <param name="zip">The file; can be positioned; stays open.</param>
    /// <param name="name">Its name, for messages.</param>
    /// <param name="limits">How much it may hold; null for the usual.</param>
    /// <param name="progress">Is told the share read, 0 to 1.</param>
    /// <param name="cancellation">Stops it; nothing is left then.</param>
    /// <exception cref="SurveyException">It is no survey, is unsafe, is here already, or can't be written.</exception>
    public SurveyCopy CopyFromZip(Stream zip, string name, ZipLimits? limits = null, IProgress<double>? progress = null, CancellationToken cancellation = default) =>
        SurveyZip.Unpack(zip, name, Path, limits ?? new(), progress, cancellation);

    private static SurveySummary SummaryOf(string path)
    {
        var folder = System.IO.Path.GetFileName(path);
        try
        {
            var storage = new DiskStorage(path);
            SurveyHeading? heading = null;
            if (storage.LengthOf(SurveyFolder.DocumentFile) is not null)
            {
                using var stream = storage.OpenRead(SurveyFolder.DocumentFile);
                heading = SurveyText.ReadHeading(stream);
            }

            if (heading is null) return SummaryOf(folder, path, SurveyFolder.Open(path).State);
            return new SurveySummary(folder, path, heading.Id ?? "", heading.Title ?? folder)
            {
                Site = heading.Site ?? new(),
                Panel = heading.Panel ?? new(),
                Made = heading.Made,
                Changed = heading.Changed,
                IsArchived = heading.IsArchived,
                RecordingCount = heading.Recordings?.Count(recording => recording is { IsRemoved: false }) ?? 0,
                FileDigests = [.. (heading.Recordings ?? []).Where(recording => recording is { IsRemoved: false }).SelectMany(recording => recording.Files ?? []).Select(file => file?.Sha256 ?? "")],
                Problem = SurveySchema.VersionOf(heading.Schema) > SurveySchema.Version
                    ? $"It was made by a newer version of this program ({heading.Schema}). Get the newer version." : null,
            };
        }
        catch (Exception failure) when (failure is SurveyException || StorageFailure.IsOne(failure))
        {
            return new SurveySummary(folder, path, "", folder) { Problem = failure.Message };
        }
    }

    private static SurveySummary SummaryOf(string folder, string path, SurveyState state) => new(folder, path, state.Id, state.Title)
    {
        Site = state.Site,
        Panel = state.Panel,
        Made = state.Made,
        Changed = state.Changed,
        IsArchived = state.IsArchived,
        RecordingCount = state.WorkRecordings.Count(),
        FileDigests = [.. state.WorkRecordings.SelectMany(recording => recording.Files).Select(file => file.Sha256)],
    };
}
