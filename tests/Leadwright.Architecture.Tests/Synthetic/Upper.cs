using Leadwright.Architecture.Tests.Synthetic.Lower;

namespace Leadwright.Architecture.Tests.Synthetic.Upper;

/// <summary>Stands above; may use what is below.</summary>
internal sealed class UpperThing
{
    public static int Count => new LowerThing().Size;
}
