using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>What the conductors of a virtual panel do in a steady state.</summary>
/// <remarks>Potentials are referred to the neutral of the source (on three-wire services: to its star point), angles to the
/// nominal voltage of phase A. Currents flow toward the load; the neutral's too, so that I_A + I_B + I_C + I_N = 0 and a
/// neutral clamp whose arrow points to the load reads minus the sum of the lines.</remarks>
public sealed class PanelSolution
{
    private const int ConductorCount = 5;
    private readonly Phasor[] _potentials;
    private readonly Phasor[] _currents;

    internal PanelSolution(VirtualPanel panel, ulong orderMask)
    {
        Panel = panel;
        var orders = ImmutableArray.CreateBuilder<int>(1 + System.Numerics.BitOperations.PopCount(orderMask));
        orders.Add(1);
        for (var order = 2; order <= 50; order++)
        {
            if ((orderMask & (1UL << order)) != 0) orders.Add(order);
        }

        Orders = orders.MoveToImmutable();
        _potentials = new Phasor[Orders.Length * ConductorCount];
        _currents = new Phasor[Orders.Length * ConductorCount];
    }

    /// <summary>The panel.</summary>
    public VirtualPanel Panel { get; }

    /// <summary>The harmonic orders that are present, ascending, the fundamental first.</summary>
    public ImmutableArray<int> Orders { get; }

    /// <summary>Potential of a conductor at the panel, volts rms; zero for an order that isn't present or a conductor that
    /// the service lacks.</summary>
    public Phasor Potential(Conductor conductor, int order = 1) => At(_potentials, conductor, order);

    /// <summary>Current of a conductor toward the load, amperes rms; zero for ground, for an order that isn't present and for
    /// a conductor that the service lacks.</summary>
    public Phasor Current(Conductor conductor, int order = 1) => At(_currents, conductor, order);

    /// <summary>Active power that flows to the loads, watts, all orders together.</summary>
    public double Watts
    {
        get
        {
            var sum = 0.0;
            for (var index = 0; index < _currents.Length; index++)
            {
                sum += (_potentials[index].Real * _currents[index].Real)
                    + (_potentials[index].Imaginary * _currents[index].Imaginary);
            }

            return sum;
        }
    }

    internal Phasor PotentialAt(int orderIndex, Conductor conductor) => _potentials[(orderIndex * ConductorCount) + (int)conductor];

    internal Phasor CurrentAt(int orderIndex, Conductor conductor) => _currents[(orderIndex * ConductorCount) + (int)conductor];

    internal void Take(int orderIndex, Network network, Phasor ground)
    {
        for (var conductor = Conductor.A; conductor <= Conductor.N; conductor++)
        {
            _potentials[(orderIndex * ConductorCount) + (int)conductor] = network.Potential(conductor);
            _currents[(orderIndex * ConductorCount) + (int)conductor] = network.Current(conductor);
        }

        _potentials[(orderIndex * ConductorCount) + (int)Conductor.G] = ground;
    }

    private Phasor At(Phasor[] values, Conductor conductor, int order)
    {
        var index = Orders.IndexOf(order);
        return index < 0 ? Phasor.Zero : values[(index * ConductorCount) + (int)conductor];
    }
}
