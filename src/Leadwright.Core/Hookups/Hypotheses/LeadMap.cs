using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Hypotheses;

/// <summary>One arrangement of the leads on a supply of one rotation.</summary>
/// <param name="On">Place of each lead, by <see cref="Lead"/> number; −1 for a lead that the recorder does not have.</param>
/// <param name="Rotation">Rotation of the supply.</param>
/// <param name="LogPrior">Natural logarithm of its prior probability, rotation included.</param>
internal sealed record LeadMap(int[] On, Rotation Rotation, double LogPrior)
{
    public int this[Lead lead] => On[(int)lead];
}
