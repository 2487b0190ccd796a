using System.Collections.Immutable;
using Leadwright.Surveys.Storage;

namespace Leadwright.Surveys.Tests.Faults;

/// <summary>What goes wrong.</summary>
public enum DiskFault
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>One step fails, those after it don't.</summary>
    Once,

    /// <summary>The disk is full from a step on: nothing can be written, but deleted, cut and renamed.</summary>
    Full,

    /// <summary>From a step on every step fails: the stick is pulled.</summary>
    Gone,

    /// <summary>The power is cut: the program ends there, and what was not flushed may be lost.</summary>
    PowerCut,
}

/// <summary>The power is cut. No code may put up with it.</summary>
public sealed class PowerCutException : Exception;

/// <summary>A disk in memory that knows what was flushed, and fails at a chosen step.</summary>
/// <remarks>Names reach it when their folder is flushed, bytes when their file is; POSIX promises no more.</remarks>
internal sealed class SimulatedDisk : ISurveyStorage
{
    private readonly Folder _root = new();
    private bool _isLocked;

    public SimulatedDisk(DiskFault fault = DiskFault.None, int failAt = int.MaxValue)
    {
        Fault = fault;
        FailAt = failAt;
    }

    private SimulatedDisk(Folder root)
    {
        _root = root;
        IsThere = true;
    }

    /// <summary>Writing steps so far.</summary>
    public int Steps { get; private set; }

    public DiskFault Fault { get; set; }

    public int FailAt { get; set; }

    /// <summary>True when a flush of a file brings nothing to the disk: what a store would be like that forgot to flush.</summary>
    public bool IgnoresFlushOfFiles { get; init; }

    /// <summary>True when a flush of a folder brings nothing to the disk.</summary>
    public bool IgnoresFlushOfFolders { get; init; }

    public string Name => "simulated";

    public bool IsThere { get; private set; }

    /// <summary>The disk when the power is back. What was not flushed is there, is not there, or is there in part: chance decides for each name and file.</summary>
    public SimulatedDisk AfterPowerCut(Random chance) => new(_root.Survivor(chance)) { IsThere = IsThere };

    /// <summary>The same disk, sound again.</summary>
    public SimulatedDisk Healed()
    {
        _isLocked = false;
        return new SimulatedDisk(_root) { IsThere = IsThere };
    }

    /// <summary>Paths of all files and folders.</summary>
    public IEnumerable<string> AllPaths() => _root.Paths("");

    public byte[] BytesOf(string path) => [.. ((File)Find(path)!).Live];

    public void SetBytes(string path, byte[] bytes)
    {
        var file = (File)Find(path)!;
        file.Live = [.. bytes];
        file.Durable = bytes;
    }

    public void Make()
    {
        Step(false);
        IsThere = true;
    }

    public IReadOnlyList<string> Files(string folder) => Children<File>(folder);

    public IReadOnlyList<string> Folders(string folder) => Children<Folder>(folder);

    public bool Exists(string path) => Find(StoredPath.FolderOf(path)) is Folder folder
        && folder.Live.Keys.Contains(StoredPath.NameOf(path), StringComparer.OrdinalIgnoreCase);

    public long? LengthOf(string path) => Find(path) is File file ? file.Live.Count : null;

    /// <summary>Told before a file is read, as another process may write just then.</summary>
    public Action<string>? Reading { get; set; }

    public Stream OpenRead(string path)
    {
        Reading?.Invoke(path);
        return Find(path) is File file ? new MemoryStream([.. file.Live], writable: false) : throw new FileNotFoundException(path);
    }

    public IStorageFile Create(string path)
    {
        Step(true);
        MakeAll(StoredPath.FolderOf(path));
        var file = new File();
        ParentOf(path).Live[StoredPath.NameOf(path)] = file;
        return new Open(this, file);
    }

    public IStorageFile Append(string path) => Find(path) is File file ? new Open(this, file) : throw new FileNotFoundException(path);

    public void Move(string from, string to)
    {
        Step(false);
        var node = Find(from) ?? throw new FileNotFoundException(from);
        if (node is Folder && Find(to) is not null) throw new IOException("There is a folder of that name.");
        ParentOf(to).Live[StoredPath.NameOf(to)] = node;
        ParentOf(from).Live.Remove(StoredPath.NameOf(from));
    }

    public void MakeFolder(string folder)
    {
        if (Find(folder) is Folder) return;
        Step(true);
        MakeAll(folder);
    }

    public void Delete(string path)
    {
        if (Find(path) is not File) return;
        Step(false);
        ParentOf(path).Live.Remove(StoredPath.NameOf(path));
    }

    public void DeleteFolder(string folder)
    {
        if (Find(folder) is not Folder found) return;
        Step(false);
        if (found.Live.Count > 0) throw new IOException("The folder is not empty.");
        ParentOf(folder).Live.Remove(StoredPath.NameOf(folder));
    }

    public void Protect(string path) => Step(false);

    public void SyncFolder(string folder)
    {
        Step(false);
        if (!IgnoresFlushOfFolders && Find(folder) is Folder found) found.Durable = found.Live.ToImmutableDictionary(StringComparer.Ordinal);
    }

    public IDisposable Lock(string holder)
    {
        if (_isLocked) throw new SurveyException(SurveyProblem.InUse, "In use.");
        _isLocked = true;
        return new Unlock(this);
    }

    private void Step(bool needsRoom)
    {
        Steps++;
        if (Fault == DiskFault.None || Steps < FailAt) return;
        switch (Fault)
        {
            case DiskFault.PowerCut: throw new PowerCutException();
            case DiskFault.Once when Steps == FailAt:
            case DiskFault.Full when needsRoom:
                throw new IOException("No space left on device", 28);
            case DiskFault.Gone:
                throw new IOException("Input/output error", 5);
        }
    }

    private Folder ParentOf(string path) => Find(StoredPath.FolderOf(path)) as Folder ?? throw new DirectoryNotFoundException(path);

    private void MakeAll(string folder)
    {
        var at = _root;
        foreach (var segment in folder.Split('/', StringSplitOptions.RemoveEmptyEntries))
        {
            if (!at.Live.TryGetValue(segment, out var next)) at.Live[segment] = next = new Folder();
            at = (Folder)next;
        }
    }

    private Node? Find(string path)
    {
        Node? at = _root;
        foreach (var segment in path.Split('/', StringSplitOptions.RemoveEmptyEntries)) at = (at as Folder)?.Live.GetValueOrDefault(segment);
        return at;
    }

    private List<string> Children<T>(string folder) where T : Node =>
        Find(folder) is Folder found ? [.. found.Live.Where(pair => pair.Value is T).Select(pair => pair.Key).Order(StringComparer.Ordinal)] : [];

    private abstract class Node
    {
        public abstract Node Kept(Random chance);
    }

    private sealed class File : Node
    {
        public List<byte> Live { get; set; } = [];

        public byte[] Durable { get; set; } = [];

        public override Node Kept(Random chance)
        {
            byte[] kept = Durable;
            if (!Durable.AsSpan().SequenceEqual(Live.ToArray()))
            {
                kept = chance.Next(4) switch
                {
                    0 => Durable,
                    1 => [.. Live],
                    // Part of it.
                    2 => [.. Live.Take(chance.Next(Math.Min(Durable.Length, Live.Count), Live.Count + 1))],
                    // Its length, and not its bytes.
                    _ => [.. Live.Take(Math.Min(Durable.Length, Live.Count)), .. new byte[Math.Max(Live.Count - Durable.Length, 0)]],
                };
            }

            return new File { Live = [.. kept], Durable = kept };
        }
    }

    private sealed class Folder : Node
    {
        public Dictionary<string, Node> Live { get; } = new(StringComparer.Ordinal);

        public ImmutableDictionary<string, Node> Durable { get; set; } = ImmutableDictionary.Create<string, Node>(StringComparer.Ordinal);

        public Folder Survivor(Random chance)
        {
            var survivor = new Folder();
            foreach (var name in Live.Keys.Union(Durable.Keys).Order(StringComparer.Ordinal))
            {
                var (live, durable) = (Live.GetValueOrDefault(name), Durable.GetValueOrDefault(name));
                var node = live == durable || chance.Next(2) == 0 ? durable : live;
                if (node is not null) survivor.Live[name] = node.Kept(chance);
            }

            survivor.Durable = survivor.Live.ToImmutableDictionary(StringComparer.Ordinal);
            return survivor;
        }

        public override Node Kept(Random chance) => Survivor(chance);

        public IEnumerable<string> Paths(string prefix) => Live.OrderBy(pair => pair.Key, StringComparer.Ordinal).SelectMany(pair =>
            pair.Value is Folder folder ? folder.Paths($"{prefix}{pair.Key}/").Prepend($"{prefix}{pair.Key}/") : [$"{prefix}{pair.Key}"]);
    }

    private sealed class Open(SimulatedDisk disk, File file) : IStorageFile
    {
        public long Length => file.Live.Count;

        public void Write(ReadOnlySpan<byte> bytes)
        {
            // A write that fails may have written some of it.
            file.Live.AddRange(bytes[..(bytes.Length / 2)].ToArray());
            disk.Step(true);
            file.Live.AddRange(bytes[(bytes.Length / 2)..].ToArray());
        }

        public void Flush()
        {
            disk.Step(true);
            if (!disk.IgnoresFlushOfFiles) file.Durable = [.. file.Live];
        }

        public void SetLength(long length)
        {
            disk.Step(false);
            file.Live.RemoveRange((int)length, file.Live.Count - (int)length);
        }

        public void Dispose()
        {
        }
    }

    private sealed class Unlock(SimulatedDisk disk) : IDisposable
    {
        public void Dispose() => disk._isLocked = false;
    }
}
