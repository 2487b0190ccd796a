using System.Collections.Immutable;
using Leadwright.Core.Hookups;

namespace Leadwright.Core.Panels;

/// <summary>Draws the instrument of a simulated visit.</summary>
/// <remarks>Clamps err by up to 1 % and 2 degrees, leads by some 0.2 % and 0.15 degrees; common practice, no source.</remarks>
internal static class InstrumentDraw
{
    public static Instrument Draw(
        Hookup hookup, double ratingAmperes, bool replaysVoltage, InstrumentDisplay display, SeededRandom random) => new()
        {
            ClampRatingAmperes = ratingAmperes,
            ReplaysVoltage = replaysVoltage,
            LeadErrors = hookup.Leads.Keys.ToImmutableSortedDictionary(
                lead => lead,
                _ => new ChannelError(
                    Math.Clamp(0.002 * random.Gaussian(), -0.005, 0.005), Math.Clamp(0.15 * random.Gaussian(), -0.3, 0.3))),
            ClampErrors = hookup.Clamps.Keys.ToImmutableSortedDictionary(
                clamp => clamp,
                _ => new ChannelError(
                    Math.Clamp(0.004 * random.Gaussian(), -0.01, 0.01), Math.Clamp(0.8 * random.Gaussian(), -2, 2))),
            VoltageNoiseFraction = random.Uniform(0.0001, 0.0004),
            CurrentNoiseFraction = random.Uniform(0.0002, 0.0006),
            SampleNoiseFraction = random.Uniform(0.0002, 0.001),
            Display = display,
        };

    /// <summary>A display of four digits and tenths or whole degrees that may leave things out.</summary>
    public static InstrumentDisplay Display(bool varies, bool variesConventions, bool statesConventions, SeededRandom random)
    {
        var draw = varies ? random.NextUnit() : 0;
        var display = draw switch
        {
            < 0.55 => InstrumentDisplay.Everything with { ShowsVoltageSum = false },
            < 0.7 => InstrumentDisplay.NoPowers,
            < 0.8 => InstrumentDisplay.NoAngles,
            < 0.9 => InstrumentDisplay.NoAngles with { ShowsVars = false },
            < 0.95 => InstrumentDisplay.MagnitudesOnly,
            _ => InstrumentDisplay.Everything with { ShowsSpread = true },
        };
        display = display with { SignificantDigits = 4, AngleDecimals = random.Chance(0.7) ? 1 : 0 };
        if (!variesConventions) return display;
        return display with
        {
            AngleSign = random.Chance(0.3) ? AngleSign.LagPositive : AngleSign.LeadPositive,
            CurrentAngleReference = random.Chance(0.2) ? CurrentAngleReference.OwnVoltage : CurrentAngleReference.Common,
            PowerSign = random.Chance(0.05) ? PowerSign.LoadNegative : PowerSign.LoadPositive,
            StatesConventions = statesConventions,
        };
    }
}
