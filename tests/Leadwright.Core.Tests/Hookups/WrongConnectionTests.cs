using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Hookups.Priors;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Panels;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>The check on every order and direction of three clamps. Source of the 48, of their 8 classes of 6 and of the trap:
/// derived for this project, docs/methods/wrong-connection-effects.md and tests/vectors/wrong-connections/README.md.</summary>
public class WrongConnectionTests
{
    private const double PowerFactor = 0.9;
    private static readonly PanelSolution s_load = Ideal.Balanced(ServiceKind.Wye, PowerFactor);

    // With these two the load would have to lead at about 34 or lag at about 86 degrees were all right. That happens more
    // often than this slip, or nearly so: no honest check names them.
    private static readonly string[] s_rivalsOfRight = ["I1:-B I2:-C I3:-A", "I1:-C I2:-A I3:-B"];

    public static TheoryData<int> All48 => [.. Enumerable.Range(0, 48)];

    [Theory]
    [MemberData(nameof(All48))]
    public void Each_of_the_48_arrangements_is_named_or_stands_among_the_answers(int number)
    {
        var truth = Arrangements48.Wye[number];
        var readings = Ideal.Read(s_load, truth);
        var verdict = HookupCheck.Judge(readings, new CheckOptions());

        if (s_rivalsOfRight.Contains(Arrangements48.Words(truth)))
        {
            Assert.True(verdict.Best.Hookup.IsRight);
            Assert.InRange(verdict.Best.Probability, 0, 0.95);
            Assert.InRange(verdict.ProbabilityOf(readings, truth), 0.05, 0.6);
        }
        else
        {
            Assert.True(verdict.Names(readings, truth), Arrangements48.Words(verdict.Best.Hookup));
            Assert.Equal(truth.IsRight ? Verdict.Correct : verdict.Verdict, verdict.Verdict);
            Assert.NotEqual(truth.IsRight ? Verdict.Faulty : Verdict.Correct, verdict.Verdict);
        }
    }

    [Fact]
    public void The_48_arrangements_fall_into_8_classes_of_6_by_order_and_odd_clamp()
    {
        var classes = Arrangements48.Wye.GroupBy(Arrangements48.ClassOf).ToList();
        Assert.Equal(8, classes.Count);
        Assert.All(classes, members =>
        {
            Assert.Equal(6, members.Count());
            // Their displacements are 60 degrees apart.
            Assert.Equal([-120, -60, 0, 60, 120, 180], members.Select(member => Math.Abs(Arrangements48.ShiftOf(member) - -180) < 1e-9
                ? 180 : Arrangements48.ShiftOf(member)).Order());
        });
    }

    [Theory]
    [MemberData(nameof(All48))]
    public void Six_members_of_a_class_share_the_probability_as_often_as_each_happens_when_nothing_is_known_of_the_load(int number)
    {
        // Any displacement alike, and no clamp on the neutral, so that the six are alone.
        var priors = new CheckPriors
        {
            Slips = new SlipRates { ClampOnNeutral = 1e-9, ClampChaos = 1e-9 },
            Loads = CheckPriors.Default.Loads.SetItem(LoadKind.Mixed, new LoadPrior([], 1, 0)),
        };
        var truth = Arrangements48.Wye[number];
        var readings = Ideal.Read(s_load, truth);
        var verdict = HookupCheck.Judge(readings, new CheckOptions(), priors);

        AssertShares(verdict, readings, truth, new ClampBeliefs(priors, new CheckOptions()).WeightOf, 0.01);
        Assert.All(ClassMembers(truth), member => Assert.InRange(verdict.ProbabilityOf(readings, member), 1e-4, 1));
    }

    [Theory]
    [InlineData(LoadKind.Mixed)]
    [InlineData(LoadKind.Motors)]
    [InlineData(LoadKind.Unknown)]
    public void Members_of_a_class_share_the_probability_as_the_load_prior_has_it(LoadKind load)
    {
        var options = new CheckOptions { Load = load };
        var beliefs = new ClampBeliefs(CheckPriors.Default, options);
        var displacement = Math.Acos(PowerFactor) * 180 / Math.PI;
        foreach (var truth in Arrangements48.Wye)
        {
            var readings = Ideal.Read(s_load, truth);
            var verdict = HookupCheck.Judge(readings, options);
            AssertShares(verdict, readings, truth, Weight, 0.08);

            // The same readings under another member mean a load displaced by the difference.
            double Weight(Hookup member) => beliefs.WeightOf(member)
                * beliefs.DisplacementOf(displacement + Arrangements48.ShiftOf(truth) - Arrangements48.ShiftOf(member));
        }
    }

    [Theory]
    [InlineData(LoadKind.Mixed)]
    [InlineData(LoadKind.Motors)]
    [InlineData(LoadKind.Drives)]
    public void Trap_of_all_moved_forward_and_reversed_is_never_called_right_with_confidence(LoadKind load)
    {
        var (verdict, trapped) = JudgeTrap(load);
        Assert.InRange(verdict.Best.Probability, 0, 0.95);
        Assert.InRange(trapped, 0.03, 1);
    }

    [Fact]
    public void Trap_stays_among_the_answers_where_an_unknown_load_may_well_lead()
    {
        // A fifth of unknown sites lead: right is then far likelier than this slip, and the shares are those of the
        // test above. What must not happen is that the trap is not told of.
        var (verdict, trapped) = JudgeTrap(LoadKind.Unknown);
        Assert.InRange(verdict.Best.Probability, 0, 0.99);
        Assert.InRange(trapped, 0.005, 1);
    }

    [Fact]
    public void Where_generation_may_send_power_back_all_reversed_stays_among_the_answers_and_is_said()
    {
        var reversed = Arrangements48.Wye.Single(hookup => Arrangements48.Words(hookup) == "I1:-A I2:-B I3:-C");
        var readings = Ideal.Read(s_load, reversed);
        var verdict = HookupCheck.Judge(readings, new CheckOptions { MayExport = true });

        Assert.NotEqual(Verdict.Faulty, verdict.Verdict);
        Assert.InRange(verdict.ProbabilityOf(readings, reversed), 0.02, 0.9);
        Assert.True(verdict.Has(NoteKind.ExportOrAllReversed));
    }

    private static (HookupVerdict Verdict, double Trapped) JudgeTrap(LoadKind load)
    {
        var trap = Ideal.Expected(ServiceKind.Wye).WithClamps(
            (Clamp.I1, Conductor.B, true), (Clamp.I2, Conductor.C, true), (Clamp.I3, Conductor.A, true));
        var readings = Ideal.Read(Ideal.Balanced(ServiceKind.Wye, Math.Sqrt(3) / 2), trap);
        var verdict = HookupCheck.Judge(readings, new CheckOptions { Load = load });
        return (verdict, verdict.ProbabilityOf(readings, trap));
    }

    private static IEnumerable<Hookup> ClassMembers(Hookup truth) =>
        Arrangements48.Wye.Where(member => Arrangements48.ClassOf(member) == Arrangements48.ClassOf(truth));

    private static void AssertShares(
        HookupVerdict verdict, PanelReadings readings, Hookup truth, Func<Hookup, double> weight, double tolerance)
    {
        var members = ClassMembers(truth).ToList();
        var expected = members.ConvertAll(member => weight(member));
        var found = members.ConvertAll(member => verdict.ProbabilityOf(readings, member));
        for (var index = 0; index < members.Count; index++)
        {
            var (share, should) = (found[index] / found.Sum(), expected[index] / expected.Sum());
            Assert.True(Math.Abs(share - should) <= tolerance, $"{Arrangements48.Words(members[index])} for "
                + $"{Arrangements48.Words(truth)}: {share:0.000}, {should:0.000} by hand");
        }
    }
}
