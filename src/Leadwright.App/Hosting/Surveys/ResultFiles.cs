using System.Security.Cryptography;
using System.Text;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Results that were worked out, kept in the survey's folder under a key of what they follow from: the same input and program need no second run.</summary>
/// <remarks>They may be deleted at any time: the originals and the journal are the survey.</remarks>
internal static class ResultFiles
{
    private const string FolderName = "results";
    private const int MostKeys = 24;

    /// <summary>What a result follows from, as a short name.</summary>
    /// <param name="parts">Digests, settings, versions.</param>
    public static string KeyOf(IEnumerable<string> parts) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', parts))))[..24];

    /// <summary>A kept result; null when there is none.</summary>
    public static byte[]? Read(string survey, string key, string name)
    {
        try
        {
            var path = Path.Combine(survey, FolderName, key, name);
            return File.Exists(path) ? File.ReadAllBytes(path) : null;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    /// <summary>Keeps a result. On a stick that can't be written to it is worked out anew each time.</summary>
    public static void Keep(string survey, string key, string name, byte[] bytes)
    {
        try
        {
            var folder = Path.Combine(survey, FolderName, key);
            Directory.CreateDirectory(folder);
            var draft = Path.Combine(folder, $"{name}.{Guid.NewGuid():N}.unfinished");
            File.WriteAllBytes(draft, bytes);
            File.Move(draft, Path.Combine(folder, name), overwrite: true);
            var old = new DirectoryInfo(Path.Combine(survey, FolderName)).GetDirectories().OrderByDescending(entry => entry.LastWriteTimeUtc).Skip(MostKeys);
            foreach (var entry in old) entry.Delete(recursive: true);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // Worked out anew next time.
        }
    }
}
