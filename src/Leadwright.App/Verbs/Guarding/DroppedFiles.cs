namespace Leadwright.App.Verbs.Guarding;

/// <summary>The files of a folder into which a recorder drops them, or in which it goes on writing.</summary>
/// <param name="folder">The folder.</param>
/// <param name="request">How its files are read.</param>
internal sealed class DroppedFiles(string folder, GuardRequest request)
{
    // A table that a recorder adds to at every look never rests.
    private const int MostLooks = 10;

    private readonly Dictionary<string, DroppedFile> _files = new(StringComparer.Ordinal);

    /// <summary>The files that are new and no longer grow, and those that have grown since they were taken, by name.</summary>
    public List<DroppedFile> News()
    {
        var news = new List<DroppedFile>();
        var files = new DirectoryInfo(folder).EnumerateFiles().Where(file => !file.Name.StartsWith('.')).ToList();
        foreach (var path in InputPaths.WithoutCompanions(files.Select(file => file.FullName)).Order(StringComparer.Ordinal))
        {
            if (!_files.TryGetValue(path, out var file)) _files.Add(path, file = new DroppedFile(path, request));
            // The parts of one recording are dropped one after the other.
            var stem = Path.ChangeExtension(path, null);
            var length = files.Where(other => other.FullName == path || Path.ChangeExtension(other.FullName, null) == stem).Sum(other => other.Length);
            if (file.IsNews(length, MostLooks)) news.Add(file);
        }

        return news;
    }
}
