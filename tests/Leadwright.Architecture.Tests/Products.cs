using System.Reflection;

namespace Leadwright.Architecture.Tests;

/// <summary>The assemblies of the product, by project.</summary>
internal static class Products
{
    public static IReadOnlyDictionary<string, Assembly> ByProject { get; } = new Dictionary<string, Assembly>(StringComparer.Ordinal)
    {
        ["Leadwright.Core"] = Assembly.Load("Leadwright.Core"),
        ["Leadwright.Formats"] = Assembly.Load("Leadwright.Formats"),
        ["Leadwright.Surveys"] = Assembly.Load("Leadwright.Surveys"),
        ["Leadwright.Reports"] = Assembly.Load("Leadwright.Reports"),
        ["Leadwright.Documents"] = Assembly.Load("Leadwright.Documents"),
        ["Leadwright.Client"] = Assembly.Load("Leadwright.Client"),
        ["Leadwright.App"] = Assembly.Load("leadwright"),
    };

    public static Assembly Core => ByProject["Leadwright.Core"];
}
