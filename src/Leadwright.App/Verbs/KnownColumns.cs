using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Leadwright.Formats;
using Leadwright.Formats.Matching;

namespace Leadwright.App.Verbs;

/// <summary>How a person confirmed that tables are read: a folder of profiles (<c>leadwright.columns/1</c>), one file for each set of headings, in the person's own settings.</summary>
internal static class KnownColumns
{
    /// <summary>Names another folder, as one that a crew shares; empty to remember nothing.</summary>
    public const string Variable = "LEADWRIGHT_COLUMNS";

    private const int MostProfiles = 1000;

    /// <summary>The folder; null when nothing is remembered.</summary>
    public static string? Folder
    {
        get
        {
            if (Environment.GetEnvironmentVariable(Variable) is { } named) return named.Length > 0 ? named : null;
            var settings = Environment.GetFolderPath(Environment.SpecialFolder.ApplicationData, Environment.SpecialFolderOption.DoNotVerify);
            return settings.Length > 0 ? Path.Combine(settings, "leadwright", "columns") : null;
        }
    }

    /// <summary>All profiles that can be read, by name of their files; others are left alone.</summary>
    public static ImmutableArray<ColumnProfile> Profiles() => [.. All().Select(known => known.Profile)];

    /// <summary>Remembers a profile in place of one with the same headings.</summary>
    /// <param name="profile">The profile.</param>
    /// <returns>Its file.</returns>
    /// <exception cref="InputRefusedException">It can't be written.</exception>
    public static string Keep(ColumnProfile profile)
    {
        if (Folder is not { } folder) throw new InputRefusedException(ExitCode.InputUnusable, $"There is no place to remember the columns in. Name a folder with {Variable}, or write them with -o.");
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot remember the columns in '{folder}': {failure.Message}", failure);
        }

        var path = PathOf(folder, profile);
        WholeFile.Write(path, ColumnProfileWriter.Write(profile));
        return path;
    }

    /// <summary>Forgets the profile for a set of headings.</summary>
    /// <param name="headings">The headings.</param>
    /// <returns>The file that was taken away; null when none was there.</returns>
    /// <exception cref="InputRefusedException">It can't be taken away.</exception>
    public static string? Forget(IEnumerable<string> headings)
    {
        var wanted = headings.ToList();
        if (All().FirstOrDefault(known => known.Profile.Fits(wanted)).Path is not { } path) return null;
        try
        {
            File.Delete(path);
            return path;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw new InputRefusedException(ExitCode.InputUnusable, $"Cannot take '{path}' away: {failure.Message}", failure);
        }
    }

    private static IEnumerable<(string Path, ColumnProfile Profile)> All()
    {
        if (Folder is not { } folder || !Directory.Exists(folder)) yield break;
        foreach (var path in FilesIn(folder))
        {
            if (Read(path) is { } profile) yield return (path, profile);
        }
    }

    private static string[] FilesIn(string folder)
    {
        try
        {
            return [.. Directory.EnumerateFiles(folder, "*.json").Order(StringComparer.Ordinal).Take(MostProfiles)];
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return [];
        }
    }

    private static ColumnProfile? Read(string path)
    {
        try
        {
            return ColumnProfileReader.Read(new InputFile(path, File.ReadAllBytes(path)));
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or FormatReadException)
        {
            return null;
        }
    }

    private static string PathOf(string folder, ColumnProfile profile)
    {
        var headings = string.Join('\n', profile.Headings.Select(heading => heading.ToUpperInvariant()).Order(StringComparer.Ordinal));
        return Path.Combine(folder, Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(headings)))[..16] + ".json");
    }
}
