using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Priors;

namespace Leadwright.Core.Hookups.Hypotheses;

/// <summary>Every lead on any conductor or in the air, with the prior of each arrangement.</summary>
internal static class LeadMaps
{
    /// <summary>The arrangements.</summary>
    /// <param name="service">The service.</param>
    /// <param name="leads">The leads that the recorder has.</param>
    /// <param name="told">What a rotation indicator showed.</param>
    /// <param name="mayBeToGround">True when three wires may have been read to ground instead of to their star point.</param>
    /// <param name="slips">How often slips happen.</param>
    public static List<LeadMap> Enumerate(
        Service service, IReadOnlyList<Lead> leads, Rotation told, bool mayBeToGround, SlipRates slips)
    {
        int[] places = [.. service.Conductors.Select(conductor => (int)conductor), Place.Air];
        var maps = new List<LeadMap>();
        var arrangements = (int)Math.Pow(places.Length, leads.Count);
        var permutations = Permutations(service.Conductors.Length, leads.Count);
        (Rotation Rotation, double Probability)[] rotations = !service.HasRotation
            ? [(Rotation.Abc, 1)]
            : told switch
            {
                // An indicator on the wye behind it does not say which two of its lines these are.
                _ when service.Kind == ServiceKind.Network =>
                    [(Rotation.Abc, 1 - slips.NetworkLegsInReverse), (Rotation.Acb, slips.NetworkLegsInReverse)],
                Rotation.Abc => [(Rotation.Abc, 1.0)],
                Rotation.Acb => [(Rotation.Acb, 1.0)],
                _ => [(Rotation.Abc, 1 - slips.SupplyTurnsAcb), (Rotation.Acb, slips.SupplyTurnsAcb)],
            };
        var singular = Singular(service, mayBeToGround, slips);

        var on = new int[4];
        for (var number = 0; number < arrangements; number++)
        {
            Array.Fill(on, -1);
            var rest = number;
            foreach (var lead in leads)
            {
                on[(int)lead] = places[rest % places.Length];
                rest /= places.Length;
            }

            var isOrdered = IsOneEach(on);
            var nothing = leads.All(lead => on[(int)lead] == Place.Air) ? slips.NothingConnected : 0;
            var prior = ((1 - slips.LeadMuddle - slips.LeadChaos) * SlipProbability(on, slips))
                + (isOrdered ? slips.LeadMuddle / permutations : 0)
                + (slips.LeadChaos / arrangements);
            foreach (var (rotation, probability) in rotations)
            {
                foreach (var (line, share) in singular)
                    maps.Add(new LeadMap((int[])on.Clone(), rotation, Math.Log(prior * probability * share), line) { LogNothing = Math.Log(nothing * probability * share) });
            }
        }

        return maps;
    }

    private static (int Line, double Share)[] Singular(Service service, bool mayBeToGround, SlipRates slips)
    {
        if (service.Kind == ServiceKind.HighLeg)
        {
            return
            [
                ((int)Conductor.A, slips.HighLegOnA), ((int)Conductor.B, 1 - slips.HighLegOnA - slips.HighLegOnC),
                ((int)Conductor.C, slips.HighLegOnC),
            ];
        }

        if (!service.IsThreeWire || !mayBeToGround) return [(-1, 1)];
        var corner = slips.ReadToEarthedCorner;
        return [(-1, 1 - corner), ((int)Conductor.A, 0.2 * corner), ((int)Conductor.B, 0.6 * corner), ((int)Conductor.C, 0.2 * corner)];
    }

    private static bool IsOneEach(int[] on)
    {
        var seen = 0;
        foreach (var place in on)
        {
            if (place < 0) continue;
            if (place == Place.Air || (seen & (1 << place)) != 0) return false;
            seen |= 1 << place;
        }

        return true;
    }

    /// <summary>Product of the rates of the independent slips that make an arrangement.</summary>
    private static double SlipProbability(int[] on, SlipRates slips)
    {
        double probability = 1;
        var misplaced = 0;
        for (var lead = 0; lead < 4; lead++)
        {
            if (on[lead] < 0) continue;
            if (on[lead] == Place.Air) probability *= lead == (int)Lead.VN ? slips.NeutralLeadOpen : slips.LeadOpen;
            else if (on[lead] != lead) misplaced |= 1 << lead;
            else probability *= 1 - slips.LeadOpen;
        }

        // Leads that changed places among themselves are one slip; a lead that went where another still is, one each.
        for (var lead = 0; lead < 4; lead++)
        {
            if ((misplaced & (1 << lead)) == 0) continue;
            var cycle = CycleFrom(on, lead);
            if (cycle == 0)
            {
                probability *= slips.LeadMisplaced;
                misplaced &= ~(1 << lead);
                continue;
            }

            misplaced &= ~cycle;
            var withNeutral = (cycle & (1 << (int)Lead.VN)) != 0;
            probability *= System.Numerics.BitOperations.PopCount((uint)cycle) switch
            {
                2 => withNeutral ? slips.NeutralLeadExchanged : slips.LeadPairExchanged,
                3 => withNeutral ? slips.NeutralLeadExchanged * slips.LeadPairExchanged : slips.LeadsRotated,
                _ => slips.NeutralLeadExchanged * slips.LeadsRotated,
            };
        }

        return probability;
    }

    /// <summary>The set of leads that moved round in a ring with this one, as bits; 0 when they do not close a ring.</summary>
    internal static int CycleFrom(int[] on, int start)
    {
        var cycle = 0;
        var at = start;
        for (var step = 0; step < 4; step++)
        {
            cycle |= 1 << at;
            at = on[at];
            if (at is < 0 or > 3 || on[at] < 0) return 0;
            if (at == start) return cycle;
        }

        return 0;
    }

    private static double Permutations(int conductors, int leads)
    {
        double count = 1;
        for (var index = 0; index < leads && index < conductors; index++) count *= conductors - index;
        return count;
    }
}
