using Leadwright.Core.Circuits;
using Leadwright.Core.Hookups;
using Leadwright.Core.Panels;
using Leadwright.Core.Tests.Panels;

namespace Leadwright.Core.Tests.Hookups;

/// <summary>The check on all arrangements of a three-wire service with two clamps. Source of the counts: derived for this project,
/// docs/methods/wrong-connection-effects.md and tests/vectors/wrong-connections/README.md.</summary>
public class TwoElementConnectionTests
{
    private const ServiceKind Kind = ServiceKind.DeltaTwoClamp;
    private static readonly PanelSolution s_load = Ideal.Balanced(Kind, 0.9);

    // Six orders of the leads, two of the clamps, four sets of directions.
    private static readonly List<Hookup> s_all48 = [.. Arrangements([(Conductor.A, Conductor.C), (Conductor.C, Conductor.A)])];

    // Leads moved round or exchanged so that both currents seem to lead by 34 degrees: as often right with a leading load.
    private static readonly string[] s_rivalsOfRight = ["CAB-A-C", "BAC-C-A"];

    public static TheoryData<int> All48 => [.. Enumerable.Range(0, 48)];

    [Theory]
    [MemberData(nameof(All48))]
    public void Each_of_the_48_arrangements_is_named_or_stands_among_the_answers(int number)
    {
        var truth = s_all48[number];
        var readings = Ideal.Read(s_load, truth);
        var verdict = HookupCheck.Judge(readings, new CheckOptions { ToldRotation = Rotation.Abc });

        if (s_rivalsOfRight.Contains(Words(truth)))
        {
            Assert.True(verdict.Best.Hookup.IsRight);
            Assert.InRange(verdict.Best.Probability, 0, 0.95);
            Assert.InRange(verdict.ProbabilityOf(readings, truth), 0.05, 0.6);
        }
        else
        {
            Assert.True(verdict.Names(readings, truth), $"{Words(truth)} was taken for {Words(verdict.Best.Hookup)}");
            Assert.Equal(truth.IsRight, verdict.Verdict == Verdict.Correct);
        }
    }

    [Fact]
    public void Without_a_rotation_indicator_leads_and_clamps_exchanged_together_are_a_supply_that_turns_the_other_way()
    {
        var truth = s_all48.Single(hookup => Words(hookup) == "CBACA");
        var readings = Ideal.Read(s_load, truth);
        var untold = HookupCheck.Judge(readings, new CheckOptions());
        Assert.Equal(Verdict.Correct, untold.Verdict);
        Assert.Equal(Rotation.Acb, untold.Best.Rotation);
        Assert.True(untold.Has(NoteKind.RotationReadsReversed));
        Assert.Contains(untold.Best.SameReading, same => same.Hookup.Equals(truth) && same.Rotation == Rotation.Abc);

        var told = HookupCheck.Judge(readings, new CheckOptions { ToldRotation = Rotation.Abc });
        Assert.NotEqual(Verdict.Correct, told.Verdict);
        Assert.Contains(told.Best.Faults, fault => fault.Kind == FaultKind.RotationReversed);
    }

    [Fact]
    public void The_144_arrangements_on_any_two_lines_are_48_readings_three_of_each()
    {
        Conductor[] lines = [Conductor.A, Conductor.B, Conductor.C];
        var all = Arrangements(lines.SelectMany(one => lines.Where(other => other != one).Select(other => (one, other)))).ToList();
        Assert.Equal(144, all.Count);
        var readings = Ideal.Read(s_load, all[0]);
        Assert.All(all, hookup => Assert.Equal(
            3, all.Count(other => ReadsAlike.Check(readings, hookup, Rotation.Abc, other, Rotation.Abc))));
    }

    private static IEnumerable<Hookup> Arrangements(IEnumerable<(Conductor First, Conductor Third)> lines)
    {
        foreach (var leads in Ideal.Orders)
        {
            foreach (var (first, third) in lines)
            {
                for (var mask = 0; mask < 4; mask++)
                {
                    yield return Ideal.Expected(Kind)
                        .WithLeads((Lead.V1, (Conductor)leads[0]), (Lead.V2, (Conductor)leads[1]), (Lead.V3, (Conductor)leads[2]))
                        .WithClamps((Clamp.I1, first, (mask & 1) != 0), (Clamp.I3, third, (mask & 2) != 0));
                }
            }
        }
    }

    private static string Words(Hookup hookup) => string.Concat(hookup.Leads.Values)
        + string.Concat(hookup.Clamps.Values.Select(place => $"{(place.Reversed ? "-" : "")}{place.On}"));
}
