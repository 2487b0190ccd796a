using System.Collections.Immutable;
using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Answers;
using Leadwright.Core.Tests.Panels;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>Names and order of faults. Source of the kinds: the command contract; of the order (settings, clamps, leads with the
/// neutral first): common practice, no source.</summary>
public class FaultFinderTests
{
    // Hook-up as leads V1 V2 V3 VN / clamps I1 I2 I3 (IN); "_" is the air, "-" reversed, "x10" a ratio ten times too large.
    [Theory]
    [InlineData("A B C N / A B C", "")]
    [InlineData("A B C N / A -B C", "ClampReversed I2: turn I2")]
    [InlineData("A B C N / -A -B -C", "ClampReversed I1: turn I1; ClampReversed I2: turn I2; ClampReversed I3: turn I3")]
    [InlineData("A B C N / A C B", "ClampsExchanged I2 I3: I2 C>B, I3 B>C")]
    [InlineData("A B C N / A -C B", "ClampsExchanged I2 I3: I2 C>B turned, I3 B>C; ClampReversed I2:")]
    [InlineData("A B C N / B C A", "ClampsRotated I1 I2 I3: I1 B>A, I2 C>B, I3 A>C")]
    [InlineData("A B C N / A B _", "ClampOpen I3: I3 _>C")]
    [InlineData("A B C N / N B C", "ClampOnNeutral I1: I1 N>A")]
    [InlineData("A B C N / N B C A", "ClampOnNeutral I1 IN: I1 N>A, IN A>N")]
    [InlineData("A B C N / A B C -N", "ClampReversed IN: turn IN")]
    [InlineData("A B C N / A A C", "ClampsOnSameConductor I1 I2: I2 A>B")]
    [InlineData("A B C N / C B _", "ClampsExchanged I1: I1 C>A; ClampOpen I3: I3 _>C")]
    [InlineData("A B C N / Ax10 B C", "RatioWrong I1: set I1")]
    [InlineData("A B C N / A C Bx10", "RatioWrong I3: set I3; ClampsExchanged I2 I3: I2 C>B, I3 B>C")]
    [InlineData("A _ C N / A B C", "LeadOpen V2: V2 _>B")]
    [InlineData("A B C _ / A B C", "NeutralOpen VN: VN _>N")]
    [InlineData("B A C N / A B C", "LeadsExchanged V1 V2: V2 A>B, V1 B>A")]
    [InlineData("B C A N / A B C", "LeadsExchanged V1 V2 V3: V3 A>C, V2 C>B, V1 B>A")]
    [InlineData("A B N N / A B C", "LeadOnNeutral V3: V3 N>C")]
    [InlineData("N B C A / A B C", "NeutralExchanged V1 VN: VN A>N, V1 N>A")]
    [InlineData("A A C N / A B C", "LeadsOnSameConductor V1 V2: V2 A>B")]
    [InlineData("A B C B / A B C", "LeadsOnSameConductor V2 VN: VN B>N")]
    [InlineData("_ B C _ / A B C", "NeutralOpen VN: VN _>N; LeadOpen V1: V1 _>A")]
    [InlineData("B A C _ / A -B C", "ClampReversed I2: turn I2; NeutralOpen VN: VN _>N; LeadsExchanged V1 V2: V2 A>B, V1 B>A")]
    [InlineData("B _ N A / A B C", "NeutralExchanged VN: VN A>N; LeadsExchanged V1: V1 B>A; LeadOpen V2: V2 _>B; LeadOnNeutral V3: V3 N>C")]
    [InlineData("B A _ C / A B C", "NeutralExchanged VN: VN C>N; LeadsExchanged V1 V2: V2 A>B, V1 B>A; LeadOpen V3: V3 _>C")]
    public void Faults_are_named_with_their_movements_in_the_order_to_do_them(string hookup, string faults) =>
        Assert.Equal(faults, string.Join("; ", FaultFinder.Find(Parse(hookup)).Select(Words)));

    [Theory]
    [InlineData("B A C N / B A C", true)]
    [InlineData("A C B N / A C B", true)]
    [InlineData("B A C N / A B C", false)]
    [InlineData("A B C N / B A C", false)]
    public void One_pair_exchanged_throughout_is_a_rotation_that_reads_reversed_where_it_was_told(string hookup, bool isReversed)
    {
        Assert.Equal(isReversed, FaultFinder.Find(Parse(hookup), Rotation.Abc).Any(fault => fault.Kind == FaultKind.RotationReversed));
        Assert.DoesNotContain(FaultFinder.Find(Parse(hookup)), fault => fault.Kind == FaultKind.RotationReversed);
    }

    [Fact]
    public void Movements_put_any_hook_up_right_with_one_movement_for_each_thing_that_is_wrong()
    {
        foreach (var service in Service.All)
        {
            for (var seed = 0; seed < 1500; seed++)
            {
                var hookup = TestPanels.AnyHookup(service.Kind, seed, withNeutralClamp: seed % 2 == 1);
                var movements = FaultFinder.Find(hookup).SelectMany(fault => fault.Movements).ToList();
                Assert.Equal(ThingsWrong(hookup), movements.Count);
                Assert.True(movements.Aggregate(hookup, Do).IsRight);
                Assert.Equal(movements.OrderBy(IsSettingClampOrLead), movements);
                Assert.InRange(movements.OfType<MoveLead>().ToList().FindIndex(move => move.Lead == Lead.VN), -1, 0);
                Assert.Equal(hookup.IsRight, FaultFinder.Find(hookup).IsEmpty);
            }
        }
    }

    /// <summary>A hand that does what it is told, and notices when it can't.</summary>
    private static Hookup Do(Hookup hookup, Movement movement)
    {
        switch (movement)
        {
            case MoveLead(var lead, var from, var to):
                Assert.Equal(from, hookup.Leads[lead]);
                return hookup.WithLeads((lead, to));
            case MoveClamp(var clamp, var from, var to, var andTurn):
                var place = hookup.Clamps[clamp];
                Assert.Equal(from, place.On);
                return hookup with
                {
                    Clamps = hookup.Clamps.SetItem(clamp, place with { On = to, Reversed = place.Reversed != andTurn }),
                };
            case TurnClamp(var clamp, var on):
                Assert.Equal(on, hookup.Clamps[clamp].On);
                return hookup with
                {
                    Clamps = hookup.Clamps.SetItem(clamp, hookup.Clamps[clamp] with { Reversed = !hookup.Clamps[clamp].Reversed }),
                };
            case SetRatio(var clamp, var scale):
                Assert.Equal(scale, hookup.Clamps[clamp].Scale);
                return hookup with { Clamps = hookup.Clamps.SetItem(clamp, hookup.Clamps[clamp] with { Scale = 1 }) };
            default:
                throw new InvalidOperationException($"No hand knows how to do {movement}.");
        }
    }

    private static int ThingsWrong(Hookup hookup) =>
        hookup.Leads.Count(lead => lead.Value != Service.HomeOf(lead.Key))
        + hookup.Clamps.Count(clamp => clamp.Value.On != Service.HomeOf(clamp.Key) || clamp.Value.Reversed)
        + hookup.Clamps.Count(clamp => clamp.Value.On is not null && clamp.Value.Scale != 1);

    private static int IsSettingClampOrLead(Movement movement) => movement switch
    {
        SetRatio => 0,
        TurnClamp or MoveClamp => 1,
        _ => 2,
    };

    private static Hookup Parse(string text)
    {
        var (leads, clamps) = (text.Split(" / ")[0].Split(' '), text.Split(" / ")[1].Split(' '));
        return new Hookup(
            Enumerable.Range(0, leads.Length).ToImmutableSortedDictionary(number => (Lead)number, number => Place(leads[number])),
            Enumerable.Range(0, clamps.Length).ToImmutableSortedDictionary(number => (Clamp)number, number => new ClampPlace(
                Place(clamps[number].TrimStart('-').Replace("x10", "", StringComparison.Ordinal)),
                clamps[number].StartsWith('-'),
                clamps[number].EndsWith("x10", StringComparison.Ordinal) ? 10 : 1)));

        static Conductor? Place(string word) => word == "_" ? null : Enum.Parse<Conductor>(word);
    }

    private static string Words(Fault fault) =>
        $"{fault.Kind} {string.Join(' ', fault.Leads.Select(lead => lead.ToString()).Concat(fault.Clamps.Select(clamp => clamp.ToString())))}:"
        + (fault.Movements.IsEmpty ? "" : " " + string.Join(", ", fault.Movements.Select(Words)));

    private static string Words(Movement movement) => movement switch
    {
        MoveLead move => $"{move.Lead} {Name(move.From)}>{move.To}",
        MoveClamp move => $"{move.Clamp} {Name(move.From)}>{move.To}{(move.AndTurn ? " turned" : "")}",
        TurnClamp turn => $"turn {turn.Clamp}",
        SetRatio set => $"set {set.Clamp}",
        _ => movement.ToString(),
    };

    private static string Name(Conductor? conductor) => conductor?.ToString() ?? "_";
}
