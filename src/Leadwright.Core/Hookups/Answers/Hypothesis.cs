using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>One arrangement of everything, weighed.</summary>
/// <param name="Leads">The leads and the rotation.</param>
/// <param name="Clamps">The clamps.</param>
/// <param name="Convention">The convention in which the numbers were read.</param>
/// <param name="Voltage">Logarithm of the voltages' likelihood.</param>
/// <param name="Current">Logarithms of the currents' likelihood.</param>
internal sealed record Hypothesis(
    LeadMap Leads, ClampMap Clamps, Convention Convention, double Voltage, CurrentFit Current)
{
    public double LogPrior => Leads.LogPrior + Clamps.LogPrior;

    /// <summary>Logarithm of the probability of what was told at the panel; 0 when nothing was.</summary>
    public double Told { get; init; }

    public double Log => LogPrior + Convention.LogPrior + Voltage + Current.Total + Told;
}
