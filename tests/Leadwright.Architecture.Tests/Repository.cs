using System.Runtime.CompilerServices;

namespace Leadwright.Architecture.Tests;

/// <summary>The source tree that these tests were compiled from.</summary>
internal static class Repository
{
    public static string Root { get; } = Path.GetFullPath(Path.Combine(FolderOfThisFile(), "..", ".."));

    public static IEnumerable<string> Files(string folder, params string[] extensions) =>
        Directory.EnumerateFiles(Path.Combine(Root, folder), "*", SearchOption.AllDirectories)
            .Where(path => extensions.Contains(Path.GetExtension(path), StringComparer.Ordinal))
            .Where(path => !Segments(path).Any(segment => segment is "bin" or "obj" or "artifacts" or "node_modules"))
            .Order(StringComparer.Ordinal);

    public static string Relative(string path) => Path.GetRelativePath(Root, path).Replace('\\', '/');

    private static string[] Segments(string path) => Relative(path).Split('/');

    private static string FolderOfThisFile([CallerFilePath] string path = "") => Path.GetDirectoryName(path)!;
}
