using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Shelves;

/// <summary>A folder that is being filled, and gets its name only when it is whole. Disposing throws it away, unless it was finished.</summary>
internal sealed class UnfinishedFolder : IDisposable
{
    public const string Ending = ".unfinished";

    private readonly string _target;
    private IDisposable? _lock;
    private bool _isFinished;

    private UnfinishedFolder(string target, string draft, IDisposable held)
    {
        _target = target;
        Path = draft;
        Storage = new DiskStorage(draft);
        _lock = held;
    }

    /// <summary>The folder as it is called until it is whole.</summary>
    public string Path { get; }

    public ISurveyStorage Storage { get; }

    /// <summary>Begins a folder; one that was left behind by a work that was cut short is cleared away.</summary>
    /// <param name="shelf">The folder it comes into.</param>
    /// <param name="name">The name it gets.</param>
    /// <exception cref="SurveyException">There is something of that name, or somebody fills it right now.</exception>
    public static UnfinishedFolder Begin(string shelf, string name)
    {
        var target = System.IO.Path.Combine(shelf, name);
        if (Directory.Exists(target) || File.Exists(target))
            throw new SurveyException(SurveyProblem.AlreadyThere, $"There is '{target}' already. Nothing was changed; take another place, or move that one away first.");
        Directory.CreateDirectory(shelf);
        foreach (var left in Directory.EnumerateDirectories(shelf, "*" + Ending)) ClearWhenLeft(left);
        var draft = target + Ending;
        Directory.CreateDirectory(draft);
        return new UnfinishedFolder(target, draft, new DiskStorage(draft).Lock("a copy that is being made"));
    }

    /// <summary>Lets the writer of the folder itself take the lock.</summary>
    public void Release()
    {
        _lock?.Dispose();
        _lock = null;
    }

    /// <summary>Gives the folder its name.</summary>
    public string Finish()
    {
        Release();
        // A lock file belongs to the place, not to the survey.
        foreach (var name in (string[])["writer.lock", "writer.json"]) Storage.Delete(name);
        Storage.SyncFolder("");
        Directory.Move(Path, _target);
        new DiskStorage(System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(_target))!).SyncFolder("");
        _isFinished = true;
        return _target;
    }

    public void Dispose()
    {
        if (_isFinished) return;
        Release();
        Remove(Path);
    }

    private static void ClearWhenLeft(string folder)
    {
        try
        {
            // Whoever fills it holds its lock.
            using (new DiskStorage(folder).Lock("clearing away")) { }
        }
        catch (SurveyException)
        {
            return;
        }

        Remove(folder);
    }

    private static void Remove(string folder)
    {
        try
        {
            if (OperatingSystem.IsWindows())
            {
                foreach (var file in Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories)) File.SetAttributes(file, FileAttributes.Normal);
            }

            Directory.Delete(folder, recursive: true);
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            // Cleared away by the next one.
        }
    }
}
