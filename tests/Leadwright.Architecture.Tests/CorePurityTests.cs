using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;

namespace Leadwright.Architecture.Tests;

/// <summary>Core is pure computing: its compiled form names no type of files, network, console or surroundings.</summary>
public sealed class CorePurityTests
{
    [Fact]
    public void Core_names_no_file_network_or_console_type() => Assert.Empty(ImpureTypes(Products.Core));

    [Fact]
    public void The_rule_sees_the_files_that_these_tests_read()
    {
        var found = ImpureTypes(typeof(CorePurityTests).Assembly);
        Assert.Contains("System.IO.File", found);
    }

    [Theory]
    [InlineData("System.IO", "Stream", "Read", true)]
    [InlineData("System.IO.Compression", "GZipStream", "Read", true)]
    [InlineData("System.Net.Http", "HttpClient", "Send", true)]
    [InlineData("System", "Console", "WriteLine", true)]
    [InlineData("System", "Environment", "get_MachineName", true)]
    [InlineData("System", "Environment", "get_CurrentManagedThreadId", false)]
    [InlineData("System", "Math", "Sqrt", false)]
    [InlineData("System.Numerics", "Vector`1", "get_Zero", false)]
    public void The_rule_knows_what_is_impure(string name, string type, string member, bool isImpure) =>
        Assert.Equal(isImpure, IsImpure(name, type, member));

    private static List<string> ImpureTypes(Assembly assembly)
    {
        using var file = new PEReader(File.OpenRead(assembly.Location));
        var metadata = file.GetMetadataReader();
        var types = metadata.TypeReferences.Select(metadata.GetTypeReference).Select(type => (Type: type, Member: ""));
        var members = metadata.MemberReferences.Select(metadata.GetMemberReference)
            .Where(member => member.Parent.Kind == HandleKind.TypeReference)
            .Select(member => (Type: metadata.GetTypeReference((TypeReferenceHandle)member.Parent), Member: metadata.GetString(member.Name)));
        return [.. types.Concat(members)
            .Select(use => (Namespace: metadata.GetString(use.Type.Namespace), Name: metadata.GetString(use.Type.Name), use.Member))
            .Where(use => IsImpure(use.Namespace, use.Name, use.Member))
            .Select(use => $"{use.Namespace}.{use.Name}")
            .Distinct()];
    }

    // The compiler itself asks for the thread in every iterator; any other member of Environment is somebody's doing.
    private static bool IsImpure(string name, string type, string member) =>
        IsIn(name, "System.IO") || IsIn(name, "System.Net") || (name == "System" && type == "Console")
        || (name == "System" && type == "Environment" && member is not ("" or "get_CurrentManagedThreadId"));

    private static bool IsIn(string name, string parent) =>
        name == parent || name.StartsWith(parent + ".", StringComparison.Ordinal);
}
