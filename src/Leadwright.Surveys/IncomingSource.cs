namespace Leadwright.Surveys;

/// <summary>A file that is to be brought into a survey.</summary>
/// <param name="Name">Its name, with or without folders; only the last part is kept.</param>
/// <param name="Open">Opens it to read.</param>
public sealed record IncomingSource(string Name, Func<Stream> Open)
{
    /// <summary>Tells length and time of the last change now, to notice a file that changes while it is read; null for a stream that can't.</summary>
    public Func<SourceStamp>? Stamp { get; init; }

    /// <summary>A file on a disk.</summary>
    /// <param name="path">The file.</param>
    public static IncomingSource OfFile(string path)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        return new IncomingSource(path, () => new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 0))
        {
            Stamp = () =>
            {
                var file = new FileInfo(path);
                return new SourceStamp(file.Length, file.LastWriteTimeUtc);
            },
        };
    }
}

/// <summary>What shows that a file is still the same.</summary>
/// <param name="Bytes">Its length.</param>
/// <param name="Modified">When it was last changed, UTC.</param>
public readonly record struct SourceStamp(long Bytes, DateTime Modified);
