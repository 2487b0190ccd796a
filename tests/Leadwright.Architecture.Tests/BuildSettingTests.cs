using System.Reflection;
using System.Xml.Linq;

namespace Leadwright.Architecture.Tests;

/// <summary>The compiler holds the house rules, as long as nobody switches it off.</summary>
public sealed class BuildSettingTests
{
    [Theory]
    [InlineData("TreatWarningsAsErrors")]
    [InlineData("GenerateDocumentationFile")]
    [InlineData("EnforceCodeStyleInBuild")]
    public void The_root_settings_switch_the_compilers_checks_on(string setting)
    {
        var root = XDocument.Load(Path.Combine(Repository.Root, "Directory.Build.props"));
        Assert.Equal("true", Assert.Single(root.Descendants(setting)).Value);
    }

    [Fact]
    public void No_source_project_switches_them_off() =>
        Assert.Empty(Repository.Files("src", ".csproj", ".props", ".targets").SelectMany(path => SwitchedOff(XDocument.Load(path), Repository.Relative(path))));

    [Fact]
    public void No_source_file_drops_the_rule_that_public_members_are_documented() => Assert.Empty(
        Repository.Files("src", ".cs").Where(path => File.ReadAllText(path).Contains("disable CS1591", StringComparison.Ordinal)).Select(Repository.Relative));

    [Theory]
    [InlineData("Leadwright.Core")]
    [InlineData("Leadwright.Formats")]
    [InlineData("Leadwright.Surveys")]
    public void Every_public_type_is_documented(string project)
    {
        var assembly = Products.ByProject[project];
        var documented = XDocument.Load(Path.ChangeExtension(assembly.Location, ".xml"))
            .Descendants("member").Select(member => member.Attribute("name")!.Value).ToHashSet(StringComparer.Ordinal);
        Assert.Empty(Undocumented(assembly, documented));
    }

    [Fact]
    public void The_rules_see_a_switch_and_a_missing_text()
    {
        var project = XDocument.Parse(
            "<Project><PropertyGroup><TreatWarningsAsErrors>false</TreatWarningsAsErrors><NoWarn>CA1;CS1591</NoWarn></PropertyGroup></Project>");
        Assert.Equal(["x: TreatWarningsAsErrors", "x: NoWarn"], SwitchedOff(project, "x"));
        Assert.Contains("Leadwright.Core.Circuits.Phasor", Undocumented(Products.Core, []));
    }

    private static IEnumerable<string> SwitchedOff(XDocument project, string name) => project.Descendants()
        .Where(element =>
            (element.Name.LocalName is "TreatWarningsAsErrors" or "GenerateDocumentationFile" or "EnforceCodeStyleInBuild" && element.Value != "true")
            || (element.Name.LocalName is "NoWarn" or "WarningsNotAsErrors" && element.Value.Contains("CS1591", StringComparison.Ordinal)))
        .Select(element => $"{name}: {element.Name.LocalName}");

    private static IEnumerable<string> Undocumented(Assembly assembly, HashSet<string> documented) => assembly.GetExportedTypes()
        .Select(type => type.FullName!.Replace('+', '.'))
        .Where(name => !documented.Contains("T:" + name));
}
