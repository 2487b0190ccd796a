using System.Reflection;
using ArchUnitNET.Loader;

namespace Leadwright.Architecture.Tests;

/// <summary>One type that uses another.</summary>
internal readonly record struct TypeUse(string FromNamespace, string From, string ToNamespace, string To)
{
    /// <summary>The uses within an assembly, those inside lambdas and iterators too. Types that the compiler makes may have
    /// no namespace: theirs is empty.</summary>
    public static IReadOnlyList<TypeUse> In(Assembly assembly) => [.. new ArchLoader().LoadAssembly(assembly).Build().Types
        .SelectMany(type => type.Dependencies.Select(use => new TypeUse(
            type.Namespace?.FullName ?? "", type.Name, use.Target.Namespace?.FullName ?? "", Outermost(use.Target.FullName))))
        .Distinct()];

    // A nested type belongs to the type it is nested in; generic types end in an arity.
    private static string Outermost(string fullName) => fullName.Split('+', '/')[0].Split('`')[0].Split('.')[^1];
}
