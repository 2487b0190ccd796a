namespace Leadwright.App.Verbs;

/// <summary>Files that belong together because they carry one recording: same name, other ending.</summary>
internal static class InputPaths
{
    private static readonly string[] s_companions = [".dat", ".hdr", ".inf"];

    /// <summary>The given paths without those that only accompany another given one, and without repetitions.</summary>
    public static IReadOnlyList<string> WithoutCompanions(IEnumerable<string> paths)
    {
        var given = paths.Distinct(StringComparer.Ordinal).ToArray();
        var configurations = given.Where(path => HasEnding(path, ".cfg")).Select(Stem).ToHashSet(StringComparer.OrdinalIgnoreCase);
        return [.. given.Where(path => !s_companions.Any(ending => HasEnding(path, ending)) || !configurations.Contains(Stem(path)))];
    }

    /// <summary>The file beside a given one with another ending, in any case; null when there is none.</summary>
    /// <param name="path">The given file.</param>
    /// <param name="ending">The wanted ending with its dot.</param>
    public static string? Beside(string path, string ending)
    {
        var folder = Path.GetDirectoryName(Path.GetFullPath(path));
        if (folder is null || !Directory.Exists(folder)) return null;
        var wanted = Path.GetFileNameWithoutExtension(path) + ending;

        // The exact spelling of the stem goes first: two recordings may differ by case alone.
        return Directory.EnumerateFiles(folder)
            .Where(file => string.Equals(Path.GetFileName(file), wanted, StringComparison.OrdinalIgnoreCase))
            .OrderByDescending(file => Path.GetFileNameWithoutExtension(file) == Path.GetFileNameWithoutExtension(path))
            .ThenBy(file => file, StringComparer.Ordinal)
            .FirstOrDefault();
    }

    private static bool HasEnding(string path, string ending) => path.EndsWith(ending, StringComparison.OrdinalIgnoreCase);

    private static string Stem(string path) => Path.ChangeExtension(Path.GetFullPath(path), null);
}
