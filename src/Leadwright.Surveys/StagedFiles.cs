using System.Collections.Immutable;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys;

/// <summary>Files that were copied into a survey's folder and do not belong to the survey yet. Disposing throws them away, unless they were taken in.</summary>
public sealed class StagedFiles : IDisposable
{
    private readonly ISurveyStorage _storage;
    private readonly object _gate = new();
    private bool _isDone;

    internal StagedFiles(ISurveyStorage storage, string folder, ImmutableArray<StoredFile> files)
    {
        _storage = storage;
        Folder = folder;
        Files = files;
    }

    /// <summary>The files with their digests; their paths are those of the copies, which end when the files are taken in or thrown away.</summary>
    public ImmutableArray<StoredFile> Files { get; }

    internal string Folder { get; }

    /// <summary>Opens a copy to read.</summary>
    /// <param name="index">Its place among <see cref="Files"/>.</param>
    public Stream OpenRead(int index) => _storage.OpenRead(Files[index].Path);

    /// <summary>Throws the copies away.</summary>
    public void Dispose()
    {
        lock (_gate)
        {
            if (_isDone) return;
            _isDone = true;
            try
            {
                IncomingFiles.Drop(_storage, Folder);
            }
            catch (Exception failure) when (StorageFailure.IsOne(failure))
            {
                // Cleared away when the survey is opened to write again.
            }
        }
    }

    internal void TakenIn()
    {
        lock (_gate) _isDone = true;
    }

    internal bool IsOf(ISurveyStorage storage)
    {
        lock (_gate) return !_isDone && ReferenceEquals(storage, _storage);
    }
}
