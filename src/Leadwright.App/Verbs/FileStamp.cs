using Leadwright.Formats;

namespace Leadwright.App.Verbs;

/// <summary>Lengths and times of the files of a recording: whether they are what they were.</summary>
internal static class FileStamp
{
    /// <summary>The stamp of some files.</summary>
    /// <param name="paths">The files.</param>
    public static string Of(IEnumerable<string> paths) => string.Join(' ', paths.Select(path => new FileInfo(path))
        .Select(file => file.Exists ? FormattableString.Invariant($"{file.Name} {file.Length} {file.LastWriteTimeUtc.Ticks}") : $"{file.Name} gone"));

    /// <summary>The refusal of a file that did not stay what it was.</summary>
    /// <param name="path">The file.</param>
    public static FormatReadException Changed(string path) => new(
        path, "a file that stays as it is while it is read", "one that was changed meanwhile",
        "Wait until the recorder has closed it, or copy it and give the copy. A log that grows is watched with: leadwright guard FILE --follow");
}
