namespace Leadwright.App.Verbs;

/// <summary>A folder for work in hand, gone with it. One that a killed program left is cleared away by the next of its name.</summary>
internal sealed class WorkFolder : IDisposable
{
    private const string Lock = ".in-use";

    private readonly FileStream _lock;

    private WorkFolder(string path, FileStream held) => (Path, _lock) = (path, held);

    /// <summary>The folder.</summary>
    public string Path { get; }

    /// <summary>Makes one among the system's temporary files.</summary>
    /// <param name="name">Begin of its name.</param>
    public static WorkFolder Make(string name)
    {
        ClearLeftOver(name);
        var path = Directory.CreateTempSubdirectory(name).FullName;
        return new WorkFolder(path, new FileStream(System.IO.Path.Combine(path, Lock), FileMode.CreateNew, FileAccess.Write, FileShare.None));
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _lock.Dispose();
        Delete(Path);
    }

    // A lock of the system ends with the process that held it.
    private static void ClearLeftOver(string name)
    {
        foreach (var folder in Directory.EnumerateDirectories(System.IO.Path.GetTempPath(), name + "*"))
        {
            try
            {
                using (new FileStream(System.IO.Path.Combine(folder, Lock), FileMode.Open, FileAccess.Write, FileShare.None))
                {
                }
            }
            catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
            {
                // In use, of another user, or none of these.
                continue;
            }

            Delete(folder);
        }
    }

    private static void Delete(string folder)
    {
        try
        {
            Directory.Delete(folder, recursive: true);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // The next one tries again.
        }
    }
}
