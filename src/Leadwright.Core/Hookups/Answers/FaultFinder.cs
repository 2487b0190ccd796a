using System.Collections.Immutable;
using Leadwright.Core.Circuits;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>Names what is wrong in a hook-up, and the fewest hand movements that put it right.</summary>
/// <remarks>Order: settings, then clamps, then leads with the neutral lead first. Clamps go round insulated conductors and
/// come first; a line lead is connected only while the neutral lead is on (common practice, no source).</remarks>
public static class FaultFinder
{
    /// <summary>What is wrong, in the order to put it right.</summary>
    /// <param name="hookup">The hook-up.</param>
    /// <param name="told">What a rotation indicator showed.</param>
    public static ImmutableArray<Fault> Find(Hookup hookup, Rotation told = Rotation.Unknown)
    {
        ArgumentNullException.ThrowIfNull(hookup);
        var faults = ImmutableArray.CreateBuilder<Fault>();
        Ratios(hookup, faults);
        Clamps(hookup, faults);
        var leads = ImmutableArray.CreateBuilder<Fault>();
        Leads(hookup, leads);
        faults.AddRange(leads.OrderByDescending(MovesNeutralLead));
        if (told != Rotation.Unknown && IsOnePairExchangedThroughout(hookup))
            faults.Insert(0, new Fault(FaultKind.RotationReversed, [], [], []));
        return faults.ToImmutable();
    }

    private static void Ratios(Hookup hookup, ImmutableArray<Fault>.Builder faults)
    {
        foreach (var (clamp, place) in hookup.Clamps)
        {
            if (place.On is not null && place.Scale != 1)
                faults.Add(new Fault(FaultKind.RatioWrong, [], [clamp], [new SetRatio(clamp, place.Scale)]));
        }
    }

    private static void Clamps(Hookup hookup, ImmutableArray<Fault>.Builder faults)
    {
        var clamps = hookup.Clamps;
        foreach (var (clamp, place) in clamps)
        {
            if (place.On is { } on && place.Reversed && on == Service.HomeOf(clamp))
                faults.Add(new Fault(FaultKind.ClampReversed, [], [clamp], [new TurnClamp(clamp, on)]));
        }

        var done = new HashSet<Clamp>();
        foreach (var clamp in clamps.Keys)
        {
            if (done.Contains(clamp)) continue;
            var ring = Ring(clamp, next => clamps.TryGetValue(next, out var place) ? place.On : null, on => (Clamp)(int)on);
            if (ring.Count < 2) continue;
            done.UnionWith(ring);
            var kind = ring.Contains(Clamp.IN) ? FaultKind.ClampOnNeutral
                : ring.Count == 2 ? FaultKind.ClampsExchanged : FaultKind.ClampsRotated;
            faults.Add(new Fault(kind, [], [.. ring.Order()], [.. ring.Order().Select(member => Move(member, clamps[member]))]));
            AddReversed(ring, clamps, faults);
        }

        foreach (var group in clamps.Where(entry => entry.Value.On is not null).GroupBy(entry => entry.Value.On))
        {
            var members = group.Select(entry => entry.Key).ToList();
            // On the neutral a line's clamp is named for where it is, whether or not another reads the neutral as well.
            if (members.Count < 2 || group.Key == Conductor.N) continue;
            var strangers = members.Where(member => Service.HomeOf(member) != group.Key && !done.Contains(member)).ToList();
            faults.Add(new Fault(
                FaultKind.ClampsOnSameConductor, [], [.. members], [.. strangers.Select(member => Move(member, clamps[member]))]));
            AddReversed(strangers, clamps, faults);
            done.UnionWith(strangers);
        }

        foreach (var (clamp, place) in clamps)
        {
            if (done.Contains(clamp) || place.On == Service.HomeOf(clamp)) continue;
            var kind = place.On switch
            {
                null => FaultKind.ClampOpen,
                Conductor.N => FaultKind.ClampOnNeutral,
                _ => clamp == Clamp.IN ? FaultKind.ClampOnNeutral : FaultKind.ClampsExchanged,
            };
            faults.Add(new Fault(kind, [], [clamp], [Move(clamp, place)]));
            // On the neutral no way round is the usual one.
            if (place.On != Conductor.N) AddReversed([clamp], clamps, faults);
        }
    }

    private static void AddReversed(
        IEnumerable<Clamp> moved, ImmutableSortedDictionary<Clamp, ClampPlace> clamps, ImmutableArray<Fault>.Builder faults)
    {
        // Turned in the same movement: the fault is named, the movement is not asked for twice.
        foreach (var clamp in moved.Order())
        {
            if (clamps[clamp] is { On: not null, Reversed: true })
                faults.Add(new Fault(FaultKind.ClampReversed, [], [clamp], []));
        }
    }

    private static MoveClamp Move(Clamp clamp, ClampPlace place) =>
        new(clamp, place.On, Service.HomeOf(clamp), place.On is not null && place.Reversed);

    private static void Leads(Hookup hookup, ImmutableArray<Fault>.Builder faults)
    {
        var leads = hookup.Leads;
        var done = new HashSet<Lead>();
        if (leads.TryGetValue(Lead.VN, out var neutral) && neutral is null)
        {
            faults.Add(new Fault(FaultKind.NeutralOpen, [Lead.VN], [], [new MoveLead(Lead.VN, null, Conductor.N)]));
            done.Add(Lead.VN);
        }

        foreach (var lead in leads.Keys.OrderDescending())
        {
            if (done.Contains(lead)) continue;
            var ring = Ring(lead, next => leads.TryGetValue(next, out var on) ? on : null, on => (Lead)(int)on);
            if (ring.Count < 2) continue;
            done.UnionWith(ring);
            var kind = ring.Contains(Lead.VN) ? FaultKind.NeutralExchanged : FaultKind.LeadsExchanged;
            faults.Add(new Fault(kind, [.. ring.Order()], [], [.. ring.OrderDescending().Select(member => Move(member, leads[member]))]));
        }

        foreach (var group in leads.Where(entry => entry.Value is not null).GroupBy(entry => entry.Value))
        {
            var members = group.Select(entry => entry.Key).ToList();
            if (members.Count < 2) continue;
            var strangers = members.Where(member => Service.HomeOf(member) != group.Key && !done.Contains(member)).ToList();
            var kind = group.Key == Conductor.N && members.Contains(Lead.VN)
                ? FaultKind.LeadOnNeutral : FaultKind.LeadsOnSameConductor;
            faults.Add(new Fault(
                kind,
                [.. kind == FaultKind.LeadOnNeutral ? members.Where(member => member != Lead.VN) : members],
                [],
                [.. strangers.OrderDescending().Select(member => Move(member, leads[member]))]));
            done.UnionWith(strangers);
        }

        foreach (var (lead, on) in leads)
        {
            if (done.Contains(lead) || on == Service.HomeOf(lead)) continue;
            var kind = on switch
            {
                null => FaultKind.LeadOpen,
                Conductor.N => FaultKind.LeadOnNeutral,
                _ => lead == Lead.VN ? FaultKind.NeutralExchanged : FaultKind.LeadsExchanged,
            };
            faults.Add(new Fault(kind, [lead], [], [Move(lead, on)]));
        }
    }

    private static bool MovesNeutralLead(Fault fault) => fault.Movements.Any(movement => movement is MoveLead { Lead: Lead.VN });

    private static MoveLead Move(Lead lead, Conductor? from) => new(lead, from, Service.HomeOf(lead));

    /// <summary>Those that changed places with one another, starting from one; fewer than two when it is at home or in no ring.</summary>
    private static List<T> Ring<T>(T start, Func<T, Conductor?> placeOf, Func<Conductor, T> atHome)
        where T : struct
    {
        var ring = new List<T> { start };
        var at = start;
        while (placeOf(at) is { } on && on != Conductor.G)
        {
            at = atHome(on);
            if (EqualityComparer<T>.Default.Equals(at, start)) return ring;
            if (ring.Contains(at)) break;
            ring.Add(at);
        }

        return [];
    }

    private static bool IsOnePairExchangedThroughout(Hookup hookup)
    {
        foreach (var pair in new[] { (0, 1), (1, 2), (0, 2) })
        {
            var leads = IsSwap(pair, number => hookup.Leads.TryGetValue((Lead)number, out var on) ? on : null);
            var clamps = IsSwap(pair, number => hookup.Clamps.TryGetValue((Clamp)number, out var place) ? place.On : null);
            if (leads && clamps) return true;
        }

        return false;
    }

    private static bool IsSwap((int First, int Second) pair, Func<int, Conductor?> placeOf) =>
        placeOf(pair.First) == (Conductor)pair.Second && placeOf(pair.Second) == (Conductor)pair.First;
}
