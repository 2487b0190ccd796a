using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>What should be believed of an order of three clamps on a four-wire service, worked out by hand: how often it
/// happens, times how often a balanced load has the displacement that it would mean.</summary>
/// <remarks>Derived for this project from Bayes' rule (docs/methods/hook-up-evidence.md). It takes the product's rates and load
/// mixture but none of its arithmetic: no grid, no search, no voltages.</remarks>
internal sealed class ClampBeliefs(CheckPriors priors, CheckOptions options)
{
    private readonly SlipRates _slips = priors.Slips;
    private readonly LoadPrior _load = priors.Load(options);

    /// <summary>Weight of a set of clamps with all that reads like it: both moved round together.</summary>
    public double WeightOf(Hookup hookup)
    {
        double sum = 0;
        foreach (var order in Arrangements48.Orders)
        {
            // Leads in this order, and the clamps so that each keeps its place against the leads; an exchange of
            // two leads needs a supply that turns the other way to read the same.
            var turns = Arrangements48.IsExchange(order) ? _slips.SupplyTurnsAcb : 1 - _slips.SupplyTurnsAcb;
            var clamps = Arrangements48.OrderOf(hookup).Select(on => order[on]).ToArray();
            sum += turns * LeadPrior(order) * ClampPrior(clamps, Arrangements48.ReversedOf(hookup));
        }

        return sum;
    }

    /// <summary>Density, in arbitrary units, of a balanced load with this displacement.</summary>
    /// <remarks>The phases agree within the reading: each level of difference between them counts by how narrow it is, and
    /// so does its spread of sizes. What is common to all displacements cancels.</remarks>
    public double DisplacementOf(double degrees)
    {
        double sum = 0;
        foreach (var part in _load.Components)
        {
            sum += part.Weight * Level(part.DeviationDegrees, part.Alike, part.Uneven, offset: degrees - part.MeanDegrees);
        }

        return sum + (_load.Anything * (Narrow(6, 0.16, 0.45) + Narrow(14, 0.45, 0.35) + Narrow(30, 1, 0.2)) / 360);

        static double Level(double deviation, double alike, double uneven, double offset) =>
            (Narrow(6, 0.16, alike) * Bell(offset, deviation, 6))
            + (Narrow(14, 0.45, uneven) * Bell(offset, deviation, 14))
            + (Narrow(30, 1, 1 - alike - uneven) * Bell(offset, deviation, 30));

        // Three equal angles and sizes under spreads that are s and r: two free differences each.
        static double Narrow(double angle, double size, double share) => share / (angle * angle * size * size);

        // The mean of three phases lies within the spread over root three of the site's.
        static double Bell(double offset, double deviation, double spread)
        {
            var variance = (deviation * deviation) + (spread * spread / 3);
            var wrapped = Angle.WrapDegrees(offset);
            return Math.Exp(-0.5 * wrapped * wrapped / variance) / Math.Sqrt(2 * Math.PI * variance);
        }
    }

    private double LeadPrior(int[] order)
    {
        var slip = Arrangements48.ChangedPlaces(order) switch
        {
            0 => Math.Pow(1 - _slips.LeadOpen, 4),
            2 => _slips.LeadPairExchanged * Math.Pow(1 - _slips.LeadOpen, 2),
            _ => _slips.LeadsRotated * (1 - _slips.LeadOpen),
        };
        return ((1 - _slips.LeadMuddle - _slips.LeadChaos) * slip) + (_slips.LeadMuddle / 24) + (_slips.LeadChaos / 625);
    }

    private double ClampPrior(int[] order, bool[] reversed)
    {
        var places = Math.Pow(1 - _slips.ClampOpen, 3) * Arrangements48.ChangedPlaces(order) switch
        {
            0 => 1,
            2 => _slips.ClampPairExchanged,
            _ => _slips.ClampsRotated,
        };
        var all = options.MayExport ? _slips.AllClampsReversedWithGeneration : _slips.AllClampsReversed;
        var each = reversed.Aggregate(1.0, (product, turned) => product * (turned ? _slips.ClampReversed : 1 - _slips.ClampReversed));
        var directions = ((1 - all) * each) + (reversed.All(turned => turned) ? all : 0);
        return ((1 - _slips.ClampMuddle - _slips.ClampChaos) * places * directions)
            + (_slips.ClampMuddle / 48) + (_slips.ClampChaos / 729);
    }
}
