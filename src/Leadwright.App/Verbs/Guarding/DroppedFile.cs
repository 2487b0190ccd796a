namespace Leadwright.App.Verbs.Guarding;

/// <summary>A file in a folder that is watched.</summary>
/// <param name="path">The file.</param>
/// <param name="request">How it is read.</param>
internal sealed class DroppedFile(string path, GuardRequest request)
{
    private static readonly string[] s_text = [".csv", ".tsv", ".txt"];
    private long _length;
    private long _taken = -1;
    private int _looks;
    private bool _isTold;

    /// <summary>The file.</summary>
    public string Path => path;

    /// <summary>What it grows by; null until it was read the first time.</summary>
    public GrowingFile? Growth { get; private set; }

    /// <summary>Notes that it is being read the first time.</summary>
    public void Read() => Growth = new GrowingFile(path, request);

    /// <summary>True the first time that something is to be told of it.</summary>
    public bool IsToldOf() => !_isTold && (_isTold = true);

    /// <summary>True when there is something to read: a new file when it rests, or is a table that never does; one that was read when it has grown.</summary>
    /// <param name="length">Its length, with that of its companions, bytes.</param>
    /// <param name="mostLooks">How many looks a table that grows is waited for.</param>
    public bool IsNews(long length, int mostLooks)
    {
        var rests = length == _length;
        _length = length;
        if (length == 0 || length == _taken) return false;
        if (Growth is null && !rests && (++_looks < mostLooks || !s_text.Contains(System.IO.Path.GetExtension(path).ToLowerInvariant()))) return false;
        _taken = length;
        return true;
    }
}
