using System.Collections.Immutable;
using Leadwright.Surveys;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.Net.Http.Headers;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Files that came over HTTP, laid in a folder of their own beside the surveys until they are taken in.</summary>
/// <param name="Folder">The folder; gone when this is disposed.</param>
/// <param name="Files">The files, the one to open first.</param>
internal sealed record SurveyUploads(string Folder, ImmutableArray<string> Files) : IDisposable
{
    /// <summary>The most that one upload may have, bytes.</summary>
    public const long MostBytes = 2L << 30;

    private const int MostFiles = 16;
    private const int MostNameLetters = 100;

    /// <summary>Takes the files of a request.</summary>
    /// <param name="request">A form of files.</param>
    /// <param name="shelf">The folder of the surveys.</param>
    /// <param name="cancellation">Stops it; nothing is left.</param>
    /// <exception cref="SurveyException">It is no form, or has no file or too many.</exception>
    public static async Task<SurveyUploads> TakeAsync(HttpRequest request, string shelf, CancellationToken cancellation)
    {
        if (!MediaTypeHeaderValue.TryParse(request.ContentType, out var type) || HeaderUtilities.RemoveQuotes(type.Boundary).Value is not { Length: > 0 } boundary)
            throw Refused("Files were expected, as a form sends them.");
        Directory.CreateDirectory(shelf);
        var folder = Directory.CreateDirectory(Path.Combine(shelf, $".incoming-{Guid.NewGuid():N}")).FullName;
        var uploads = new SurveyUploads(folder, []);
        try
        {
            var files = ImmutableArray.CreateBuilder<string>();
            var reader = new MultipartReader(boundary, request.Body) { BodyLengthLimit = MostBytes };
            while (await ReadingAsync(() => reader.ReadNextSectionAsync(cancellation)) is { } section)
            {
                if (section.GetContentDispositionHeader() is not { } disposition || !disposition.IsFileDisposition()) continue;
                if (files.Count == MostFiles) throw Refused($"More than {MostFiles} files came at once. Send the files of one recording together, and each recording by itself.");
                var path = Path.Combine(folder, NameOf(disposition.FileNameStar.Value ?? HeaderUtilities.RemoveQuotes(disposition.FileName).Value ?? ""));
                if (File.Exists(path)) throw Refused($"Two files are named '{Path.GetFileName(path)}'. Give them names of their own.");
                await using var file = new FileStream(path, FileMode.CreateNew, FileAccess.Write);
                var block = new byte[1 << 16];
                for (int read; (read = await ReadingAsync(() => section.Body.ReadAsync(block, cancellation).AsTask())) > 0;) await file.WriteAsync(block.AsMemory(0, read), cancellation);
                files.Add(path);
            }

            return files.Count == 0 ? throw Refused("No file came. Choose the recorder's file.") : uploads with { Files = Ordered(files) };
        }
        catch
        {
            uploads.Dispose();
            throw;
        }
    }

    public void Dispose()
    {
        try
        {
            Directory.Delete(Folder, recursive: true);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // A leftover folder with a dot before its name is no survey, and is not shown.
        }
    }

    // The last part of the name alone, and of it what every system takes; the survey makes it safe once more.
    private static string NameOf(string name)
    {
        var last = name[(name.LastIndexOfAny(['/', '\\']) + 1)..];
        var safe = string.Concat(last.Select(letter => char.IsControl(letter) || "<>:\"|?*".Contains(letter, StringComparison.Ordinal) ? '_' : letter)).Trim(' ', '.');
        if (safe.Length > MostNameLetters) safe = safe[^MostNameLetters..];
        return safe.Length == 0 ? "file" : safe;
    }

    // Companions after the file that names them.
    private static ImmutableArray<string> Ordered(IEnumerable<string> files) =>
        [.. files.OrderBy(path => Path.GetExtension(path).ToLowerInvariant() is ".dat" or ".hdr" or ".inf")];

    // A form that is none, or was cut short, is no failure of the disk.
    private static async Task<T> ReadingAsync<T>(Func<Task<T>> read)
    {
        try
        {
            return await read();
        }
        catch (Exception failure) when (failure is InvalidDataException or IOException and not BadHttpRequestException)
        {
            throw Refused("What was sent is no form of files, or was cut short. Send it again.");
        }
    }

    private static SurveyException Refused(string message) => new(SurveyProblem.Refused, message);
}
