using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>A single-phase rectifier between two conductors.</summary>
/// <param name="From">One conductor.</param>
/// <param name="To">The other conductor.</param>
/// <param name="Watts">Power of the fundamental; above zero.</param>
/// <param name="LeadDegrees">By how much its pulse comes before the crest of the voltage, degrees of the fundamental.</param>
/// <param name="Currents">Its spectrum, referred to its own voltage.</param>
internal sealed record RectifierPart(Conductor From, Conductor To, double Watts, double LeadDegrees, Spectrum Currents) : LoadPart
{
    private readonly Conductor[] _conductors = [From, To];

    public override ulong OrderMask => Currents.OrderMask;

    public override ReadOnlySpan<Conductor> Conductors => _conductors;

    public override void DrawFundamental(Network network)
    {
        var vars = -Watts * Math.Tan(LeadDegrees * Math.PI / 180);
        network.Draw(From, To, CurrentFor(Watts, vars, network.Potential(From) - network.Potential(To)));
    }

    public override void DrawHarmonic(Network network)
    {
        var line = Currents.LineOf(network.Order);
        if (line.Fraction == 0) return;
        var volts = network.Fundamental(From) - network.Fundamental(To);
        var amperes = Watts / (volts.Magnitude * Math.Cos(LeadDegrees * Math.PI / 180));
        network.Draw(From, To, HarmonicOf(line, amperes, volts.AngleRadians, LeadDegrees));
    }
}
