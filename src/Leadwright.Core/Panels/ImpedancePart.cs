using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>A constant impedance between two conductors: heaters, filament lamps, ballasts, capacitors.</summary>
/// <param name="From">One conductor.</param>
/// <param name="To">The other conductor.</param>
/// <param name="Watts">Power at <paramref name="NominalVolts"/>; zero or more.</param>
/// <param name="Vars">Reactive power at <paramref name="NominalVolts"/>; positive lags.</param>
/// <param name="NominalVolts">Volts rms at which it takes these powers.</param>
/// <remarks>A lagging one is R and L in series, a leading one R and C in parallel, so that it answers to distortion of the
/// supply as such things do.</remarks>
internal sealed record ImpedancePart(Conductor From, Conductor To, double Watts, double Vars, double NominalVolts) : LoadPart
{
    private readonly Conductor[] _conductors = [From, To];

    public override ReadOnlySpan<Conductor> Conductors => _conductors;

    public override void Connect(Network network)
    {
        var squareVolts = NominalVolts * NominalVolts;
        if (Vars > 0)
        {
            var ohms = (squareVolts / ((Watts * Watts) + (Vars * Vars))) * new Phasor(Watts, network.Order * Vars);
            network.Connect(From, To, new Phasor(1, 0) / ohms);
        }
        else
        {
            network.Connect(From, To, new Phasor(Watts, -network.Order * Vars) / squareVolts);
        }
    }
}
