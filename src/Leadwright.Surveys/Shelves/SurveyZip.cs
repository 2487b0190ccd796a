using System.Collections.Immutable;
using System.IO.Compression;
using Leadwright.Surveys.Journal;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Shelves;

/// <summary>A survey as one zip file, to be sent.</summary>
public static class SurveyZip
{
    private const int LinkKind = 0xA000;
    private const int KindMask = 0xF000;

    /// <summary>Packs a survey: its journal, its document and the files that the journal names, under one folder named like its id.</summary>
    /// <param name="survey">The survey.</param>
    /// <param name="target">Receives the zip; stays open.</param>
    /// <param name="progress">Is told the share packed, 0 to 1.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <returns>Files that could not be packed as they were taken in.</returns>
    /// <exception cref="SurveyException">The journal is not sound, or a file can't be read.</exception>
    public static ImmutableArray<VerifiedFile> Pack(SurveyFolder survey, Stream target, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(survey);
        ArgumentNullException.ThrowIfNull(target);
        SurveyCopier.RequireSound(survey, survey.Path);
        var state = survey.State;
        var standings = survey.Verify(cancellation: cancellation);
        using var zip = new ZipArchive(target, ZipArchiveMode.Create, leaveOpen: true);
        Add(zip, $"{state.Id}/{SurveyFolder.JournalFile}", new MemoryStream(survey.JournalBytes()));
        Add(zip, $"{state.Id}/{SurveyFolder.DocumentFile}", new MemoryStream(survey.DocumentBytes()));
        var total = Math.Max(state.Files.Sum(file => file.Bytes), 1);
        var done = 0L;
        foreach (var file in standings.Files.Where(file => file.Standing != StoredFileStanding.Missing).Select(file => file.File))
        {
            cancellation.ThrowIfCancellationRequested();
            using var stream = survey.OpenFile(file);
            Add(zip, $"{state.Id}/{file.Path}", stream);
            progress?.Report((double)(done += file.Bytes) / total);
        }

        return [.. standings.Files.Where(file => file.Standing != StoredFileStanding.Sound)];
    }

    internal static SurveyCopy Unpack(Stream zip, string name, string shelf, ZipLimits limits, IProgress<double>? progress, CancellationToken cancellation)
    {
        try
        {
            using var archive = new ZipArchive(zip, ZipArchiveMode.Read, leaveOpen: true);
            var (journal, wanted, leftOut) = Sorted(archive, name, limits, zip.Length);
            var entries = ReadJournal(journal, name, limits);
            var state = SurveyState.Of(entries.Entries);
            if (!SurveyId.IsValid(state.Id)) throw Refused(name, $"its survey has the name '{state.Id}', which is none.");
            return Unpack(state, wanted, leftOut, name, shelf, limits, zip.Length, progress, cancellation);
        }
        catch (InvalidDataException failure)
        {
            throw new SurveyException(SurveyProblem.Refused, $"Cannot take a survey from '{name}': it is no zip file, or was cut short. Copy it again.", failure);
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            throw StorageFailure.Of($"unpack '{name}'", shelf, failure);
        }
    }

    private static SurveyCopy Unpack(
        SurveyState state, Dictionary<string, ZipArchiveEntry> wanted, ImmutableArray<string> leftOut, string name, string shelf, ZipLimits limits, long packedBytes,
        IProgress<double>? progress, CancellationToken cancellation)
    {
        using var draft = UnfinishedFolder.Begin(shelf, state.Id);
        var unsound = ImmutableArray.CreateBuilder<VerifiedFile>();
        var (total, unpacked) = (Math.Max(wanted.Values.Sum(entry => entry.Length), 1), 0L);

        // What an entry states of its length need not be true: what comes out is counted too.
        void Count(int bytes)
        {
            unpacked += bytes;
            RequireWithin(name, limits, unpacked, packedBytes);
            progress?.Report(Math.Min((double)unpacked / total, 1));
        }

        foreach (var file in state.Files)
        {
            if (!StoredPath.IsInside(file.Path)) throw Refused(name, $"its journal names a file '{file.Path}' outside the survey.");
            if (!wanted.Remove(file.Path, out var entry))
            {
                unsound.Add(new VerifiedFile(file, StoredFileStanding.Missing));
                continue;
            }

            using var stream = entry.Open();
            if (SurveyCopier.Pour(stream, draft.Storage, file.Path, cancellation, Count) != file.Sha256) unsound.Add(new VerifiedFile(file, StoredFileStanding.Changed));
        }

        using (var stream = wanted[SurveyFolder.JournalFile].Open())
        using (var target = draft.Storage.Create(SurveyFolder.JournalFile))
        {
            var block = new byte[1 << 16];
            for (int read; (read = stream.Read(block)) > 0;)
            {
                Count(read);
                target.Write(block.AsSpan(0, read));
            }

            target.Flush();
        }

        draft.Release();
        using (SurveyFolder.Open(draft.Path, SurveyAccess.Write, SurveyAuthor.OfAccount())) { }
        var unnamed = wanted.Keys.Where(path => path is not (SurveyFolder.JournalFile or SurveyFolder.DocumentFile));
        return new SurveyCopy(draft.Finish(), state.Id, unsound.ToImmutable(), [.. leftOut, .. unnamed]);
    }

    private static JournalRead ReadJournal(ZipArchiveEntry entry, string name, ZipLimits limits)
    {
        if (entry.Length > Math.Min(limits.MostBytes, 512L << 20)) throw Refused(name, "its journal is longer than any survey's.");
        using var stream = entry.Open();
        var bytes = new byte[entry.Length];
        var read = stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
        var journal = JournalRead.Of(bytes.AsMemory(0, read));
        if (!journal.Faults.IsEmpty) throw new SurveyException(SurveyProblem.Damaged, $"Cannot take a survey from '{name}': {journal.Faults[0]}");
        return journal;
    }

    // The survey's entries by their path in it; what lies elsewhere is told and left out.
    private static (ZipArchiveEntry Journal, Dictionary<string, ZipArchiveEntry> Wanted, ImmutableArray<string> LeftOut) Sorted(
        ZipArchive archive, string name, ZipLimits limits, long packedBytes)
    {
        if (archive.Entries.Count > limits.MostFiles) throw Refused(name, FormattableString.Invariant($"it has {archive.Entries.Count} files; {limits.MostFiles} are the most."));
        var files = archive.Entries.Where(entry => !entry.FullName.EndsWith('/')).ToList();
        var seen = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        var declared = 0L;
        foreach (var entry in files)
        {
            if (((entry.ExternalAttributes >> 16) & KindMask) == LinkKind) throw Refused(name, $"'{entry.FullName}' in it is a link.");
            if (!StoredPath.IsInside(entry.FullName)) throw Refused(name, $"'{entry.FullName}' in it would not stay inside the survey's folder.");
            if (!seen.Add(entry.FullName)) throw Refused(name, $"'{entry.FullName}' is in it twice.");
            RequireWithin(name, limits, declared += entry.Length, packedBytes);
        }

        var journals = files.Where(entry => StoredPath.NameOf(entry.FullName) == SurveyFolder.JournalFile).OrderBy(entry => entry.FullName.Length).ToList();
        if (journals.Count == 0) throw Refused(name, $"it holds no survey: there is no {SurveyFolder.JournalFile} in it.");
        // A recorder may write a file of that name too: inside the survey it is an original like any other.
        if (journals.Exists(other => !other.FullName.StartsWith(journals[0].FullName[..^SurveyFolder.JournalFile.Length], StringComparison.Ordinal))) throw Refused(name, "it holds more than one survey. Unpack it, and copy them one by one.");
        var prefix = journals[0].FullName[..^SurveyFolder.JournalFile.Length];
        var wanted = files.Where(entry => entry.FullName.StartsWith(prefix, StringComparison.Ordinal)).ToDictionary(entry => entry.FullName[prefix.Length..], StringComparer.Ordinal);
        return (journals[0], wanted, [.. files.Where(entry => !entry.FullName.StartsWith(prefix, StringComparison.Ordinal)).Select(entry => entry.FullName)]);
    }

    private static void RequireWithin(string name, ZipLimits limits, long bytes, long packedBytes)
    {
        if (bytes > limits.MostBytes || bytes < 0) throw Refused(name, FormattableString.Invariant($"it would fill more than {limits.MostBytes >> 20} MB."));
        if (bytes > limits.FreeBytes && bytes > limits.MostRatio * packedBytes)
            throw Refused(name, FormattableString.Invariant($"it would become more than {limits.MostRatio:0} times as large as it is, which no survey does."));
    }

    private static void Add(ZipArchive zip, string path, Stream stream)
    {
        using var target = zip.CreateEntry(path, CompressionLevel.Fastest).Open();
        using (stream) stream.CopyTo(target);
    }

    private static SurveyException Refused(string name, string why) =>
        new(SurveyProblem.Refused, $"Cannot take a survey from '{name}': {why} Nothing was changed.");
}
