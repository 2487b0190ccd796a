using Leadwright.Core.Circuits;

namespace Leadwright.Core.Panels;

/// <summary>Three-phase induction motors: constant power along the rotation, locked-rotor impedance against it.</summary>
/// <param name="Watts">Power drawn; above zero.</param>
/// <param name="Vars">Reactive power drawn.</param>
/// <param name="LineToNeutralVolts">Nominal volts, line to star point.</param>
/// <remarks>The negative-sequence and harmonic impedance is j/6 per unit of the drawn volt-amperes, the reciprocal of the
/// usual starting current of six times the full-load one; so one percent of voltage unbalance gives some six percent of
/// current unbalance. No neutral current. Common practice, no source.</remarks>
internal sealed record MotorPart(double Watts, double Vars, double LineToNeutralVolts) : LoadPart
{
    private const double LockedRotorPerUnit = 1.0 / 6;
    private static readonly Conductor[] s_conductors = [Conductor.A, Conductor.B, Conductor.C];

    public override ReadOnlySpan<Conductor> Conductors => s_conductors;

    public override void Connect(Network network)
    {
        var voltAmperes = Math.Sqrt((Watts * Watts) + (Vars * Vars));
        var ohms = LockedRotorPerUnit * 3 * LineToNeutralVolts * LineToNeutralVolts / voltAmperes;
        var siemens = new Phasor(0, -1 / (network.Order * ohms));
        if (network.Order > 1)
        {
            network.Connect(Conductor.A, Conductor.B, siemens / 3);
            network.Connect(Conductor.B, Conductor.C, siemens / 3);
            network.Connect(Conductor.C, Conductor.A, siemens / 3);
            return;
        }

        // Negative-sequence current only: I_k = y·V2 turned into line k; V2 = (A + a²B + aC)/3, lines 1, a, a².
        var turn = network.Turn;
        ReadOnlySpan<Phasor> turns = [new Phasor(1, 0), turn, turn.Conjugate];
        for (var row = 0; row < 3; row++)
        {
            for (var column = 0; column < 3; column++)
            {
                network.Couple(s_conductors[row], s_conductors[column], (siemens / 3) * (turns[row] * turns[column].Conjugate));
            }
        }
    }

    public override void DrawFundamental(Network network)
    {
        var turn = network.Turn;
        var positive = (network.Potential(Conductor.A) + (turn * network.Potential(Conductor.B))
            + (turn.Conjugate * network.Potential(Conductor.C))) / 3;
        var current = CurrentFor(Watts / 3, Vars / 3, positive);
        network.Draw(Conductor.A, current);
        network.Draw(Conductor.B, turn.Conjugate * current);
        network.Draw(Conductor.C, turn * current);
    }
}
