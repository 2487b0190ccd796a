using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>What the sum of the line-to-neutral voltages says of the neutral lead.</summary>
/// <remarks>
/// With the neutral lead in the air and equal inputs the star point makes the sum zero, sample by sample; with it on the
/// neutral the sum is three times the zero-sequence voltage and its triplen harmonics. Derivation:
/// docs/methods/hook-up-evidence.md, "Neutral lead".
/// </remarks>
internal static class NeutralLead
{
    private const double ReadingDeviation = 0.0025;
    private const double UsualZeroSequence = 0.006;
    private const double Least = 1e-6;

    /// <summary>Logarithms within this say neither one.</summary>
    private const double Silence = 2.5;

    /// <summary>True when the sum does not tell a neutral lead in the air from one on the neutral.</summary>
    public static bool IsSilent(Observation observation) =>
        !observation.Leads.Contains(Lead.VN)
        || (!observation.HasSteps && SumsToNothing(observation.Service) && Math.Abs(LogFactor(observation)) < Silence);

    /// <summary>Logarithm of how much likelier an open neutral lead makes the sum.</summary>
    public static double LogFactor(Observation observation, LeadMap map)
    {
        if (!SumsToNothing(observation.Service)) return 0;
        if (map[Lead.VN] != Place.Air || Enumerable.Range(0, 3).Any(lead => map.On[lead] == Place.Air)) return 0;
        return LogFactor(observation);
    }

    /// <summary>True where the voltages to neutral add up to nothing either way; elsewhere the voltages themselves tell.</summary>
    private static bool SumsToNothing(Service service) => service.Kind is not (ServiceKind.HighLeg or ServiceKind.Network);

    private static double LogFactor(Observation observation)
    {
        var lines = observation.Leads.Count(lead => lead != Lead.VN);
        if (lines < 2) return 0;
        if (observation.VoltageSumFraction is { } fraction) return LogFraction(fraction);
        var sum = Phasor.Zero;
        var count = 0;
        foreach (var voltage in observation.Voltages)
        {
            if (voltage.Channel > Channel.V3 || double.IsNaN(voltage.AngleRadians)) continue;
            sum += Phasor.FromRadians(voltage.Volts / observation.ReferenceVolts, voltage.AngleRadians);
            count++;
        }

        if (count != lines) return 0;
        var zero = sum / count;
        var open = Gauss.PlaneDensity(zero, ReadingDeviation * ReadingDeviation);
        var on = (0.9 * Gauss.PlaneDensity(zero, UsualZeroSequence * UsualZeroSequence))
            + (0.1 * Gauss.PlaneDensity(zero, 9 * UsualZeroSequence * UsualZeroSequence));
        return Math.Log((open + Least) / (on + Least));
    }

    /// <summary>The samples' sum holds the triplens too: usually half a percent to three percent when the lead is on.</summary>
    private static double LogFraction(double fraction)
    {
        var open = Gauss.Density(Math.Log(Math.Max(fraction, 2e-4) / 6e-4), 0.8);
        var on = (0.85 * Gauss.Density(Math.Log(Math.Max(fraction, 2e-4) / 0.012), 0.9)) + (0.15 * 0.2);
        return Math.Log((open + Least) / (on + Least));
    }
}
