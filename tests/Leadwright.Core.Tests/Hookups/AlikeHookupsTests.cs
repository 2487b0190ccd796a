using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Hypotheses;
using Leadwright.Core.Panels;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>Who compares the named hook-up with what he knows finds it there, or among those that read the same.</summary>
public class AlikeHookupsTests
{
    private const int Count = 30;
    private const int LookedAt = 8;

    // Of 400 panels of each service with seed 21, 2618 of 2688 that were named right had their hook-up in words, and all in this list.
    [Theory]
    [InlineData(ServiceKind.Wye)]
    [InlineData(ServiceKind.Delta)]
    [InlineData(ServiceKind.DeltaTwoClamp)]
    [InlineData(ServiceKind.Split)]
    [InlineData(ServiceKind.Single)]
    [InlineData(ServiceKind.HighLeg)]
    [InlineData(ServiceKind.Network)]
    public void A_panel_named_right_has_its_hookup_named_or_listed_as_reading_alike(ServiceKind kind)
    {
        // All supplies' rotations, and where there is a neutral a clamp on it.
        var population = new PanelPopulation { Service = kind, Seed = 21, HasNeutralClamp = true, ReversedRotationShare = 0.3 };
        var service = Service.Of(kind);
        var named = 0;
        foreach (var drawn in population.Cases(Count))
        {
            var verdict = HookupCheck.Judge(drawn.Readings, drawn.Options);
            if (!verdict.Names(drawn)) continue;
            var best = verdict.Best;
            named++;
            Assert.True(IsListed(best, drawn.Truth, drawn.Rotation), $"a true {drawn.Rotation} {drawn.Truth} is not listed");

            // Whatever was drawn, it could have been any of its moved-round twins too.
            foreach (var relabelling in Relabelling.Of(service).Skip(1))
            {
                var rotation = service.HasRotation ? relabelling.Apply(best.Rotation) : best.Rotation;
                Assert.True(IsListed(best, Moved(best.Hookup, relabelling), rotation), $"{rotation} moved by {string.Join(',', relabelling.To)} is not listed");
            }

            if (named <= LookedAt) AssertAlike(drawn.Readings, best);
        }

        Assert.InRange(named, Count * 3 / 4, Count);
    }

    [Fact]
    public void One_wrong_ratio_on_all_clamps_is_listed_and_reads_the_same()
    {
        var panel = new PanelPopulation { Service = ServiceKind.Wye, Seed = 21, Faults = FaultStyle.None }.Case(0);
        var best = HookupCheck.Judge(panel.Readings, panel.Options).Best;
        Assert.True(best.Hookup.IsRight);
        foreach (var ratio in new[] { 10, 0.1, 5, 0.2, 2, 0.5 })
        {
            var scaled = best.Hookup with { Clamps = best.Hookup.Clamps.ToImmutableSortedDictionary(entry => entry.Key, entry => entry.Value with { Scale = ratio }) };
            Assert.Equal(0, Assert.Single(best.Alike, same => same.Hookup == scaled && same.Rotation == best.Rotation).Share);
        }
    }

    [Fact]
    public void What_a_rotation_indicator_ruled_out_is_not_listed()
    {
        var panel = new PanelPopulation { Service = ServiceKind.Wye, Seed = 21, Faults = FaultStyle.None, ReversedRotationShare = 0, TellsRotation = true }.Case(0);
        var best = HookupCheck.Judge(panel.Readings, panel.Options).Best;
        Assert.NotEmpty(best.Alike);
        Assert.All(best.Alike, same => Assert.Equal(Rotation.Abc, same.Rotation));
    }

    private static void AssertAlike(PanelReadings readings, Answer best)
    {
        Assert.DoesNotContain(best.Alike, same => same.Hookup == best.Hookup && same.Rotation == best.Rotation && same.HighLeg == best.HighLeg);
        Assert.Equal(best.Alike.Length, best.Alike.Select(same => (same.Hookup, same.Rotation, same.HighLeg)).Distinct().Count());
        Assert.InRange(best.Alike.Sum(same => same.Share), 0, 1);
        Assert.Equal(best.Alike.OrderByDescending(same => same.Share), best.Alike);
        Assert.All(best.SameReading, same => Assert.Contains(best.Alike, other => other.Hookup == same.Hookup && other.Rotation == same.Rotation && other.HighLeg == same.HighLeg));
        foreach (var same in best.Alike)
        {
            Assert.True(
                ReadsAlike.Check(
                    readings, best.Hookup, best.Rotation, best.HighLeg ?? Conductor.B, same.Hookup, same.Rotation, same.HighLeg ?? Conductor.B),
                $"{same.Rotation} {same.Hookup} does not read the same");
        }
    }

    private static bool IsListed(Answer best, Hookup hookup, Rotation rotation) =>
        (best.Hookup == hookup && best.Rotation == rotation) || best.Alike.Any(same => same.Hookup == hookup && same.Rotation == rotation);

    private static Hookup Moved(Hookup hookup, Relabelling relabelling) => new(
        hookup.Leads.ToImmutableSortedDictionary(entry => entry.Key, entry => Moved(entry.Value, relabelling)),
        hookup.Clamps.ToImmutableSortedDictionary(entry => entry.Key, entry => entry.Value with { On = Moved(entry.Value.On, relabelling) }));

    private static Conductor? Moved(Conductor? on, Relabelling relabelling) => on is { } conductor ? (Conductor)relabelling.To[(int)conductor] : null;
}
