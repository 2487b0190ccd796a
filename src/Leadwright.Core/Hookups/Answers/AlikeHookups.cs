using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Hookups.Likelihoods;

namespace Leadwright.Core.Hookups.Answers;

/// <summary>Lists the hook-ups of an answer: those that were weighed, and those that were too rare to be.</summary>
/// <remarks>An answer that is sure of its readings may stand for a hook-up that the search left behind: all leads and clamps moved
/// to other lines together, or one wrong ratio on every clamp. Neither changes what the channels read (docs/methods/hook-up-evidence.md,
/// "What can't be told apart"), so both follow from the members that were weighed.</remarks>
internal static class AlikeHookups
{
    private static readonly double[] s_ratios = [10, 0.1, 5, 0.2, 2, 0.5];

    /// <summary>All hook-ups of an answer but the reported one, likeliest first; the share of those that were not weighed is 0.</summary>
    /// <param name="weighed">The answer.</param>
    /// <param name="observation">Says which leads there are.</param>
    /// <param name="clamps">The clamps.</param>
    /// <param name="leadMaps">Every arrangement of the leads that may be: what a rotation indicator ruled out is not in it.</param>
    public static ImmutableArray<SameReading> Of(WeighedAnswer weighed, Observation observation, Clamp[] clamps, List<LeadMap> leadMaps)
    {
        var service = observation.Service;
        var top = weighed.Strongest.Log;
        var mass = weighed.Members.Sum(member => Math.Exp(member.Log - top));
        var reported = new Key(weighed.Answer.Hookup, weighed.Answer.Rotation, weighed.Answer.HighLeg);
        var shares = new Dictionary<Key, double>();
        var order = new List<Key>();
        foreach (var member in weighed.Alike)
            Add(KeyOf(member.Leads, member.Clamps), Math.Exp(member.Log - top) / mass);
        var weighedCount = order.Count;

        var supplies = leadMaps.Select(map => (map.Rotation, map.Singular)).ToHashSet();
        foreach (var relabelling in Relabelling.Of(service).Skip(1))
        {
            foreach (var member in weighed.Alike)
            {
                var rotation = service.HasRotation ? relabelling.Apply(member.Leads.Rotation) : member.Leads.Rotation;
                var singular = member.Leads.Singular < 0 ? -1 : relabelling.To[member.Leads.Singular];
                if (!supplies.Contains((rotation, singular))) continue;
                var leads = member.Leads with { On = Array.ConvertAll(member.Leads.On, place => place < 0 ? -1 : relabelling.To[place]), Rotation = rotation, Singular = singular };
                var on = Array.ConvertAll(member.Clamps.On, place => relabelling.To[place]);
                Add(KeyOf(leads, new ClampMap(on, member.Clamps.Reversed, member.Clamps.OffScale, member.Clamps.Scale, 0)
                {
                    SecondOffScale = member.Clamps.SecondOffScale, SecondScale = member.Clamps.SecondScale,
                }), 0);
            }
        }

        foreach (var key in order[..weighedCount].Where(key => key == reported || shares[key] >= Posterior.SmallestShare))
        {
            foreach (var ratio in s_ratios)
            {
                if (Scaled(key.Hookup, ratio) is { } scaled) Add(key with { Hookup = scaled }, 0);
            }
        }

        return [.. order.Where(key => key != reported).OrderByDescending(key => shares[key])
            .Select(key => new SameReading(key.Hookup, key.Rotation, shares[key]) { HighLeg = key.HighLeg })];

        Key KeyOf(LeadMap leads, ClampMap map) =>
            new(Posterior.ToHookup(leads, map, observation.Leads, clamps), leads.Rotation, leads.HighLegOf(service));

        void Add(Key key, double share)
        {
            if (!shares.TryGetValue(key, out var sum)) order.Add(key);
            shares[key] = sum + share;
        }
    }

    /// <summary>The same with every ratio off by one more factor; null where that makes a ratio that nobody sets by mistake, or no clamp shows it.</summary>
    private static Hookup? Scaled(Hookup hookup, double ratio)
    {
        var clamps = hookup.Clamps.ToBuilder();
        var closed = 0;
        foreach (var (clamp, place) in hookup.Clamps)
        {
            if (place.On is null) continue;
            closed++;
            var scale = Math.Round(place.Scale * ratio, 6);
            if (scale != 1 && !s_ratios.Contains(scale)) return null;
            clamps[clamp] = place with { Scale = scale };
        }

        return closed == 0 ? null : new Hookup(hookup.Leads, clamps.ToImmutable());
    }

    private sealed record Key(Hookup Hookup, Rotation Rotation, Conductor? HighLeg);
}
