using System.Text;

namespace Leadwright.App.Verbs;

/// <summary>Writes small files that are there whole or not at all.</summary>
internal static class WholeFile
{
    private const string Unfinished = ".unfinished";

    /// <summary>Writes a text under its name when it is whole.</summary>
    /// <param name="path">The file; what is there is replaced.</param>
    /// <param name="text">The text.</param>
    /// <exception cref="InputRefusedException">It can't be written.</exception>
    public static void Write(string path, string text) => Write(path, Encoding.UTF8.GetBytes(text));

    /// <summary>Writes bytes under their name when they are whole.</summary>
    /// <param name="path">The file; what is there is replaced.</param>
    /// <param name="bytes">The bytes.</param>
    /// <exception cref="InputRefusedException">It can't be written.</exception>
    public static void Write(string path, byte[] bytes)
    {
        var draft = path + Unfinished;
        try
        {
            File.WriteAllBytes(draft, bytes);
            File.Move(draft, path, overwrite: true);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            Forget(draft);
            throw InputRefusedException.CannotWrite($"'{path}'", failure);
        }
    }

    // Half a file on a full disk helps nobody.
    private static void Forget(string draft)
    {
        try
        {
            File.Delete(draft);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // What can't be written to can't be cleared either; the message says why.
        }
    }
}
