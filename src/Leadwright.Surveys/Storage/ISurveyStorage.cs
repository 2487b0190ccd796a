namespace Leadwright.Surveys.Storage;

/// <summary>The files of one survey folder, by relative paths with <c>/</c>. What is behind it may be a disk, or a disk that fails on purpose.</summary>
/// <remarks>Every promise of the store rests on four of these: a write is on the disk after <see cref="IStorageFile.Flush"/>, a move replaces in one
/// step, a move or a new name is on the disk after <see cref="SyncFolder"/>, and <see cref="Lock"/> lets in one at a time.</remarks>
internal interface ISurveyStorage
{
    /// <summary>The folder as named, for messages.</summary>
    string Name { get; }

    /// <summary>True when the folder itself is there.</summary>
    bool IsThere { get; }

    /// <summary>Makes the folder itself.</summary>
    void Make();

    /// <summary>Names of files directly in a folder; none when it isn't there.</summary>
    IReadOnlyList<string> Files(string folder);

    /// <summary>Names of folders directly in a folder; none when it isn't there.</summary>
    IReadOnlyList<string> Folders(string folder);

    /// <summary>True when a file or folder is there, whatever the case of its letters.</summary>
    bool Exists(string path);

    /// <summary>Bytes of a file; null when it isn't there.</summary>
    long? LengthOf(string path);

    /// <summary>Opens a file to read, whoever writes to it.</summary>
    Stream OpenRead(string path);

    /// <summary>Makes a file anew and opens it to write; its folder is made where it lacks.</summary>
    IStorageFile Create(string path);

    /// <summary>Opens a file to write behind its end.</summary>
    IStorageFile Append(string path);

    /// <summary>Gives a file or folder another name in one step; a file of that name is replaced.</summary>
    void Move(string from, string to);

    /// <summary>Makes a folder where it lacks.</summary>
    void MakeFolder(string folder);

    /// <summary>Deletes a file where it is there, protected or not.</summary>
    void Delete(string path);

    /// <summary>Deletes a folder that is empty.</summary>
    void DeleteFolder(string folder);

    /// <summary>Marks a file as not to be changed, where the system has such a mark.</summary>
    void Protect(string path);

    /// <summary>Brings the names in a folder to the disk.</summary>
    void SyncFolder(string folder);

    /// <summary>Takes the folder for one writer.</summary>
    /// <param name="holder">Who takes it, for the messages that others get.</param>
    /// <returns>Gives it back when disposed.</returns>
    /// <exception cref="SurveyException">Somebody has it.</exception>
    IDisposable Lock(string holder);
}

/// <summary>A file that is written.</summary>
internal interface IStorageFile : IDisposable
{
    /// <summary>Bytes so far.</summary>
    long Length { get; }

    /// <summary>Writes at the end.</summary>
    void Write(ReadOnlySpan<byte> bytes);

    /// <summary>Returns when everything written is on the disk.</summary>
    void Flush();

    /// <summary>Cuts the file.</summary>
    void SetLength(long length);
}
