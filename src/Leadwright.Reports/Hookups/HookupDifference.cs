using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;

namespace Leadwright.Reports.Hookups;

/// <summary>In what two hook-ups of the same leads and clamps differ.</summary>
/// <param name="from">The one.</param>
/// <param name="to">The other.</param>
internal sealed class HookupDifference(Hookup from, Hookup to)
{
    /// <summary>The leads that are elsewhere.</summary>
    public ImmutableArray<Lead> Leads { get; } =
        [.. to.Leads.Where(lead => from.Leads.GetValueOrDefault(lead.Key) != lead.Value).Select(lead => lead.Key)];

    /// <summary>The clamps that are elsewhere, the other way round or at another ratio.</summary>
    public ImmutableArray<Clamp> Clamps { get; } =
        [.. to.Clamps.Where(clamp => from.Clamps.GetValueOrDefault(clamp.Key) != clamp.Value).Select(clamp => clamp.Key)];

    /// <summary>True when every clamp, and nothing else, is the other way round.</summary>
    public bool IsAllClampsTurned => Leads.Length == 0 && Clamps.Length > 1 && to.Clamps.All(clamp =>
        clamp.Value.On is null || clamp.Value == Turned(from.Clamps.GetValueOrDefault(clamp.Key)));

    /// <summary>True when the same clamps sit on the same conductors at the same ratios, and some are the other way round.</summary>
    public bool IsTurnsOnly => Leads.Length == 0 && Clamps.Length > 0
        && Clamps.All(clamp => to.Clamps[clamp] == Turned(from.Clamps.GetValueOrDefault(clamp)));

    /// <summary>True when the same clamps sit on the same conductors the same way round, and some read at another ratio.</summary>
    public bool IsRatiosOnly => Leads.Length == 0 && Clamps.Length > 0
        && Clamps.All(clamp => to.Clamps[clamp] == from.Clamps.GetValueOrDefault(clamp) with { Scale = to.Clamps[clamp].Scale });

    /// <summary>The lines that each line turns into when leads and clamps have moved together and nothing else has changed;
    /// null when that is not what happened.</summary>
    public ImmutableSortedDictionary<Conductor, Conductor>? Relabelling()
    {
        var map = new SortedDictionary<Conductor, Conductor>();
        foreach (var (lead, place) in to.Leads)
        {
            if (!Maps(map, from.Leads.GetValueOrDefault(lead), place)) return null;
        }

        foreach (var (clamp, place) in to.Clamps)
        {
            var before = from.Clamps.GetValueOrDefault(clamp);
            if (before.Reversed != place.Reversed || before.Scale != place.Scale || !Maps(map, before.On, place.On)) return null;
        }

        var moved = map.Where(pair => pair.Key != pair.Value).ToArray();
        var isOneToOne = map.Values.Distinct().Count() == map.Count;
        return moved.Length > 0 && isOneToOne ? map.ToImmutableSortedDictionary() : null;
    }

    private static bool Maps(SortedDictionary<Conductor, Conductor> map, Conductor? before, Conductor? after)
    {
        if (before is not { } key || after is not { } value) return before is null && after is null;
        return map.TryAdd(key, value) || map[key] == value;
    }

    private static ClampPlace Turned(ClampPlace place) => place with { Reversed = !place.Reversed };
}
