using System.Xml.Linq;

namespace Leadwright.Architecture.Tests;

/// <summary>What a project file refers to.</summary>
internal sealed record ProjectFile(string Name, IReadOnlyList<string> Projects, IReadOnlyList<string> Packages)
{
    public static ProjectFile Parse(string name, string xml)
    {
        var document = XDocument.Parse(xml);
        return new ProjectFile(
            name,
            [.. Includes(document, "ProjectReference").Select(path => Path.GetFileNameWithoutExtension(path.Replace('\\', '/')))],
            [.. Includes(document, "PackageReference")]);
    }

    public static IEnumerable<ProjectFile> InSource() => Repository.Files("src", ".csproj")
        .Select(path => Parse(Path.GetFileNameWithoutExtension(path), File.ReadAllText(path)));

    private static IEnumerable<string> Includes(XDocument document, string element) =>
        document.Descendants(element).Select(node => node.Attribute("Include")?.Value).OfType<string>();
}
