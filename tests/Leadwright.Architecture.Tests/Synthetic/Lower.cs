using Leadwright.Architecture.Tests.Synthetic.Upper;

namespace Leadwright.Architecture.Tests.Synthetic.Lower;

/// <summary>Stands below and keeps to it.</summary>
internal sealed class LowerThing
{
    public int Size { get; init; } = 1;
}

/// <summary>A violation made on purpose, hidden in a lambda.</summary>
internal static class UsesUpperInALambda
{
    public static Func<int> Later => () => UpperThing.Count;
}

/// <summary>A violation made on purpose, hidden in an iterator.</summary>
internal static class UsesUpperInAnIterator
{
    public static IEnumerable<int> Each()
    {
        yield return UpperThing.Count;
    }
}
