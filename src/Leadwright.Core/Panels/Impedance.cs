using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>A resistance with an inductive reactance in series.</summary>
/// <param name="ResistanceOhms">Resistance, the same at every frequency; zero or more.</param>
/// <param name="ReactanceOhms">Reactance at the fundamental; grows with the order; zero or more.</param>
public readonly record struct Impedance(double ResistanceOhms, double ReactanceOhms)
{
    /// <summary>R + jhX at harmonic order h.</summary>
    public Phasor AtOrder(int order) => new(ResistanceOhms, order * ReactanceOhms);
}
