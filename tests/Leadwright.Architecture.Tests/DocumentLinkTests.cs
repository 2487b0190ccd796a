using System.Text.RegularExpressions;

namespace Leadwright.Architecture.Tests;

/// <summary>Every relative link in a document leads to a file or folder of the repository.</summary>
public sealed partial class DocumentLinkTests
{
    [Fact]
    public void Links_lead_somewhere() => Assert.Empty(Documents().SelectMany(path => Broken(File.ReadAllText(path), path)));

    [Fact]
    public void The_rule_sees_a_broken_link()
    {
        var page = Path.Combine(Repository.Root, "README.md");
        var text = "[there](LICENSE) [gone](docs/no-such-page.md) ![gone](no-such.png \"title\") [web](https://example.org/x) [here](#top) `[code](no.md)`\n```\n[code](no.md)\n```\n[part](README.md#no-such-heading)";
        Assert.Equal(
            ["README.md: docs/no-such-page.md", "README.md: no-such.png", "README.md: README.md#no-such-heading"], Broken(text, page));
    }

    [Fact]
    public void The_documents_are_found() =>
        Assert.Contains(Documents().Select(Repository.Relative), name => name == "docs/field-guide/check.md");

    private static IEnumerable<string> Documents() => Repository.Files("docs", ".md")
        .Concat(Repository.Files("bench", ".md"))
        .Concat(Repository.Files("tests", ".md").Where(path => !Repository.Relative(path).StartsWith("tests/data/", StringComparison.Ordinal)))
        .Concat(Directory.EnumerateFiles(Repository.Root, "*.md"));

    private static IEnumerable<string> Broken(string text, string page)
    {
        var plain = CodePattern().Replace(text, "");
        foreach (Match match in LinkPattern().Matches(plain))
        {
            var target = match.Groups["target"].Value;
            if (target.Contains("://", StringComparison.Ordinal) || target.StartsWith("mailto:", StringComparison.Ordinal)) continue;
            if (target.StartsWith('#') && target == "#top") continue;
            var parts = target.Split('#', 2);
            var file = parts[0].Length == 0 ? page : Path.GetFullPath(Path.Combine(Path.GetDirectoryName(page)!, Uri.UnescapeDataString(parts[0])));
            var isThere = File.Exists(file) || (parts.Length == 1 && Directory.Exists(file));
            if (!isThere || (parts.Length == 2 && !Anchors(file).Contains(parts[1], StringComparer.Ordinal)))
                yield return $"{Repository.Relative(page)}: {target}";
        }
    }

    // As the usual viewers make them: lower case, blanks to hyphens, other marks dropped.
    private static IEnumerable<string> Anchors(string file) => HeadingPattern().Matches(File.ReadAllText(file))
        .Select(match => new string([.. match.Groups["words"].Value.Trim().ToLowerInvariant()
            .Where(letter => char.IsLetterOrDigit(letter) || letter is ' ' or '-' or '_')
            .Select(letter => letter == ' ' ? '-' : letter)]));

    [GeneratedRegex(@"^```.*?^```|`[^`\n]*`", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex CodePattern();

    [GeneratedRegex(@"\]\((?<target>[^()\s]+)(\s+""[^""]*"")?\)")]
    private static partial Regex LinkPattern();

    [GeneratedRegex(@"^#{1,6} (?<words>.+)$", RegexOptions.Multiline)]
    private static partial Regex HeadingPattern();
}
