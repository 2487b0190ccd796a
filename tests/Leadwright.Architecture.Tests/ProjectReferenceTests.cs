namespace Leadwright.Architecture.Tests;

/// <summary>Arrows between projects point down only. A new arrow is a new word in this table, to be argued for.</summary>
public sealed class ProjectReferenceTests
{
    private static readonly Dictionary<string, string[]> s_allowed = new(StringComparer.Ordinal)
    {
        ["Leadwright.Core"] = [],
        ["Leadwright.Formats"] = ["Leadwright.Core"],
        ["Leadwright.Surveys"] = ["Leadwright.Core", "Leadwright.Formats"],
        ["Leadwright.Reports"] = ["Leadwright.Core", "Leadwright.Formats"],
        ["Leadwright.Documents"] = ["Leadwright.Core", "Leadwright.Formats", "Leadwright.Reports"],
        ["Leadwright.Client"] = ["Leadwright.Core", "Leadwright.Formats", "Leadwright.Reports"],
        ["Leadwright.App"] = ["Leadwright.Core", "Leadwright.Formats", "Leadwright.Surveys", "Leadwright.Reports", "Leadwright.Documents", "Leadwright.Client"],
    };

    [Fact]
    public void Project_files_refer_downwards_only() => Assert.Empty(ProjectFile.InSource().SelectMany(Violations));

    [Fact]
    public void Every_project_is_in_the_table() =>
        Assert.Equal(s_allowed.Keys.Order(StringComparer.Ordinal), ProjectFile.InSource().Select(project => project.Name).Order(StringComparer.Ordinal));

    [Fact]
    public void Compiled_assemblies_refer_downwards_only()
    {
        var projects = Products.ByProject.Select(pair => new ProjectFile(
            pair.Key, [.. pair.Value.GetReferencedAssemblies().Select(name => ProjectOf(name.Name!)).OfType<string>()], []));
        Assert.Empty(projects.SelectMany(Violations));
    }

    [Fact]
    public void Core_has_no_package()
    {
        var core = ProjectFile.InSource().Single(project => project.Name == "Leadwright.Core");
        Assert.Empty(core.Packages);
        // What every source project gets: the analyzer, which ships nothing.
        var shared = ProjectFile.Parse("shared", File.ReadAllText(Path.Combine(Repository.Root, "src", "Directory.Build.props")));
        Assert.Equal(["Microsoft.CodeAnalysis.BannedApiAnalyzers"], shared.Packages);
    }

    [Fact]
    public void Core_refers_to_the_base_library_alone() =>
        Assert.All(Products.Core.GetReferencedAssemblies(), name => Assert.StartsWith("System.", name.Name, StringComparison.Ordinal));

    [Fact]
    public void The_rule_sees_an_arrow_that_points_up()
    {
        const string Xml = """<Project><ItemGroup><ProjectReference Include="..\Leadwright.App\Leadwright.App.csproj" /></ItemGroup></Project>""";
        Assert.Equal(["Leadwright.Core -> Leadwright.App"], Violations(ProjectFile.Parse("Leadwright.Core", Xml)));
        Assert.Equal(["Leadwright.New -> Leadwright.App"], Violations(ProjectFile.Parse("Leadwright.New", Xml)));
    }

    private static IEnumerable<string> Violations(ProjectFile project) => project.Projects
        .Where(target => !(s_allowed.TryGetValue(project.Name, out var allowed) && allowed.Contains(target, StringComparer.Ordinal)))
        .Select(target => $"{project.Name} -> {target}");

    private static string? ProjectOf(string assembly) => string.Equals(assembly, "leadwright", StringComparison.Ordinal)
        ? "Leadwright.App"
        : assembly.StartsWith("Leadwright.", StringComparison.Ordinal) ? assembly : null;
}
