using System.Runtime.InteropServices;
using System.Text;
using System.Text.Json;

namespace Leadwright.Surveys.Storage;

/// <summary>A survey folder on a disk.</summary>
/// <param name="root">The folder.</param>
internal sealed class DiskStorage(string root) : ISurveyStorage
{
    private const string LockFile = "writer.lock";
    private const string HolderFile = "writer.json";

    private readonly string _root = Path.GetFullPath(root);

    public string Name => root;

    public bool IsThere => Directory.Exists(_root);

    public void Make() => Directory.CreateDirectory(_root);

    public IReadOnlyList<string> Files(string folder) => Names(folder, Directory.EnumerateFiles);

    public IReadOnlyList<string> Folders(string folder) => Names(folder, Directory.EnumerateDirectories);

    public bool Exists(string path)
    {
        var (folder, name) = (StoredPath.FolderOf(path), StoredPath.NameOf(path));
        return Names(folder, Directory.EnumerateFileSystemEntries).Contains(name, StringComparer.OrdinalIgnoreCase);
    }

    public long? LengthOf(string path)
    {
        var file = new FileInfo(Resolve(path));
        return file.Exists ? file.Length : null;
    }

    public Stream OpenRead(string path) =>
        new FileStream(Resolve(path), FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 1 << 16);

    public IStorageFile Create(string path)
    {
        Directory.CreateDirectory(Resolve(StoredPath.FolderOf(path)));
        return new DiskFile(new FileStream(Resolve(path), FileMode.Create, FileAccess.Write, FileShare.Read, 0));
    }

    public IStorageFile Append(string path)
    {
        var stream = new FileStream(Resolve(path), FileMode.Open, FileAccess.Write, FileShare.Read, 0);
        stream.Seek(0, SeekOrigin.End);
        return new DiskFile(stream);
    }

    public void Move(string from, string to)
    {
        var (source, target) = (Resolve(from), Resolve(to));
        if (Directory.Exists(source)) Directory.Move(source, target);
        else File.Move(source, target, overwrite: true);
    }

    public void MakeFolder(string folder) => Directory.CreateDirectory(Resolve(folder));

    public void Delete(string path)
    {
        var file = new FileInfo(Resolve(path));
        if (!file.Exists) return;
        if (OperatingSystem.IsWindows() && file.IsReadOnly) file.IsReadOnly = false;
        file.Delete();
    }

    public void DeleteFolder(string folder)
    {
        var resolved = Resolve(folder);
        if (Directory.Exists(resolved)) Directory.Delete(resolved, recursive: false);
    }

    public void Protect(string path)
    {
        try
        {
            File.SetAttributes(Resolve(path), File.GetAttributes(Resolve(path)) | FileAttributes.ReadOnly);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            // A mark for people only; some sticks know none.
        }
    }

    public void SyncFolder(string folder)
    {
        // Windows keeps names in its own journal, and opens no folder to flush it.
        if (!OperatingSystem.IsWindows()) UnixFolder.Flush(folder.Length == 0 ? _root : Resolve(folder));
    }

    public IDisposable Lock(string holder)
    {
        try
        {
            // The system gives the lock back when a process ends, however it ends. The file stays: deleting it would let two in.
            var stream = new FileStream(Path.Combine(_root, LockFile), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, 0);
            TellHolder(holder);
            return new HeldLock(stream, Path.Combine(_root, HolderFile));
        }
        catch (IOException failure) when (StorageFailure.ProblemOf(failure) == SurveyProblem.SystemFailure)
        {
            throw new SurveyException(
                SurveyProblem.InUse,
                $"The survey '{root}' is being written by {HolderNow()}. Close it there, or open it to read.", failure);
        }
    }

    // Every segment is looked at: a link inside a folder from elsewhere could lead anywhere.
    private string Resolve(string path)
    {
        if (path.Length == 0) return _root;
        var resolved = _root;
        foreach (var segment in StoredPath.Require(path).Split('/'))
        {
            resolved = Path.Combine(resolved, segment);
            if (new FileInfo(resolved).LinkTarget is not null)
                throw new SurveyException(SurveyProblem.Refused, $"'{path}' in the survey '{root}' is a link to another place: it is not opened. Put the file itself there.");
        }

        return resolved;
    }

    private List<string> Names(string folder, Func<string, IEnumerable<string>> enumerate)
    {
        var resolved = Resolve(folder);
        return Directory.Exists(resolved) ? [.. enumerate(resolved).Select(path => Path.GetFileName(path)!).Order(StringComparer.Ordinal)] : [];
    }

    private void TellHolder(string holder)
    {
        try
        {
            File.WriteAllBytes(Path.Combine(_root, HolderFile), Encoding.UTF8.GetBytes(JsonSerializer.Serialize(holder, HolderJson.Default.String)));
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure))
        {
            // The lock holds without it; others just don't learn who has it.
        }
    }

    private string HolderNow()
    {
        try
        {
            using var stream = new FileStream(Path.Combine(_root, HolderFile), FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            return stream.Length < 4096 && JsonSerializer.Deserialize(stream, HolderJson.Default.String) is { Length: > 0 } holder ? holder : "somebody else";
        }
        catch (Exception failure) when (StorageFailure.IsOne(failure) || failure is JsonException)
        {
            return "somebody else";
        }
    }

    private sealed class HeldLock(FileStream stream, string holderPath) : IDisposable
    {
        public void Dispose()
        {
            try
            {
                File.Delete(holderPath);
            }
            catch (Exception failure) when (StorageFailure.IsOne(failure))
            {
                // Says who had it; without the lock nobody reads it.
            }

            stream.Dispose();
        }
    }

    private sealed class DiskFile(FileStream stream) : IStorageFile
    {
        public long Length => stream.Length;

        public void Write(ReadOnlySpan<byte> bytes) => stream.Write(bytes);

        public void Flush() => stream.Flush(flushToDisk: true);

        public void SetLength(long length)
        {
            stream.SetLength(length);
            stream.Seek(0, SeekOrigin.End);
        }

        public void Dispose() => stream.Dispose();
    }

    private static class UnixFolder
    {
        private const int IoError = 5;
        private const int NoSpace = 28;

        // The base library opens no folders; names of files reach the disk for sure only when their folder is flushed.
        public static void Flush(string folder)
        {
            var descriptor = Open([.. Encoding.UTF8.GetBytes(folder), 0], 0);
            if (descriptor < 0) return;
            var failed = Fsync(descriptor) != 0;
            var error = Marshal.GetLastPInvokeError();
            _ = Close(descriptor);
            // Some file systems know no flush of folders (EINVAL, ENOTSUP): theirs is all there is. A failing disk is another matter.
            if (failed && error is IoError or NoSpace) throw new IOException($"The folder '{folder}' can't be brought to the disk.", error);
        }

        [DllImport("libc", EntryPoint = "open"), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
        private static extern int Open(byte[] path, int flags);

        [DllImport("libc", EntryPoint = "fsync", SetLastError = true), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
        private static extern int Fsync(int descriptor);

        [DllImport("libc", EntryPoint = "close"), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
        private static extern int Close(int descriptor);
    }
}
