using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Core.Hookups.Likelihoods;

/// <summary>The conventions worth considering for a set of readings.</summary>
internal static class Conventions
{
    public static List<Convention> For(PanelReadings readings, SlipRates slips)
    {
        var angles = readings.Channels.Values.Count(reading => reading.AngleDegrees is not null and not 0);
        var currentAngles = readings.Channels.Any(
            entry => entry.Key >= Channel.I1 && entry.Value.AngleDegrees is not null);
        var powerMatters = !currentAngles && readings.Phases.Values.Any(power => power.Watts is not null);

        var lag = readings.AngleSign switch
        {
            AngleSign.LeadPositive => slips.AngleSignNotAsStated,
            AngleSign.LagPositive => 1 - slips.AngleSignNotAsStated,
            _ => slips.AngleSignNotAsTaken,
        };
        if (angles == 0) lag = 0;
        var own = readings.CurrentAngleReference switch
        {
            CurrentAngleReference.Common => slips.CurrentReferenceNotAsStated,
            CurrentAngleReference.OwnVoltage => 1 - slips.CurrentReferenceNotAsStated,
            _ => slips.CurrentReferenceNotAsTaken,
        };
        if (!currentAngles || !Hookups.Service.Of(readings.Service).HasRotation)
            own = readings.CurrentAngleReference == CurrentAngleReference.OwnVoltage ? 1 : 0;
        var negative = readings.PowerSign switch
        {
            PowerSign.LoadPositive => slips.PowerSignNotAsStated,
            PowerSign.LoadNegative => 1 - slips.PowerSignNotAsStated,
            _ => slips.PowerSignNotAsTaken,
        };
        if (!powerMatters) negative = readings.PowerSign == PowerSign.LoadNegative ? 1 : 0;

        // What was computed from samples is in one convention: ours.
        if (!readings.Harmonics.IsEmpty) (lag, own) = (0, 0);

        var conventions = new List<Convention>();
        foreach (var isLag in new[] { false, true })
        {
            foreach (var isOwn in new[] { false, true })
            {
                foreach (var isNegative in new[] { false, true })
                {
                    var prior = (isLag ? lag : 1 - lag) * (isOwn ? own : 1 - own) * (isNegative ? negative : 1 - negative);
                    if (prior > 1e-6) conventions.Add(new Convention(isLag, isOwn, isNegative, Math.Log(prior)));
                }
            }
        }

        return conventions;
    }
}
