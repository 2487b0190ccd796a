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
    public double LogPrior => LogPriorOf(Leads, Clamps);

    /// <summary>Natural logarithm of the prior of leads and clamps together: each by itself, and where nothing at all is connected the rate of that.</summary>
    public static double LogPriorOf(LeadMap leads, ClampMap clamps)
    {
        var apart = leads.LogPrior + clamps.LogPrior;
        return clamps.IsNothing ? apart + Math.Log(1 + Math.Exp(leads.LogNothing - apart)) : apart;
    }

    /// <summary>Logarithm of the probability of what was told at the panel; 0 when nothing was.</summary>
    public double Told { get; init; }

    public double Log => LogPrior + Convention.LogPrior + Voltage + Current.Total + Told;
}
