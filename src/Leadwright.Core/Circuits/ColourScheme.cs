using System.Collections.Immutable;
using Leadwright.Core.Wording;

namespace Leadwright.Core.Circuits;

/// <summary>The conductor colours of one region and kind of system.</summary>
/// <param name="Id">A short name for settings and files, such as <c>iec-60445</c>.</param>
/// <param name="Region">The region or standard.</param>
/// <param name="System">The kind of system it is used on.</param>
/// <param name="LineA">Colours met on line A (L1), the usual one first; never empty.</param>
/// <param name="LineB">Colours met on line B (L2), the usual one first; never empty.</param>
/// <param name="LineC">Colours met on line C (L3), the usual one first; empty where there is no third line.</param>
/// <param name="Neutral">Colours met on the neutral, the usual one first; never empty.</param>
/// <param name="Protective">Colours met on the protective conductor, the usual one first; never empty.</param>
/// <param name="Basis">What the colours rest on: a code, a standard, or practice.</param>
public sealed record ColourScheme(
    string Id,
    string Region,
    string System,
    ImmutableArray<ConductorColour> LineA,
    ImmutableArray<ConductorColour> LineB,
    ImmutableArray<ConductorColour> LineC,
    ImmutableArray<ConductorColour> Neutral,
    ImmutableArray<ConductorColour> Protective,
    string Basis)
{
    /// <summary>What must stand beside every use of a scheme.</summary>
    public static string Caution => Say.Of(
        "colours.never-prove", "Colours never prove a phase: they change with date, building and country. Prove each conductor by measurement.");

    /// <summary>The colours met on a conductor, the usual one first; empty where the system has no such conductor.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is not a conductor.</exception>
    public ImmutableArray<ConductorColour> Of(Conductor conductor) => conductor switch
    {
        Conductor.A => LineA,
        Conductor.B => LineB,
        Conductor.C => LineC,
        Conductor.N => Neutral,
        Conductor.G => Protective,
        _ => throw new ArgumentOutOfRangeException(nameof(conductor), conductor, "Not a conductor."),
    };

    /// <summary>The usual colour of a conductor; null where the system has no such conductor.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is not a conductor.</exception>
    public ConductorColour? UsualOf(Conductor conductor)
    {
        var colours = Of(conductor);
        return colours.IsEmpty ? null : colours[0];
    }
}
