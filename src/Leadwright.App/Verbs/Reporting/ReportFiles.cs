using System.Collections.Immutable;

namespace Leadwright.App.Verbs.Reporting;

/// <summary>Writes the documents of a report: all of them or none.</summary>
internal static class ReportFiles
{
    private const string Unfinished = ".unfinished";

    /// <summary>Writes them.</summary>
    /// <param name="files">Paths and contents.</param>
    /// <exception cref="InputRefusedException">One can't be written; nothing is left.</exception>
    public static void Write(ImmutableArray<(string Path, byte[] Bytes)> files)
    {
        try
        {
            foreach (var (path, bytes) in files)
            {
                if (Path.GetDirectoryName(path) is { Length: > 0 } folder) Directory.CreateDirectory(folder);
                File.WriteAllBytes(path + Unfinished, bytes);
            }

            foreach (var (path, _) in files) File.Move(path + Unfinished, path, overwrite: true);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            foreach (var (path, _) in files)
            {
                if (File.Exists(path + Unfinished)) File.Delete(path + Unfinished);
            }

            throw InputRefusedException.CannotWrite("the report", failure);
        }
    }
}
