using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>One electrical element of a load. Every element returns what it draws: its currents sum to zero.</summary>
internal abstract record LoadPart
{
    /// <summary>Bit n is set where the element makes harmonic n of its own.</summary>
    public virtual ulong OrderMask => 0;

    /// <summary>The conductors it needs.</summary>
    public abstract ReadOnlySpan<Conductor> Conductors { get; }

    /// <summary>Puts in what follows from the voltage linearly, at the network's order.</summary>
    public virtual void Connect(Network network)
    {
    }

    /// <summary>Draws the rest of the fundamental current, at the network's present potentials.</summary>
    public virtual void DrawFundamental(Network network)
    {
    }

    /// <summary>Draws the harmonic current at the network's order, referred to the solved fundamental.</summary>
    public virtual void DrawHarmonic(Network network)
    {
    }

    /// <summary>I = (S / V)*: the current that carries a power at a voltage.</summary>
    protected static Phasor CurrentFor(double watts, double vars, Phasor volts) => (new Phasor(watts, vars) / volts).Conjugate;

    /// <summary>A harmonic current of a given size, whose angle is order × (angle of the voltage) + ψ.</summary>
    protected static Phasor HarmonicOf(SpectrumLine line, double fundamentalAmperes, double voltageRadians, double extraDegrees) =>
        Phasor.FromRadians(
            line.Fraction * fundamentalAmperes,
            (line.Order * (voltageRadians + (extraDegrees * Math.PI / 180))) + (line.AngleDegrees * Math.PI / 180));
}
