using System.Collections.Immutable;
using System.Security.Cryptography;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Shelves;

/// <summary>Copies surveys: the journal as it is at the start, then the files it names. Somebody may write to the survey meanwhile.</summary>
internal static class SurveyCopier
{
    private const string TablesFolder = "tables";
    private const int BlockBytes = 1 << 20;

    /// <summary>Copies a survey into a new folder of a shelf.</summary>
    /// <param name="source">The survey's folder.</param>
    /// <param name="shelf">Where the copy comes.</param>
    /// <param name="name">Name of the copy's folder; null for the id.</param>
    /// <param name="hasTables">True to copy the computed tables too; they name the survey they belong to.</param>
    /// <param name="progress">Is told the share copied.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <param name="change">Writes into the copy before it gets its name; null for none.</param>
    /// <param name="author">Who writes; needed with <paramref name="change"/>.</param>
    public static SurveyCopy Copy(
        string source, string shelf, string? name, bool hasTables, IProgress<double>? progress, CancellationToken cancellation,
        Action<SurveyFolder>? change = null, SurveyAuthor? author = null)
    {
        using var survey = SurveyFolder.Open(source);
        RequireSound(survey, source);
        var state = survey.State;
        var from = new DiskStorage(source);
        try
        {
            using var draft = UnfinishedFolder.Begin(shelf, name ?? state.Id);
            var unsound = ImmutableArray.CreateBuilder<VerifiedFile>();
            var total = Math.Max(state.Files.Sum(file => file.Bytes), 1);
            var done = 0L;
            foreach (var file in state.Files)
            {
                if (CopyFile(survey, file, draft.Storage, cancellation) is var standing and not StoredFileStanding.Sound) unsound.Add(new(file, standing));
                progress?.Report((double)(done += file.Bytes) / total);
            }

            if (hasTables) CopyTree(from, draft.Storage, TablesFolder, cancellation);
            WriteJournal(survey, draft.Storage);
            draft.Release();
            // Opened once to write: so the document is written, and the copy is known to be one that can be opened.
            using (var copy = SurveyFolder.Open(draft.Path, SurveyAccess.Write, author ?? SurveyAuthor.OfAccount())) change?.Invoke(copy);
            var strays = survey.Verify(files: false).Strays;
            return new SurveyCopy(draft.Finish(), name ?? state.Id, unsound.ToImmutable(), strays);
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            throw StorageFailure.Of("copy", source, failure);
        }
    }

    /// <summary>Refuses a survey whose journal is not sound: a copy would hide what was changed.</summary>
    public static void RequireSound(SurveyFolder survey, string name)
    {
        if (!survey.Faults.IsEmpty)
            throw new SurveyException(SurveyProblem.Damaged, $"The survey '{name}' is not copied: {survey.Faults[0]} 'leadwright survey check' tells all of it.");
    }

    private static void WriteJournal(SurveyFolder survey, ISurveyStorage target)
    {
        using var file = target.Create(SurveyFolder.JournalFile);
        file.Write(survey.JournalBytes());
        file.Flush();
        target.SyncFolder("");
    }

    private static StoredFileStanding CopyFile(SurveyFolder survey, StoredFile file, ISurveyStorage target, CancellationToken cancellation)
    {
        Stream stream;
        try
        {
            stream = survey.OpenFile(file);
        }
        catch (SurveyException)
        {
            return StoredFileStanding.Missing;
        }

        using (stream)
        {
            var sum = Pour(stream, target, file.Path, cancellation);
            return sum == file.Sha256 ? StoredFileStanding.Sound : StoredFileStanding.Changed;
        }
    }

    /// <summary>Writes a stream into a new file; returns its SHA-256.</summary>
    public static string Pour(Stream stream, ISurveyStorage target, string path, CancellationToken cancellation, Action<int>? count = null)
    {
        using var sum = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        using (var written = target.Create(path))
        {
            var block = new byte[BlockBytes];
            for (int read; (read = stream.Read(block)) > 0;)
            {
                cancellation.ThrowIfCancellationRequested();
                count?.Invoke(read);
                sum.AppendData(block, 0, read);
                written.Write(block.AsSpan(0, read));
            }

            written.Flush();
        }

        target.Protect(path);
        target.SyncFolder(StoredPath.FolderOf(path));
        return Convert.ToHexStringLower(sum.GetHashAndReset());
    }

    private static void CopyTree(ISurveyStorage from, ISurveyStorage to, string folder, CancellationToken cancellation)
    {
        foreach (var file in from.Files(folder).Select(name => $"{folder}/{name}"))
        {
            cancellation.ThrowIfCancellationRequested();
            if (!StoredPath.IsInside(file)) continue;
            using var stream = from.OpenRead(file);
            using var target = to.Create(file);
            var block = new byte[BlockBytes];
            for (int read; (read = stream.Read(block)) > 0;) target.Write(block.AsSpan(0, read));
            target.Flush();
        }

        foreach (var inner in from.Folders(folder).Select(name => $"{folder}/{name}").Where(StoredPath.IsInside)) CopyTree(from, to, inner, cancellation);
    }
}
