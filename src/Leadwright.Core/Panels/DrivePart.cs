using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>A three-phase six-pulse bridge.</summary>
/// <param name="Watts">Power of the fundamental; above zero.</param>
/// <param name="LagDegrees">Displacement of the fundamental, positive when it lags.</param>
/// <param name="Currents">Its spectrum, referred to the voltage of each line along the rotation.</param>
internal sealed record DrivePart(double Watts, double LagDegrees, Spectrum Currents) : LoadPart
{
    private static readonly Conductor[] s_conductors = [Conductor.A, Conductor.B, Conductor.C];

    public override ulong OrderMask => Currents.OrderMask;

    public override ReadOnlySpan<Conductor> Conductors => s_conductors;

    public override void DrawFundamental(Network network)
    {
        var turn = network.Turn;
        var positive = Positive(network.Potential(Conductor.A), network.Potential(Conductor.B), network.Potential(Conductor.C), turn);
        var current = CurrentFor(Watts / 3, Watts / 3 * Math.Tan(LagDegrees * Math.PI / 180), positive);
        network.Draw(Conductor.A, current);
        network.Draw(Conductor.B, turn.Conjugate * current);
        network.Draw(Conductor.C, turn * current);
    }

    public override void DrawHarmonic(Network network)
    {
        var line = Currents.LineOf(network.Order);
        if (line.Fraction == 0) return;
        var turn = network.Turn;
        var positive = Positive(
            network.Fundamental(Conductor.A), network.Fundamental(Conductor.B), network.Fundamental(Conductor.C), turn);
        var amperes = Watts / 3 / (positive.Magnitude * Math.Cos(LagDegrees * Math.PI / 180));
        var angle = positive.AngleRadians;
        network.Draw(Conductor.A, HarmonicOf(line, amperes, angle, -LagDegrees));
        network.Draw(Conductor.B, HarmonicOf(line, amperes, angle - turn.AngleRadians, -LagDegrees));
        network.Draw(Conductor.C, HarmonicOf(line, amperes, angle + turn.AngleRadians, -LagDegrees));
    }

    private static Phasor Positive(Phasor a, Phasor b, Phasor c, Phasor turn) => (a + (turn * b) + (turn.Conjugate * c)) / 3;
}
