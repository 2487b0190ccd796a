using System.Text.RegularExpressions;

namespace Leadwright.App.Tests.ReadmeTests;

/// <summary>The commands that README and documents show in their blocks.</summary>
internal static partial class DocsCommands
{
    private const string FromSource = "dotnet run --project src/Leadwright.App -- ";

    /// <summary>Each command once, without the program's name and with the page that shows it first, in the order of reading.</summary>
    public static IReadOnlyList<(string Page, string Words)> All()
    {
        var pages = Directory.EnumerateFiles(ReadmePage.PathOf("docs"), "*.md", SearchOption.AllDirectories).Order(StringComparer.Ordinal).Prepend(ReadmePage.PathOf("README.md"));
        return [.. pages.SelectMany(page => InBlocks(File.ReadAllText(page)).Select(words => (Path.GetRelativePath(ReadmePage.Root, page), words))).DistinctBy(command => command.words)];
    }

    /// <summary>A command's words as a shell takes them apart; where its output goes is left out.</summary>
    public static string[] Words(string command) =>
        [.. Word().Matches(Redirection().Replace(command, "")).Select(match => Quoted().Replace(match.Value, "$1"))];

    private static IEnumerable<string> InBlocks(string page)
    {
        var isInside = false;
        foreach (var line in page.ReplaceLineEndings("\n").Split('\n').Select(line => line.Trim()))
        {
            if (line.StartsWith("```", StringComparison.Ordinal)) isInside = !isInside;
            else if (isInside && line.StartsWith("leadwright ", StringComparison.Ordinal)) yield return line["leadwright ".Length..];
            else if (isInside && line.StartsWith(FromSource, StringComparison.Ordinal)) yield return line[FromSource.Length..];
        }
    }

    [GeneratedRegex("""(?:[^\s"]|"[^"]*")+""")]
    private static partial Regex Word();

    [GeneratedRegex("\"([^\"]*)\"")]
    private static partial Regex Quoted();

    [GeneratedRegex(@"\s>\s*\S+$")]
    private static partial Regex Redirection();
}
