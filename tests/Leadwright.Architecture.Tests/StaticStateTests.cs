using System.Reflection;
using System.Runtime.CompilerServices;

namespace Leadwright.Architecture.Tests;

/// <summary>No result may depend on what was computed before: no static field can be written after its type is made.</summary>
public sealed class StaticStateTests
{
#pragma warning disable CS0169, CA1823, IDE0051 // A violation made on purpose; nothing uses it.
    private static int s_madeOnPurpose;
#pragma warning restore CS0169, CA1823, IDE0051

    private static string? SetOnPurpose { get; set; }

    [Fact]
    public void No_product_assembly_has_mutable_static_fields() =>
        Assert.Empty(Products.ByProject.Values.SelectMany(assembly => assembly.GetTypes()).SelectMany(MutableFields));

    [Fact]
    public void The_rule_sees_a_field_and_a_property_that_can_be_set()
    {
        SetOnPurpose = null;
        Assert.Equal(["StaticStateTests.SetOnPurpose", "StaticStateTests.s_madeOnPurpose"],
            MutableFields(typeof(StaticStateTests)).Order(StringComparer.Ordinal));
        Assert.Null(SetOnPurpose);
    }

    private static IEnumerable<string> MutableFields(Type type)
    {
        if (type.IsDefined(typeof(CompilerGeneratedAttribute), inherit: false)) yield break;
        foreach (var field in type.GetFields(BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly))
        {
            if (field.IsLiteral || field.IsInitOnly) continue;
            // The compiler caches lambdas in fields called <>…; the field behind a property that can be set is state like any other.
            var isProperty = field.Name.EndsWith("k__BackingField", StringComparison.Ordinal);
            if (field.Name.StartsWith('<') && !isProperty) continue;
            yield return $"{type.Name}.{(isProperty ? field.Name[1..field.Name.IndexOf('>', StringComparison.Ordinal)] : field.Name)}";
        }
    }
}
