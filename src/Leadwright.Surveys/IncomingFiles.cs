using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Serialization;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys;

/// <summary>How files come into a survey: copied and summed in a folder of their own, claimed, moved in one step, named in the journal.</summary>
/// <remarks>A claim says which folder a move is about to make. When the work is cut short between move and journal, the claim tells what to take away
/// again; files that a person laid beside the originals by hand have none, and are never touched.</remarks>
internal static class IncomingFiles
{
    private const int BlockBytes = 1 << 20;
    private const string ClaimEnding = ".json";

    /// <summary>Copies files into a new folder under <c>incoming</c>.</summary>
    public static ImmutableArray<StoredFile> Copy(
        ISurveyStorage storage, string folder, IReadOnlyList<IncomingSource> sources, IProgress<double>? progress, CancellationToken cancellation)
    {
        var files = ImmutableArray.CreateBuilder<StoredFile>();
        var block = new byte[BlockBytes];
        var total = Math.Max(sources.Sum(source => source.Stamp is { } stamp ? Reading(source, stamp).Bytes : 0), 1);
        var done = 0L;
        foreach (var source in sources)
        {
            var name = SafeFileName.Free(SafeFileName.Of(source.Name), name => files.Any(file => StoredPath.NameOf(file.Path).Equals(name, StringComparison.OrdinalIgnoreCase)));
            var path = $"{folder}/{name}";
            var before = source.Stamp is { } first ? Reading(source, first) : default;
            using var sum = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
            var length = 0L;
            using (var stream = Reading(source, source.Open))
            using (var target = storage.Create(path))
            {
                while (true)
                {
                    cancellation.ThrowIfCancellationRequested();
                    var read = Reading(source, () => stream.Read(block));
                    if (read == 0) break;
                    sum.AppendData(block, 0, read);
                    target.Write(block.AsSpan(0, read));
                    length += read;
                    done += read;
                    progress?.Report(Math.Min((double)done / total, 1));
                }

                target.Flush();
            }

            if (source.Stamp is { } stampAfter) RequireUnchanged(source, before, Reading(source, stampAfter), length);
            files.Add(new StoredFile(ShortNameOf(source.Name), path, Convert.ToHexStringLower(sum.GetHashAndReset()), length)
            {
                Modified = source.Stamp is null ? null : new DateTimeOffset(before.Modified, TimeSpan.Zero),
            });
        }

        foreach (var file in files) storage.Protect(file.Path);
        storage.SyncFolder(folder);
        return files.ToImmutable();
    }

    /// <summary>Moves a folder of copies to its place in one step.</summary>
    public static void Move(ISurveyStorage storage, string from, string to, ImmutableArray<StoredFile> files)
    {
        var claim = from + ClaimEnding;
        using (var file = storage.Create(claim))
        {
            file.Write(JsonSerializer.SerializeToUtf8Bytes(
                new IncomingClaim(to, [.. files.Select(stored => StoredPath.NameOf(stored.Path))]), ClaimJson.Default.IncomingClaim));
            file.Flush();
        }

        storage.SyncFolder(SurveyFolder.IncomingFolder);
        var parent = StoredPath.FolderOf(to);
        storage.MakeFolder(parent);
        storage.SyncFolder("");
        storage.Move(from, to);
        storage.SyncFolder(parent);
        storage.SyncFolder(SurveyFolder.IncomingFolder);
    }

    /// <summary>Ends a claim, once the journal names the files or they were taken away.</summary>
    public static void EndClaim(ISurveyStorage storage, string from)
    {
        storage.Delete(from + ClaimEnding);
        RemoveWhenEmpty(storage);
    }

    /// <summary>Throws a folder of copies away.</summary>
    public static void Drop(ISurveyStorage storage, string folder)
    {
        foreach (var file in storage.Files(folder)) storage.Delete($"{folder}/{file}");
        storage.DeleteFolder(folder);
        RemoveWhenEmpty(storage);
    }

    /// <summary>Takes files away that were moved to their place and never came into the journal.</summary>
    public static void TakeBack(ISurveyStorage storage, string folder, IEnumerable<string> names)
    {
        foreach (var name in names) storage.Delete($"{folder}/{name}");
        if (storage.Files(folder).Count == 0 && storage.Folders(folder).Count == 0) storage.DeleteFolder(folder);
    }

    /// <summary>Clears away what a work that was cut short left behind.</summary>
    public static void Clear(ISurveyStorage storage, SurveyState state)
    {
        const string Folder = SurveyFolder.IncomingFolder;
        foreach (var name in storage.Files(Folder).Where(name => name.EndsWith(ClaimEnding, StringComparison.Ordinal)))
        {
            if (ReadClaim(storage, $"{Folder}/{name}") is { } claim && !state.Files.Any(file => StoredPath.FolderOf(file.Path) == claim.Folder))
                TakeBack(storage, claim.Folder, claim.Names);
        }

        foreach (var name in storage.Files(Folder)) storage.Delete($"{Folder}/{name}");
        foreach (var name in storage.Folders(Folder)) Drop(storage, $"{Folder}/{name}");
        RemoveWhenEmpty(storage);
    }

    /// <summary>A folder under <c>incoming</c> that nobody has.</summary>
    public static string FreeFolder(ISurveyStorage storage)
    {
        for (var number = 1; ; number++)
        {
            var folder = string.Create(CultureInfo.InvariantCulture, $"{SurveyFolder.IncomingFolder}/{number}");
            if (!storage.Exists(folder) && !storage.Exists(folder + ClaimEnding)) return folder;
        }
    }

    private static void RemoveWhenEmpty(ISurveyStorage storage)
    {
        const string Folder = SurveyFolder.IncomingFolder;
        if (storage.Files(Folder).Count == 0 && storage.Folders(Folder).Count == 0) storage.DeleteFolder(Folder);
    }

    private static IncomingClaim? ReadClaim(ISurveyStorage storage, string path)
    {
        try
        {
            using var stream = storage.OpenRead(path);
            var claim = JsonSerializer.Deserialize(stream, ClaimJson.Default.IncomingClaim);
            return claim is not null && StoredPath.IsInside(claim.Folder) && claim.Names is not null && claim.Names.All(StoredPath.IsInside)
                && StoredPath.FolderOf(claim.Folder) is SurveyFolder.OriginalsFolder or SurveyFolder.AttachmentsFolder ? claim : null;
        }
        catch (JsonException)
        {
            // Cut short while it was written: nothing was moved yet.
            return null;
        }
    }

    private static void RequireUnchanged(IncomingSource source, SourceStamp before, SourceStamp after, long length)
    {
        if (before == after && after.Bytes == length) return;
        throw new SurveyException(
            SurveyProblem.FileChanged,
            $"'{source.Name}' changed while it was copied: something still writes to it. Wait until the recorder or the other program is done, then add it again. The survey is as it was.");
    }

    private static T Reading<T>(IncomingSource source, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            var why = failure switch
            {
                FileNotFoundException or DirectoryNotFoundException => "there is no such file. Look at its name and folder.",
                _ => failure.Message,
            };
            throw new SurveyException(
                failure is FileNotFoundException or DirectoryNotFoundException ? SurveyProblem.NotFound : SurveyProblem.SystemFailure,
                $"Cannot read '{source.Name}': {why} The survey is as it was.", failure);
        }
    }

    private static string ShortNameOf(string name) => name[(name.AsSpan().LastIndexOfAny('/', '\\') + 1)..];
}

/// <summary>Which folder a move is about to make, with what in it.</summary>
internal sealed record IncomingClaim(string Folder, IReadOnlyList<string> Names);

/// <summary>Claims as JSON.</summary>
[JsonSerializable(typeof(IncomingClaim))]
internal sealed partial class ClaimJson : JsonSerializerContext;
