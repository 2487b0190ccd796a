using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>A sinusoidal current of constant power between two conductors: an inverter, or electronics with power-factor
/// correction.</summary>
/// <param name="From">One conductor.</param>
/// <param name="To">The other conductor.</param>
/// <param name="Watts">Power drawn; negative when it generates.</param>
/// <param name="Vars">Reactive power drawn.</param>
internal sealed record PowerPart(Conductor From, Conductor To, double Watts, double Vars) : LoadPart
{
    private readonly Conductor[] _conductors = [From, To];

    public override ReadOnlySpan<Conductor> Conductors => _conductors;

    public override void DrawFundamental(Network network) =>
        network.Draw(From, To, CurrentFor(Watts, Vars, network.Potential(From) - network.Potential(To)));
}
