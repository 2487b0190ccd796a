using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Hypotheses;

/// <summary>One arrangement of the leads on a supply of one rotation.</summary>
/// <param name="On">Place of each lead, by <see cref="Lead"/> number; −1 for a lead that the recorder does not have.</param>
/// <param name="Rotation">Rotation of the supply.</param>
/// <param name="LogPrior">Natural logarithm of its prior probability, all that is supposed of the supply included.</param>
/// <param name="Singular">The line that differs from the other two: the high leg of a high-leg service, the earthed corner of a
/// three-wire one; −1 when there is none.</param>
internal sealed record LeadMap(int[] On, Rotation Rotation, double LogPrior, int Singular = -1)
{
    /// <summary>The high leg of a high-leg service; null on others.</summary>
    public Conductor? HighLegOf(Service service) => service.Kind == ServiceKind.HighLeg ? (Conductor)Singular : null;

    /// <summary>The earthed corner of a three-wire service that was read to ground; null on others.</summary>
    public Conductor? CornerOf(Service service) => service.IsThreeWire && Singular >= 0 ? (Conductor)Singular : null;

    /// <summary>Where every lead is in the air: natural logarithm of the prior that nothing is connected, neither leads nor clamps; negative infinity else.</summary>
    public double LogNothing { get; init; } = double.NegativeInfinity;

    public int this[Lead lead] => On[(int)lead];
}
