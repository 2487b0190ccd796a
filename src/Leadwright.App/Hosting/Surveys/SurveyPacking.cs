using System.IO.Compression;
using Leadwright.Surveys;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>A survey as one zip file, to send or to keep.</summary>
internal static class SurveyPacking
{
    private const long MostBytes = 16L << 30;
    private const int MostEntries = 100_000;

    /// <summary>Packs a survey's folder.</summary>
    /// <returns>The zip from its start; it is gone when the stream is closed.</returns>
    public static async Task<Stream> PackAsync(string folder, CancellationToken cancellation)
    {
        var stream = new FileStream(Path.GetTempFileName(), FileMode.Create, FileAccess.ReadWrite, FileShare.None, 1 << 16, FileOptions.DeleteOnClose | FileOptions.Asynchronous);
        try
        {
            using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
            {
                foreach (var path in Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal))
                {
                    var name = Path.GetRelativePath(folder, path).Replace('\\', '/');
                    // Results are worked out again; the lock is this machine's.
                    if (name is "writer.lock" or "writer.json" || name.StartsWith("results/", StringComparison.Ordinal) || name.StartsWith("incoming/", StringComparison.Ordinal)) continue;
                    await using var target = zip.CreateEntry(name, CompressionLevel.Fastest).Open();
                    await using var source = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
                    await source.CopyToAsync(target, cancellation);
                }
            }

            stream.Position = 0;
            return stream;
        }
        catch
        {
            await stream.DisposeAsync();
            throw;
        }
    }

    /// <summary>Unpacks a survey beside the others.</summary>
    /// <param name="path">The zip.</param>
    /// <param name="shelf">The folder of the surveys.</param>
    /// <param name="cancellation">Stops it; nothing is left.</param>
    /// <returns>The survey's name here.</returns>
    /// <exception cref="SurveyException">It is no packed survey, or the same survey is there already.</exception>
    public static async Task<string> UnpackAsync(string path, string shelf, CancellationToken cancellation)
    {
        var draft = Path.Combine(shelf, $".unfinished-{Guid.NewGuid():N}");
        try
        {
            await ExtractAsync(path, draft, cancellation);
            string id;
            using (var survey = SurveyFolder.Open(draft)) id = survey.State.Id;
            if (!SurveyId.IsValid(id)) throw new SurveyException(SurveyProblem.Refused, $"'{Path.GetFileName(path)}' holds a survey without a usable name. Unpack it by hand and look into it.");
            var place = Path.Combine(shelf, id);
            if (Directory.Exists(place)) throw new SurveyException(SurveyProblem.AlreadyThere, $"This survey is here already, as '{id}'. Duplicate that one, or move it out of the folder of surveys first.");
            Directory.Move(draft, place);
            return id;
        }
        catch (InvalidDataException failure)
        {
            throw new SurveyException(SurveyProblem.Refused, $"'{Path.GetFileName(path)}' is no zip file, or is cut short. Copy it again from where it came.", failure);
        }
        finally
        {
            if (Directory.Exists(draft)) Directory.Delete(draft, recursive: true);
        }
    }

    private static async Task ExtractAsync(string path, string draft, CancellationToken cancellation)
    {
        using var zip = ZipFile.OpenRead(path);
        if (zip.Entries.Count > MostEntries || zip.Entries.Sum(entry => entry.Length) > MostBytes)
            throw new SurveyException(SurveyProblem.Refused, $"'{Path.GetFileName(path)}' would unpack to more than a survey has. Unpack it by hand and look into it.");
        var journal = zip.Entries.FirstOrDefault(entry => entry.Name == "journal.jsonl" && entry.FullName.Count(letter => letter == '/') <= 1)
            ?? throw new SurveyException(SurveyProblem.NotASurvey, $"'{Path.GetFileName(path)}' holds no survey: there is no journal.jsonl in it.");
        var root = journal.FullName[..^journal.Name.Length];
        var whole = Directory.CreateDirectory(draft).FullName + Path.DirectorySeparatorChar;
        foreach (var entry in zip.Entries.Where(entry => entry.Name.Length > 0 && entry.FullName.StartsWith(root, StringComparison.Ordinal)))
        {
            var target = Path.GetFullPath(Path.Combine(draft, entry.FullName[root.Length..]));
            if (!target.StartsWith(whole, StringComparison.Ordinal) || entry.FullName.Contains('\\', StringComparison.Ordinal))
                throw new SurveyException(SurveyProblem.Refused, $"'{Path.GetFileName(path)}' holds a file that would land outside its folder. It is not unpacked.");
            Directory.CreateDirectory(Path.GetDirectoryName(target)!);
            await using var source = entry.Open();
            await using var file = new FileStream(target, FileMode.CreateNew, FileAccess.Write);
            var left = entry.Length;
            var buffer = new byte[1 << 16];
            while (await source.ReadAsync(buffer, cancellation) is > 0 and var read)
            {
                // What the directory of the archive tells of a length need not be true.
                if ((left -= read) < 0) throw new InvalidDataException("An entry is longer than it says.");
                await file.WriteAsync(buffer.AsMemory(0, read), cancellation);
            }
        }
    }
}
