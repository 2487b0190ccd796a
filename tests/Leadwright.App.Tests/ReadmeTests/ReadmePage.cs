using System.Runtime.CompilerServices;

namespace Leadwright.App.Tests.ReadmeTests;

/// <summary>The README and the pages that its figures come from.</summary>
internal static class ReadmePage
{
    public static string Root { get; } = Path.GetFullPath(Path.Combine(FolderOfThisFile(), "..", "..", ".."));

    public static string PathOf(string name) => Path.Combine(Root, name.Replace('/', Path.DirectorySeparatorChar));

    public static string Text(string name) => File.ReadAllText(PathOf(name)).ReplaceLineEndings("\n");

    /// <summary>What stands between the marks of a block, without blank lines around it.</summary>
    /// <exception cref="InvalidDataException">The marks are not there.</exception>
    public static string Block(string page, string name)
    {
        var (start, end) = SpanOf(page, name);
        return page[start..end].Trim('\n');
    }

    /// <summary>The page with another text between the marks.</summary>
    public static string WithBlock(string page, string name, string text)
    {
        var (start, end) = SpanOf(page, name);
        return $"{page[..start]}\n\n{text}\n\n{page[end..]}";
    }

    private static (int Start, int End) SpanOf(string page, string name)
    {
        var (from, to) = ($"<!-- {name} -->", $"<!-- end of {name} -->");
        var start = page.IndexOf(from, StringComparison.Ordinal);
        var end = page.IndexOf(to, StringComparison.Ordinal);
        if (start < 0 || end < start) throw new InvalidDataException($"README.md lacks the lines '{from}' and '{to}'. Put them back.");
        return (start + from.Length, end);
    }

    private static string FolderOfThisFile([CallerFilePath] string path = "") => Path.GetDirectoryName(path)!;
}
