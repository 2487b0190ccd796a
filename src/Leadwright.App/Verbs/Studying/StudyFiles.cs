using System.Collections.Immutable;
using System.Text;
using Leadwright.Reports.Studies;

namespace Leadwright.App.Verbs.Studying;

/// <summary>Writes the tables and plots of a study: all of them or none.</summary>
internal static class StudyFiles
{
    private const string Unfinished = ".unfinished";

    /// <summary>Writes files into a folder that is made where it is missing.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="files">Names and contents.</param>
    /// <returns>The paths.</returns>
    /// <exception cref="InputRefusedException">Something can't be written; nothing is left.</exception>
    public static ImmutableArray<string> Write(string folder, ImmutableArray<StudyFile> files)
    {
        var isNew = !Directory.Exists(folder);
        try
        {
            Directory.CreateDirectory(folder);
            foreach (var file in files) File.WriteAllText(Path.Combine(folder, file.Name + Unfinished), file.Content, new UTF8Encoding(false));
            foreach (var file in files) File.Move(Path.Combine(folder, file.Name + Unfinished), Path.Combine(folder, file.Name), overwrite: true);
            return [.. files.Select(file => Path.Combine(folder, file.Name))];
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            foreach (var file in files) Delete(Path.Combine(folder, file.Name + Unfinished));
            if (isNew && Directory.Exists(folder) && !Directory.EnumerateFileSystemEntries(folder).Any()) Directory.Delete(folder);
            throw InputRefusedException.CannotWrite($"into '{folder}'", failure);
        }
    }

    private static void Delete(string path)
    {
        if (File.Exists(path)) File.Delete(path);
    }
}
